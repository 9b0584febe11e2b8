package cost

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/sales"
)

// long is three years of n lines over 24 products and 4 channels, orders of one
// to three lines, one line in fifty a refund.
func long(t testing.TB, n int) *book.Book {
	b := twoProducts(t)
	for i := range 11 {
		r := &book.Recipe{Name: text(fmt.Sprint("R", i)), Ingredients: b.Recipes[0].Ingredients}
		for _, f := range []book.Finish{book.Colored, book.Natural} {
			p := *b.Products[0]
			p.Code, p.Recipe, p.Finish = text(fmt.Sprint("P", i, f)), r, f
			b.Products = append(b.Products, &p)
		}
		b.Recipes = append(b.Recipes, r)
	}
	for i := range 2 {
		b.Channels = append(b.Channels, &book.Channel{Name: text(fmt.Sprint("Shop ", i)), Fee: num(0.03), Listed: true})
	}
	random := rand.New(rand.NewPCG(1, 2))
	b.Orders, b.Customers = n/2+1, n/20+1
	first := on("2024-01-01")
	for i := range n {
		s := book.Sale{
			Day: first + day.Date(i*1095/n), Order: int32(i / 2), Customer: int32(random.IntN(b.Customers + 1)), Row: int32(i + 2),
			SalePlace:   book.SalePlace{Product: int32(random.IntN(len(b.Products))), Channel: int32(random.IntN(len(b.Channels)))},
			SaleAmounts: book.SaleAmounts{Qty: money.Float(float64(1 + random.IntN(3))), Price: money.Float(24.5), Has: book.HasPrice},
		}
		if i%50 == 49 {
			s.Qty = money.Float(-1)
		}
		b.Sales.Add(s)
	}
	return b
}

func BenchmarkMillionLines(b *testing.B) {
	bk := long(b, 1_000_000)
	last := on("2026-12-31")
	b.Run("ledger", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if l := sales.New(bk, last); l.All().Len() != bk.Sales.Len() {
				b.Fatal("lines are missing")
			}
		}
	})
	b.Run("costing", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if r, err := Run(bk, Options{Period: Period{on("2026-12-01"), last}, Today: last}); err != nil || !r.Totals.Contribution.Known() {
				b.Fatal(err)
			}
		}
	})
}
