package unitcost

import (
	"math"
	"slices"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/unit"
)

// The helpers of the tests: a book is built in code, as a reader would hand it over.

func num(v float64) cell.Num { return cell.Num{V: v, State: cell.Typed} }

func text(s string) cell.Text { return cell.Text{V: s, State: cell.Typed} }

func paid(v float64) book.Money { return book.Money{V: money.Float(v), State: cell.Typed} }

func on(t testing.TB, s string) day.Date {
	t.Helper()
	d, err := day.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func month(t testing.TB, s string) day.Month {
	t.Helper()
	m, err := day.ParseMonth(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func material(name string, kind book.Kind, dim unit.Dimension, size, price float64) *book.Material {
	return &book.Material{
		Name: text(name), Kind: kind, Dim: dim,
		Packs: []book.Pack{{Size: num(size), Dim: dim, Price: paid(price)}},
	}
}

func rate(t testing.TB, s string) unit.Rate {
	t.Helper()
	r, ok := unit.FindRate(s)
	if !ok {
		t.Fatalf("no recipe unit %q", s)
	}
	return r
}

func setting(b *book.Book, name book.Setting, v float64) { b.Settings.SetNum(name, num(v)) }

// sales stands in for the sales list: units per product and day.
type sales map[*book.Product]map[day.Date]float64

func (s sales) Units(p *book.Product, from, to day.Date) *calc.Figure {
	sum, n := 0.0, 0
	for d, u := range s[p] {
		if d >= from && d <= to {
			sum, n = sum+u, n+1
		}
	}
	return calc.Sum(sum, "Sales", n, "quantity", nil, "test.units", p.Code.V, from.String(), to.String())
}

func (s sales) First() (day.Date, bool) {
	first, ok := day.None, false
	for _, days := range s {
		for d := range days {
			if !ok || d < first {
				first, ok = d, true
			}
		}
	}
	return first, ok
}

func (s sales) add(p *book.Product, d day.Date, units float64) {
	if s[p] == nil {
		s[p] = map[day.Date]float64{}
	}
	s[p][d] += units
}

func near(t testing.TB, what string, f *calc.Figure, want float64) {
	t.Helper()
	got, ok := f.Value()
	if !ok {
		t.Errorf("%s is unknown, want %v", what, want)
		return
	}
	if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// codes are the problems' codes, sorted.
func codes(e *Engine) []string {
	var out []string
	for _, p := range e.Problems.Sorted() {
		c := string(p.Code)
		if p.Say != "" {
			c += "." + p.Say
		}
		out = append(out, c)
	}
	slices.Sort(out)
	return out
}
