package pdf

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/cell"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/unit"
)

// shape says what book to make.
type shape struct {
	recipes, jars int
	long          bool // names of 80 characters, with an emoji
	bare          bool // no purchases, counts, overheads or customers
}

var num, word, paid, yes = booktest.Num, booktest.Text, booktest.Paid, booktest.Yes

// maker makes a book and two years of sales, the same every time.
type maker struct {
	shape
	*book.Book
	rnd *rand.Rand
}

var last = day.Of(2026, 10, 31)

func makeBook(s shape) *book.Book {
	m := &maker{shape: s, Book: &book.Book{Name: "Maker's book", Print: "3f9a-71c2"}, rnd: rand.New(rand.NewPCG(7, 11))}
	m.Tables = booktest.Tables(book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TSales)
	m.Settings.SetText(book.ShopName, word("Quince Shed Candles"))
	m.Settings.SetNum(book.ProductiveHours, num(40))
	m.Settings.SetNum(book.TargetMargin, num(0.55))
	for _, x := range []struct {
		name     string
		from, to day.MonthDay
	}{{"Winter", 1201, 228}, {"Spring", 301, 531}, {"Summer", 601, 831}, {"Autumn", 901, 1130}} {
		m.Seasons = append(m.Seasons, book.Season{Name: word(x.name), From: x.from, To: x.to})
	}
	m.Channels = []*book.Channel{
		{Name: word("Website"), Fee: num(0.065), PerOrder: paid(0.45), PerUnit: paid(1.15), Listed: true},
		{Name: word("Market stall"), Fee: num(0.026), PerOrder: paid(0.1), Listed: true},
		{Name: word("Shops"), PerOrder: paid(2.5), Wholesale: true, Listed: true},
	}
	m.goods()
	m.sell()
	if !s.bare {
		m.Overheads = []book.Overhead{{Name: word("Studio share"), Amount: paid(160)}}
		m.buy()
	}
	return m.Book
}

func (m *maker) name(s string) cell.Text {
	if m.long {
		s = strings.TrimSpace((s + " 🕯️ " + strings.Repeat("of the old orchard behind the quince shed ", 3))[:82])
	}
	return word(strings.ToValidUTF8(s, ""))
}

func (m *maker) material(name string, k book.Kind, dim unit.Dimension, size, price float64) *book.Material {
	x := booktest.Material(name, k, dim, size, price)
	x.Name, x.Density = m.name(name), num(0.95)
	m.Materials = append(m.Materials, x)
	return x
}

var scents = []string{"Quince & Clove", "Rain Barrel", "Cedar Attic", "Sea Lavender", "Plum Stone", "Fig Ladder", "Hay Loft", "Tar Rope", "Moss Step", "Salt Wood"}

func (m *maker) goods() {
	wax := m.material("Soy wax flake", book.Wax, unit.Mass, 20411, 98.5)
	for j := range m.jars {
		jar := &book.Jar{Name: m.name(fmt.Sprintf("Jar no. %d", j+1)), Fill: num(100 + 110*float64(j))}
		for _, p := range []struct {
			name  string
			kind  book.Kind
			price float64
		}{{"glass", book.JarKind, 0.9 + 0.8*float64(j)}, {"wick", book.Wick, 0.12}, {"front label", book.Label, 0.19}} {
			x := m.material(fmt.Sprintf("%s %d", p.name, j+1), p.kind, unit.Count, 24, p.price*24)
			jar.Parts = append(jar.Parts, book.Part{Material: x, Count: num(1), Dim: unit.Count, Finish: book.AnyFinish})
		}
		m.Jars = append(m.Jars, jar)
	}
	for i := range m.recipes {
		scent := m.material(scents[i%len(scents)]+fmt.Sprintf(" oil %d", i+1), book.Fragrance, unit.Mass, 453.6, 26+float64(i%5))
		dye := m.material(fmt.Sprintf("Dye %d", i+1), book.Dye, unit.Volume, unit.MLPerFluidOz, 6.8)
		r := &book.Recipe{Name: m.name(scents[i%len(scents)]), Swatch: word([]string{"#8f3b2a", "#3d5f86", "#5b6b3f", "#d8c36a", ""}[i%5])}
		r.Ingredients = []book.Ingredient{
			{Material: wax, Amount: num(1)},
			{Material: scent, Amount: num(8), Rate: booktest.Rate("% of wax")},
			{Material: dye, Amount: num(4 + float64(i%4)), Rate: booktest.Rate("drops/lb")},
		}
		m.Recipes = append(m.Recipes, r)
		for j, jar := range m.Jars {
			m.product(r, jar, book.Colored, i, j)
			if (i+j)%5 != 3 {
				m.product(r, jar, book.Natural, i, j)
			}
		}
	}
}

