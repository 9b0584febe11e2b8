package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

// Books of candles in both finishes, made up by Python: what dye and fragrance
// each season took, in all and by the wax of the same candles, and what color
// adds to the cost of a candle. No other row may be there.
func TestColorAgainstFractions(t *testing.T) {
	const books = 24
	want, got := madeUp(t, "color.py", books, func(where string, b *book.Book, today day.Date) map[string]*calc.Figure {
		month := booktest.Month("2026-10")
		res, err := cost.Run(b, cost.Options{Today: today, Period: cost.Period{From: month.First(), To: month.Last()}})
		if err != nil {
			t.Fatal(err)
		}
		return colorOf(where, res)
	})
	cases := len(want)
	missing(t, want, got)
	exactly(t, want, got)
	oracle.Cases(t, cases)
}

// colorOf is what a book's costing says of color, by the names of the outside.
func colorOf(where string, res *cost.Result) map[string]*calc.Figure {
	out := map[string]*calc.Figure{}
	for _, u := range res.Use {
		at := fmt.Sprintf("%s/use/%s/%d/%s/", where, u.Season, u.SeasonYear, u.Material)
		out[at+"grams"], out[at+"ml"], out[at+"drops"] = u.Grams, u.ML, u.Drops
		out[at+"cost"], out[at+"per_kilo"] = u.Cost, u.PerKilo()
	}
	for _, x := range res.Twins {
		at := fmt.Sprintf("%s/color/%s/", where, x.Colored.Product)
		out[at+"dye"], out[at+"labor"], out[at+"overhead"] = x.Dye, x.Labor, x.Overhead
		out[at+"parts"], out[at+"total"] = x.Parts, x.Total
	}
	return out
}

// madeUp has a Python program make up whole books and say what is to come of
// them, and gives that and what the sums make of the books on 2026-11-05.
func madeUp(t *testing.T, script string, books int, sums func(where string, b *book.Book, today day.Date) map[string]*calc.Figure) (want, got map[string]float64) {
	t.Helper()
	oracle.Need(t, oracle.SciPy)
	dir, today := t.TempDir(), booktest.Day("2026-11-05")
	oracle.Run(t, "/usr/bin/python3", outside(t, script), dir, fmt.Sprint(books))
	got = map[string]float64{}
	for n := 1; n <= books; n++ {
		where := fmt.Sprint(n)
		maps.Copy(got, known(sums(where, bookRead(t, filepath.Join(dir, where+".txt"), today), today)))
	}
	return expected(t, filepath.Join(dir, "expected.tsv")), got
}
