package plan

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/unit"
	"pourbook/compute/unitcost"
)

// The helpers of the tests: a book is built in code, as a reader would hand it over.
var (
	num, text, paid  = booktest.Num, booktest.Text, booktest.Paid
	date, rate, near = booktest.Day, booktest.Rate, booktest.Near
)

const today = "2026-03-02" // a Monday

// plainBook is a book with every table, two recipes in two jars and both
// finishes, sold at markets of last year.
func plainBook() *book.Book {
	b := &book.Book{SaleSheets: []string{"Sales"}}
	b.SaleMarkets.Number("Spring Fair")
	b.SaleMarkets.Number("Old Fair")
	b.Tables = booktest.Tables(book.TableNames...)
	wax := material(b, "Soy", book.Wax, unit.Mass, 10_000, 80, 50_000)
	wax.MaxLoad = num(0.1)
	dye := material(b, "Red dye", book.Dye, unit.Mass, 30, 6, 20)
	blue := material(b, "Blue dye", book.Dye, unit.Mass, 30, 6, 20)
	scents := []*book.Material{material(b, "Rose", book.Fragrance, unit.Mass, 500, 30, 2000), material(b, "Cedar", book.Fragrance, unit.Mass, 500, 25, 2000)}
	wick := material(b, "Wick", book.Wick, unit.Count, 100, 10, 300)
	glass := material(b, "Glass", book.JarKind, unit.Count, 12, 14.4, 100)
	tin := material(b, "Tin", book.JarKind, unit.Count, 24, 12, 100)
	for i, name := range []string{"Rose", "Cedar"} {
		b.Recipes = append(b.Recipes, &book.Recipe{Name: text(name), Ingredients: []book.Ingredient{
			{Material: wax, Amount: num(1)},
			{Material: scents[i], Amount: num(8), Rate: rate("% of wax")},
			{Material: []*book.Material{dye, blue}[i], Amount: num(6), Rate: rate("drops/lb")},
		}})
	}
	for i, j := range []*book.Material{glass, tin} {
		b.Jars = append(b.Jars, booktest.Jar(j.Name.V, []float64{200, 120}[i], j, wick))
	}
	b.Channels = []*book.Channel{{Name: text("Market"), Fee: num(0.03), PerUnit: paid(0.25), Listed: true}}
	for i, r := range b.Recipes {
		for j, jar := range b.Jars {
			for k, f := range []book.Finish{book.Colored, book.Natural} {
				b.Products = append(b.Products, &book.Product{
					Code: text(fmt.Sprintf("%c%c%c", "RC"[i], "GT"[j], "CN"[k])), Recipe: r, Jar: jar, Finish: f,
					List: paid([]float64{18, 11}[j]), Active: cell.Default(true),
				})
			}
		}
	}
	b.Markets = []*book.Market{
		{Name: text("Spring Fair"), Day: date("2025-04-12"), Channel: b.Channels[0]},
		{Name: text("Old Fair"), Day: date("2025-06-14"), Channel: b.Channels[0]},
		{Name: text("Spring Fair"), Day: date("2026-04-11"), Channel: b.Channels[0]},
	}
	sell(b, "2025-04-12", 1, 20, 12, 10, 6, 8, 4, 6, 2)
	sell(b, "2025-06-14", 2, 10, 6, 6, 4, 6, 2, 4, 2)
	return b
}

func material(b *book.Book, name string, kind book.Kind, dim unit.Dimension, size, price, onHand float64) *book.Material {
	m := booktest.Material(name, kind, dim, size, price)
	m.OnHand, m.LeadDays = num(onHand), num(7)
	b.Materials = append(b.Materials, m)
	return m
}

// sell adds sales of every product on a day at a market.
func sell(b *book.Book, on string, market int32, units ...float64) {
	for i, u := range units {
		b.Sales.Add(book.Sale{
			Day: date(on), Row: int32(b.Sales.Len() + 2), SalePlace: book.SalePlace{Product: int32(i), Market: market},
			SaleAmounts: book.SaleAmounts{Has: book.HasPrice, Qty: money.Float(u), Price: b.Products[i].List.V},
		})
	}
}

func set(b *book.Book, name book.Setting, v float64) { b.Settings.SetNum(name, num(v)) }

func options() Options { return Options{Today: date(today), Start: day.None, By: day.None} }

func mustRun(t testing.TB, b *book.Book, o Options) *Result {
	t.Helper()
	r, err := Run(b, o)
	if err != nil {
		t.Fatalf("%v: %v", err, r.Problems.Sorted())
	}
	return r
}

// drawBook makes a random book of the plain one.
func drawBook(t *rapid.T) *book.Book {
	b := plainBook()
	n := func(low, high int, what string) float64 { return float64(rapid.IntRange(low, high).Draw(t, what)) }
	for _, m := range b.Materials {
		m.OnHand, m.LeadDays = num(n(0, 400, "on hand")), num(n(0, 20, "lead"))
		if m.Dim == unit.Mass {
			m.OnHand.V *= 20
		}
		if rapid.Bool().Draw(t, "two sizes") {
			p := m.Packs[0]
			m.Packs = append(m.Packs, book.Pack{Size: num(p.Size.V * n(2, 9, "times")), Dim: p.Dim, Price: paid(p.Price.V.Float64() * n(2, 8, "price")), Freight: paid(n(0, 4, "freight"))})
		}
	}
	for _, r := range b.Recipes {
		r.CureDays = num(n(2, 20, "cure"))
	}
	for _, p := range b.Products {
		p.OnHand = num(n(0, 12, "on hand"))
		p.Active.V = n(0, 7, "active") > 0
	}
	set(b, book.Pitcher, n(250, 2500, "pitcher"))
	set(b, book.PourMinutes, n(50, 200, "minutes"))
	set(b, book.RejectRate, n(0, 10, "reject")/100)
	set(b, book.PourLoss, n(0, 5, "loss")/100)
	set(b, book.ScaleResolution, []float64{0.1, 1, 5}[rapid.IntRange(0, 2).Draw(t, "scale")])
	b.Settings.SetText(book.PourDays, text(rapid.SampledFrom([]string{"every day", "Tue, Thu", "weekends", "Mon-Fri"}).Draw(t, "pour days")))
	b.Markets[2].Expected = num(n(0, 150, "expected"))
	if rapid.Bool().Draw(t, "table") {
		b.Markets[2].Capacity = num(n(0, 80, "capacity"))
	}
	return b
}

func newEngine(b *book.Book) *unitcost.Engine { return unitcost.New(b, nil, date(today)) }
