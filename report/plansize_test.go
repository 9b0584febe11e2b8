package report

import (
	"fmt"
	"testing"
	"time"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/compute/unit"
)

var typedNum, typedText = booktest.Num, booktest.Text

// busyBook is a book of 20 recipes in both finishes, of which a market asks for
// as many as minutes on each of the twelve days before its last day allow.
func busyBook(today day.Date, minutes float64) *book.Book {
	b := &book.Book{Name: "busy", SaleSheets: []string{"Sales"}}
	b.Tables = booktest.Tables(book.TableNames...)
	material := func(name string, kind book.Kind, dim unit.Dimension, size, price float64) *book.Material {
		m := booktest.Material(name, kind, dim, size, price)
		m.OnHand = typedNum(1e6)
		b.Materials = append(b.Materials, m)
		return m
	}
	wax := material("Soy wax", book.Wax, unit.Mass, 10_000, 80)
	wick := material("Wick", book.Wick, unit.Count, 100, 10)
	percent, drops := booktest.Rate("% of wax"), booktest.Rate("drops/lb")
	for i, name := range []string{"Jar", "Tin"} {
		m := material(name, book.JarKind, unit.Count, 12, 12)
		b.Jars = append(b.Jars, booktest.Jar(name, []float64{100, 50}[i], m, wick))
	}
	for i := range 20 {
		r := &book.Recipe{Name: typedText(fmt.Sprintf("Recipe %02d", i+1)), Swatch: typedText(fmt.Sprintf("#%02x8040", 10*i)), Ingredients: []book.Ingredient{
			{Material: wax, Amount: typedNum(1)},
			{Material: material(fmt.Sprintf("Scent %02d", i+1), book.Fragrance, unit.Mass, 500, 30), Amount: typedNum(8), Rate: percent},
			{Material: material(fmt.Sprintf("Dye %02d", i+1), book.Dye, unit.Mass, 30, 6), Amount: typedNum(6), Rate: drops},
		}}
		b.Recipes = append(b.Recipes, r)
		for k, f := range []book.Finish{book.Colored, book.Natural} {
			b.Products = append(b.Products, &book.Product{
				Code: typedText(fmt.Sprintf("P%02d-%s", i+1, f)), Recipe: r, Jar: b.Jars[k], Finish: f,
				List: booktest.Paid(24 - float64(8*k)), Active: booktest.Yes(true),
			})
		}
	}
	b.Markets = []*book.Market{{Name: typedText("Big Fair"), Day: today + 11 + 15, Days: typedNum(1), Expected: typedNum(600)}}
	b.Settings.SetNum(book.PourMinutes, typedNum(minutes))
	return b
}

// busyPlans are forty products in sixty pours on twelve days: all of which fit,
// and with some left out, where a larger pot and a further day are tried too.
var busyPlans = []struct {
	name    string
	minutes float64
	all     bool
}{{"everything fits", 640, true}, {"not everything fits", 480, false}}

func TestABusyPlan(t *testing.T) {
	today := day.FromTime(time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC))
	for _, x := range busyPlans {
		r, err := plan.Run(busyBook(today, x.minutes), plan.Options{Today: today, Start: day.None, By: day.None})
		if err != nil {
			t.Fatal(err, r.Problems.Sorted())
		}
		if docs, err := Plan(r, Options{Paper: "Letter", Today: today}); err != nil || len(docs) != 1 {
			t.Fatal(err)
		}
		if len(r.Demand) != 40 || len(r.Days) != 12 || len(r.Pours) != 60 || x.all != (len(r.LeftOut) == 0) {
			t.Errorf("%s: %d products, %d pours on %d days, %d products left out", x.name, len(r.Demand), len(r.Pours), len(r.Days), len(r.LeftOut))
		}
	}
}

func BenchmarkBusyPlan(b *testing.B) {
	today := day.FromTime(time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC))
	for _, x := range busyPlans {
		b.Run(x.name, func(b *testing.B) {
			for b.Loop() {
				r, err := plan.Run(busyBook(today, x.minutes), plan.Options{Today: today, Start: day.None, By: day.None})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := Plan(r, Options{Paper: "Letter", Today: today}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
