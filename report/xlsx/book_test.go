package xlsx

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/cell"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/unit"
)

// bookMaker builds a book as a reader would hand it over: every value with a cell
// of its own, names that hold wildcards and operators, refunds, line totals,
// discounts, orders across months, and lines without a channel.
type bookMaker struct {
	*book.Book
	rnd  *rand.Rand
	rows map[string]int
}

// at is the next cell of a sheet.
func (m *bookMaker) at(sheet string) cell.Ref {
	m.rows[sheet]++
	return cell.Ref{Sheet: sheet, Row: m.rows[sheet]/8 + 2, Col: m.rows[sheet]%8 + 1}
}

func (m *bookMaker) num(sheet string, v float64) cell.Num {
	return cell.Num{V: v, Raw: fmt.Sprint(v), State: cell.Typed, At: m.at(sheet)}
}

func (m *bookMaker) word(sheet, s string) cell.Text {
	return cell.Text{V: s, Raw: s, State: cell.Typed, At: m.at(sheet)}
}

func (m *bookMaker) paid(sheet string, v float64) book.Money {
	return book.Money{V: money.Float(v), Raw: fmt.Sprint(v), State: cell.Typed, At: m.at(sheet)}
}

// shape says what the book has.
type shape struct {
	method    string
	purchases bool
	pours     bool
	days      int // of sales up to the last day
}

var lastDay = day.Of(2026, 10, 31)

func makeBook(s shape) *book.Book {
	m := &bookMaker{Book: &book.Book{Name: "book"}, rnd: rand.New(rand.NewPCG(3, 5)), rows: map[string]int{}}
	m.Tables = booktest.Tables(book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TSales)
	if s.method != "" {
		m.Settings.SetText(book.CostMethod, m.word("Settings", s.method))
	}
	m.Settings.SetNum(book.LaborRate, m.num("Settings", 18))
	m.Settings.SetNum(book.PourLoss, m.num("Settings", 0.03))
	m.channels()
	m.products()
	m.sell(s.days)
	m.Overheads = []book.Overhead{{Name: m.word("Overheads", "Rent"), Amount: m.paid("Overheads", 160)}}
	m.Markets = []*book.Market{{Name: m.word("Markets", "Fair"), Day: day.Of(2026, 10, 17), Days: m.num("Markets", 2), Booth: m.paid("Markets", 55)}}
	if s.purchases {
		m.buy()
	}
	if s.pours {
		for _, p := range m.Products {
			m.Pours = append(m.Pours, book.Pour{Day: day.Of(2026, 10, 3), Product: p, Units: m.num("Pours", 12)})
		}
	}
	return m.Book
}

func (m *bookMaker) channels() {
	m.Channels = []*book.Channel{
		{Name: m.word("Channels", "*"), Fee: m.num("Channels", 0.065), PerOrder: m.paid("Channels", 0.45), PerUnit: m.paid("Channels", 1.15), Listed: true},
		{Name: m.word("Channels", ">5"), Fee: m.num("Channels", 0.026), PerOrder: m.paid("Channels", 0.1), Listed: true},
		{Name: m.word("Channels", "Shops"), PerOrder: m.paid("Channels", 2.5), Wholesale: true, Listed: true},
		{Name: m.word("Sales", "wholesale")},
	}
}

func (m *bookMaker) material(name string, k book.Kind, dim unit.Dimension, size, price float64) *book.Material {
	const s = "Materials"
	x := &book.Material{
		Name: m.word(s, name), Kind: k, Dim: dim, Density: m.num(s, 0.95),
		Packs: []book.Pack{{Size: m.num(s, size), Dim: dim, Price: m.paid(s, price), Freight: m.paid(s, 2.5)}},
	}
	m.Materials = append(m.Materials, x)
	return x
}

