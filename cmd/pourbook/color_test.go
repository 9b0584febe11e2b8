package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
	"pourbook/ingest"
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
		out[at+"cost"], out[at+"per_kilo"] = u.Cost, u.PerKilo
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

// bookRead is the book of a file of tables as text, by way of a workbook.
func bookRead(t *testing.T, path string, today day.Date) *book.Book {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	bookOf(t, path+".xlsx", string(text), nil)
	b, err := ingest.Read(t.Context(), path+".xlsx", ingest.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// known is the values of the figures that have one.
func known(figures map[string]*calc.Figure) map[string]float64 {
	out := map[string]float64{}
	for key, f := range figures {
		if v, ok := f.Value(); ok {
			out[key] = v
		}
	}
	return out
}

// exactly compares what is wanted with what the program found, which may hold
// nothing else.
func exactly(t *testing.T, want, got map[string]float64) {
	t.Helper()
	hold(t, want, got, 1e-9)
	for key, v := range got {
		if _, wanted := want[key]; !wanted {
			t.Errorf("%s: %v, unknown there", key, v)
		}
	}
}
