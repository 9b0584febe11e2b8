package unitcost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/day"
)

// The helpers of the tests: a book is built in code, as a reader would hand it over.
var (
	num, text, paid = booktest.Num, booktest.Text, booktest.Paid
	on, month, rate = booktest.Day, booktest.Month, booktest.Rate
	material, near  = booktest.Material, booktest.Near
)

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
