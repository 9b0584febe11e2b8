// Package booktest has the words in which tests write books: values as a
// reader hands them over, typed into a cell whose place does not matter.
package booktest

import (
	"math"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/unit"
)

// Num is a typed number.
func Num(v float64) cell.Num { return cell.Num{V: v, State: cell.Typed} }

// Text is a typed text.
func Text(s string) cell.Text { return cell.Text{V: s, Raw: s, State: cell.Typed} }

// Yes is a typed yes or no.
func Yes(v bool) cell.Bool { return cell.Bool{V: v, State: cell.Typed} }

// Paid is a typed amount of the book's currency.
func Paid(v float64) book.Money { return book.Money{V: money.Float(v), State: cell.Typed} }

// Day is a date like "2026-10-31"; it panics at another text.
func Day(s string) day.Date { return must(day.Parse(s)) }

// Month is a month like "2026-10"; it panics at another text.
func Month(s string) day.Month { return must(day.ParseMonth(s)) }

// Rate is the recipe unit of a name; it panics at a name that is none.
func Rate(name string) unit.Rate {
	r, ok := unit.FindRate(name)
	if !ok {
		panic("no recipe unit " + name)
	}
	return r
}

// Material is a material in one pack size: size in the base unit of dim, price
// for the pack.
func Material(name string, kind book.Kind, dim unit.Dimension, size, price float64) *book.Material {
	return &book.Material{Name: Text(name), Kind: kind, Dim: dim, Packs: []book.Pack{{Size: Num(size), Dim: dim, Price: Paid(price)}}}
}

// Jar is a jar of fill grams with one of each part for every finish.
func Jar(name string, fill float64, parts ...*book.Material) *book.Jar {
	j := &book.Jar{Name: Text(name), Fill: Num(fill)}
	for _, m := range parts {
		j.Parts = append(j.Parts, book.Part{Material: m, Count: Num(1), Dim: unit.Count, Finish: book.AnyFinish})
	}
	return j
}

// Tables are the tables of the names, each on a sheet of no name.
func Tables(names ...book.TableName) []book.Table {
	var out []book.Table
	for _, n := range names {
		out = append(out, book.Table{Table: n})
	}
	return out
}

// Near fails a test if a figure is unknown or off by more than 1e-9 of want.
func Near(t testing.TB, what string, f *calc.Figure, want float64) {
	t.Helper()
	got, ok := f.Value()
	switch {
	case !ok:
		t.Errorf("%s is unknown, want %v", what, want)
	case math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)):
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