func (m *maker) product(r *book.Recipe, jar *book.Jar, f book.Finish, i, j int) {
	code := fmt.Sprintf("P%d-%d%s", i+1, j+1, strings.ToUpper(string(f)[:1]))
	p := &book.Product{
		Code: word(code), Name: word(r.Name.V + ", " + jar.Name.V + ", " + string(f)), Recipe: r, Jar: jar, Finish: f,
		List: paid(11 + 6*float64(j) + float64(i%3)), Active: yes(true),
	}
	m.Products = append(m.Products, p)
}

// sell makes orders of one to three lines; one customer in seven buys natural only.
func (m *maker) sell() {
	m.SaleSheets = []string{"Sales"}
	m.Customers = 80
	row := int32(2)
	for d := day.Of(2024, 10, 5); d <= last; d++ {
		_, month, _ := d.YMD()
		for range m.rnd.IntN(2 + month/4) {
			m.Orders++
			customer := int32(m.rnd.IntN(80) + 1)
			channel := []int32{0, 0, 1, 1, 2}[m.rnd.IntN(5)]
			for range 1 + m.rnd.IntN(3) {
				p := m.rnd.IntN(len(m.Products))
				if m.Products[p].Finish == book.Natural && m.rnd.IntN(4+month%4) > 0 || customer%7 == 0 && m.Products[p].Finish == book.Colored {
					p = (p + len(m.Products) - 1) % len(m.Products)
				}
				s := book.Sale{
					Day: d, Order: int32(m.Orders), Row: row, SalePlace: book.SalePlace{Product: int32(p), Channel: channel},
					SaleAmounts: book.SaleAmounts{
						Has: book.HasPrice, Qty: money.Float(float64(1 + m.rnd.IntN(2+len(m.Products)/8))), Price: m.Products[p].List.V,
					},
				}
				if !m.bare {
					s.Customer = customer
				}
				if m.rnd.IntN(40) == 0 {
					s.Qty = s.Qty.Neg()
				}
				m.Sales.Add(s)
				row++
			}
		}
	}
}

// buy makes purchases every month, dearer as time goes on, and two counts.
func (m *maker) buy() {
	for i, x := range m.Materials {
		for k := range 25 {
			month := day.Of(2024, 10, 2).Month()
			size := x.Packs[0].Size.V
			n := 2 + float64(m.rnd.IntN(3))
			if x.Dim == unit.Count {
				n *= 4
			}
			price := x.Packs[0].Price.V.Float64() * n * (1 + 0.004*float64(k) + 0.01*float64(m.rnd.IntN(3)))
			if x.Dim != unit.Volume || k%6 == 0 {
				m.Purchases = append(m.Purchases, book.Purchase{Day: (month + day.Month(k)).First() + 3, Material: x, Qty: num(n * size), Dim: x.Dim, Paid: paid(price)})
			}
		}
		if i%2 == 0 {
			for _, d := range []day.Date{last - 31, last} {
				m.Counts = append(m.Counts, book.Count{Day: d, Material: x, Qty: num(x.Packs[0].Size.V * (1 + m.rnd.Float64())), Dim: x.Dim})
			}
		}
	}
	m.Tables = append(m.Tables, book.Table{Table: book.TPurchases}, book.Table{Table: book.TStockCounts}, book.Table{Table: book.TOverheads})
}

func october() cost.Period { return cost.Period{From: day.Of(2026, 10, 1), To: last} }

// costing is the costing of a book that is made.
func costing(t testing.TB, s shape, p cost.Period) *cost.Result {
	t.Helper()
	r, err := cost.Run(makeBook(s), cost.Options{Period: p, Today: day.Of(2026, 11, 5)})
	if err != nil {
		t.Fatal(err)
	}
	return r
}
