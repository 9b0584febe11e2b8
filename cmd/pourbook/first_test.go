package main

import (
	"fmt"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
	"pourbook/compute/price"
)

// New jars of four sizes for books made up by Python: the first run's jars by
// finish, from the book's own sales in the jar of the nearest size.
func TestFirstRunsAgainstFractions(t *testing.T) {
	want, got := madeUp(t, "first.py", 40, func(where string, b *book.Book, today day.Date) map[string]*calc.Figure {
		out := map[string]*calc.Figure{}
		for _, fill := range []float64{70, 130, 190, 260} {
			res, err := price.Run(b, price.Options{
				Jar: "New", Fill: booktest.Num(fill), Parts: []price.Part{{Name: "Wick", Cost: booktest.Num(0.2)}}, Today: today,
			})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range res.Prices {
				at := fmt.Sprintf("%s/%v/%s/%s/", where, fill, p.Recipe, p.Finish)
				out[at+"usual_batch"], out[at+"first_run"] = p.UsualBatch, p.FirstRun
			}
		}
		return out
	})
	cases := len(want)
	missing(t, want, got)
	exactly(t, want, got)
	oracle.Cases(t, cases)
}