func (m *bookMaker) products() {
	wax := m.material("Soy wax", book.Wax, unit.Mass, 20411, 98.5)
	wax.Packs = append(wax.Packs, book.Pack{Size: m.num("Materials", 4536), Dim: unit.Mass, Price: m.paid("Materials", 31)})
	for _, size := range []float64{120, 198.4} {
		jar := &book.Jar{Name: m.word("Jars", fmt.Sprintf("%v g jar?", size)), Fill: m.num("Jars", size)}
		for _, k := range []book.Kind{book.JarKind, book.Wick, book.Label} {
			x := m.material(fmt.Sprint(k, " ", size), k, unit.Count, 24, 20+size/10)
			jar.Parts = append(jar.Parts, book.Part{Material: x, Count: m.num("Jar parts", 1), Dim: unit.Count, Finish: book.AnyFinish})
		}
		m.Jars = append(m.Jars, jar)
	}
	percent, drops := booktest.Rate("% of wax"), booktest.Rate("drops/lb")
	for i, name := range []string{"Quince*", "=Rain", "Cedar"} {
		r := &book.Recipe{Name: m.word("Recipes", name), Ingredients: []book.Ingredient{
			{Material: wax, Amount: m.num("Recipes", 1)},
			{Material: m.material(name+" oil", book.Fragrance, unit.Mass, 453.6, 26+float64(i)), Amount: m.num("Recipes", 8), Rate: percent},
			{Material: m.material(name+" dye", book.Dye, unit.Volume, unit.MLPerFluidOz, 6.8), Amount: m.num("Recipes", 4+float64(i)), Rate: drops},
		}}
		m.Recipes = append(m.Recipes, r)
		for j, jar := range m.Jars {
			for _, f := range []book.Finish{book.Colored, book.Natural} {
				code := fmt.Sprintf("%s%d%s", name, j, f[:1])
				m.Products = append(m.Products, &book.Product{
					Code: m.word("Products", code), Name: m.word("Products", name+" in "+jar.Name.V), Recipe: r,
					Jar: jar, Finish: f, List: m.paid("Products", 14+6*float64(j)), Active: cell.Bool{V: true, State: cell.Typed},
				})
			}
		}
	}
}

func (m *bookMaker) sell(days int) {
	m.SaleSheets = []string{"Sales"}
	m.Customers = 40
	row := int32(2)
	for d := lastDay - day.Date(days); d <= lastDay+3; d++ {
		for range 1 + m.rnd.IntN(2) {
			m.Orders++
			channel := int32(m.rnd.IntN(5)) - 1
			for range 1 + m.rnd.IntN(3) {
				m.Sales.Add(m.sale(d, channel, row))
				row++
			}
		}
	}
}

func (m *bookMaker) sale(d day.Date, channel, row int32) book.Sale {
	p := m.rnd.IntN(len(m.Products))
	s := book.Sale{
		Day: d, Order: int32(m.Orders), Customer: int32(m.rnd.IntN(41)), Row: row, SalePlace: book.SalePlace{Product: int32(p), Channel: channel},
		SaleAmounts: book.SaleAmounts{Has: book.HasPrice, Qty: money.Float(float64(1 + m.rnd.IntN(3))), Price: m.Products[p].List.V},
	}
	switch m.rnd.IntN(12) {
	case 0:
		s.Qty = s.Qty.Neg()
	case 1:
		s.Has, s.Total = book.HasTotal, money.Float(11.37)
	case 2:
		s.Has, s.Discount = s.Has|book.HasDiscount, money.Float(1.5)
	case 3:
		s.Price = money.Float(0)
	case 4:
		s.Order = 0
	case 5:
		if m.Orders > 8 {
			s.Order = int32(m.Orders - 7)
		}
	case 6:
		s.Has, s.Total, s.Qty = book.HasTotal, money.Float(-5), money.Float(0)
	}
	return s
}

func (m *bookMaker) buy() {
	for i, x := range m.Materials {
		for k := range 6 {
			size := x.Packs[0].Size.V
			n := 1 + float64(m.rnd.IntN(3))
			month := lastDay.Month() - 5 + day.Month(k)
			m.Purchases = append(m.Purchases, book.Purchase{
				Day: month.First() + 3, Material: x, Qty: m.num("Purchases", n*size), Dim: x.Dim,
				Paid: m.paid("Purchases", x.Packs[0].Price.V.Float64()*n*(1+0.02*float64(k))),
			})
		}
		if i%2 == 0 {
			for _, d := range []day.Date{lastDay - 31, lastDay} {
				m.Counts = append(m.Counts, book.Count{Day: d, Material: x, Qty: m.num("Stock counts", x.Packs[0].Size.V*(1+m.rnd.Float64())), Dim: x.Dim})
			}
		}
	}
	m.Tables = append(m.Tables, book.Table{Table: book.TPurchases}, book.Table{Table: book.TStockCounts})
}

func october() cost.Period { return cost.Period{From: day.Of(2026, 10, 1), To: lastDay} }

// costOf is the costing of a book and its workbook.
func costOf(t testing.TB, b *book.Book, p cost.Period) (*cost.Result, []byte) {
	t.Helper()
	r, err := cost.Run(b, cost.Options{Period: p, Today: day.Of(2026, 11, 5)})
	if err != nil {
		t.Fatal(err)
	}
	data, err := Cost(r, "Shop")
	if err != nil {
		t.Fatal(err)
	}
	return r, data
}
