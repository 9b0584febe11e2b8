package unitcost

import (
	"fmt"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/unit"
)

// monthly sells the same of everything, without rows to search.
type monthly struct{ units float64 }

func (m monthly) Units(p *book.Product, from, to day.Date) *calc.Figure {
	return calc.Sum(m.units*float64(to-from+1)/30, "Sales", int(to-from+1), "quantity", nil, "test.units", p.Code.V, from.String(), to.String())
}

func (monthly) First() (day.Date, bool) { return 0, true }

// crowd is 40 products of 60 materials, bought 30 times each in three years.
func crowd(t testing.TB, method Method) *book.Book {
	b := &book.Book{}
	b.Settings.SetText(book.CostMethod, text(string(method)))
	kinds := []book.Kind{book.Wax, book.Fragrance, book.Dye, book.Additive, book.Wick, book.JarKind}
	by := map[book.Kind][]*book.Material{}
	for i := range 60 {
		k, dim := kinds[i%6], unit.Mass
		if !k.Melted() {
			dim = unit.Count
		}
		m := material(fmt.Sprint(k, i), k, dim, 100, 10)
		b.Materials, by[k] = append(b.Materials, m), append(by[k], m)
		for j := range 30 {
			b.Purchases = append(b.Purchases, book.Purchase{Day: on("2024-01-03") + day.Date(36*j+i%17), Material: m, Qty: num(4000), Dim: dim, Paid: paid(float64(300 + i + 7*j))})
		}
		b.Counts = append(b.Counts, book.Count{Day: on("2025-12-31"), Material: m, Qty: num(500), Dim: dim})
	}
	for i := range 10 {
		r := &book.Recipe{Name: text(fmt.Sprint("R", i))}
		for k, per := range map[book.Kind]string{book.Wax: "%", book.Fragrance: "%", book.Dye: "drops/lb", book.Additive: "% of blend"} {
			r.Ingredients = append(r.Ingredients, book.Ingredient{Material: by[k][i], Amount: num(5), Rate: rate(per)})
		}
		b.Recipes = append(b.Recipes, r)
		for j := range 2 {
			jar := &book.Jar{Name: text(fmt.Sprint("J", i, j)), Fill: num(200)}
			for _, k := range kinds[4:] {
				jar.Parts = append(jar.Parts, book.Part{Material: by[k][(i+j)%10], Count: num(1), Dim: unit.Count})
			}
			for _, f := range []book.Finish{book.Colored, book.Natural} {
				b.Products = append(b.Products, &book.Product{Code: text(fmt.Sprint(i, j, f)), Recipe: r, Jar: jar, Finish: f})
			}
		}
	}
	return b
}

func BenchmarkThreeYears(b *testing.B) {
	for _, method := range []Method{Latest, Average, FIFO} {
		b.Run(string(method), func(b *testing.B) {
			bk, upTo := crowd(b, method), on("2026-12-31")
			b.ReportAllocs()
			for b.Loop() {
				e := New(bk, monthly{12}, upTo)
				for _, p := range bk.Products {
					for m := upTo.Month() - 35; m <= upTo.Month(); m++ {
						if e.Cost(e.Of(p), m) == nil {
							b.Fatal("no cost: ", codes(e))
						}
					}
				}
				if len(e.Stock(upTo.Month().First(), upTo)) != 60 {
					b.Fatal("rows of stock are missing")
				}
			}
		})
	}
}
