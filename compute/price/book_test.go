package price

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// The helpers of the tests: a book is built in code, as a reader would hand it over.
var num, text, paid, rate = booktest.Num, booktest.Text, booktest.Paid, booktest.Rate

var today = day.Of(2026, 3, 2)

func material(b *book.Book, name string, kind book.Kind, dim unit.Dimension, size, price float64) *book.Material {
	m := booktest.Material(name, kind, dim, size, price)
	b.Materials = append(b.Materials, m)
	return m
}

// shopBook is a book of two recipes in as many jars as there are fills, dyed
// and undyed, sold at a market and on a website.
func shopBook(fills ...float64) *book.Book {
	b := &book.Book{}
	b.Tables = booktest.Tables(book.TableNames...)
	wax := material(b, "Soy", book.Wax, unit.Mass, 10_000, 80)
	dye := material(b, "Red dye", book.Dye, unit.Mass, 30, 6)
	wick := material(b, "Wick", book.Wick, unit.Count, 100, 10)
	for _, name := range []string{"Rose", "Cedar"} {
		b.Recipes = append(b.Recipes, &book.Recipe{Name: text(name), Ingredients: []book.Ingredient{
			{Material: wax, Amount: num(1)},
			{Material: material(b, name+" oil", book.Fragrance, unit.Mass, 500, 30), Amount: num(8), Rate: rate("% of wax")},
			{Material: dye, Amount: num(6), Rate: rate("drops/lb")},
		}})
	}
	b.Channels = []*book.Channel{
		{Name: text("Market"), Fee: num(0.03), PerUnit: paid(0.25), Listed: true},
		{Name: text("Website"), Fee: num(0.065), PerOrder: paid(0.45), Listed: true},
		{Name: text("Shops"), Wholesale: true, Listed: true},
	}
	for i, fill := range fills {
		glass := material(b, fmt.Sprint("Glass ", fill), book.JarKind, unit.Count, 12, 8+fill/25)
		jar := booktest.Jar(fmt.Sprintf("Jar %v", fill), fill, glass, wick)
		b.Jars = append(b.Jars, jar)
		for _, r := range b.Recipes {
			for _, f := range []book.Finish{book.Colored, book.Natural} {
				b.Products = append(b.Products, &book.Product{
					Code: text(fmt.Sprintf("%c%d%c", r.Name.V[0], i, f[0])), Recipe: r, Jar: jar, Finish: f,
					List: paid(6 + fill/12), Active: cell.Default(true),
				})
			}
		}
	}
	return b
}

func mustRun(t testing.TB, b *book.Book, o Options) *Result {
	t.Helper()
	o.Today = today
	r, err := Run(b, o)
	if err != nil {
		t.Fatalf("%v: %v", err, r.Problems.Sorted())
	}
	return r
}

// drawBook is a random book whose channels can carry its target.
func drawBook(t *rapid.T) *book.Book {
	b := shopBook(90, 200, 340)
	n := func(low, high float64, what string) float64 { return rapid.Float64Range(low, high).Draw(t, what) }
	for _, m := range b.Materials {
		m.Packs[0].Price = paid(n(0.5, 400, "price"))
	}
	for _, c := range b.Channels {
		c.Fee, c.PerOrder, c.PerUnit = num(n(0, 0.4, "fee")), paid(n(0, 3, "per order")), paid(n(0, 3, "per unit"))
	}
	for _, p := range b.Products {
		p.List = paid(n(1, 90, "list"))
	}
	for s, v := range map[book.Setting]float64{
		book.TargetMargin: n(0.05, 0.59, "target"), book.LaborRate: n(0, 60, "labor"), book.RejectRate: n(0, 0.2, "rejects"),
		book.PourLoss: n(0, 0.1, "loss"), book.PriceEnding: rapid.SampledFrom([]float64{0, 0.5, 0.95, 0.99}).Draw(t, "ending"),
	} {
		b.Settings.SetNum(s, num(v))
	}
	return b
}

// has reports whether a problem of a code and saying was raised.
func has(l problem.List, code problem.Code, say string) bool {
	for _, p := range l.Sorted() {
		if p.Code == code && p.Say == say {
			return true
		}
	}
	return false
}
