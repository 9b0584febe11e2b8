package xlsx

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/sales"
)

// sum is a sum over rows of Sales as a formula over the lines of the workbook:
// the lines that it adds up, and what lies outside of them.
type sum struct {
	field   string
	choices []choice
	from    day.Date // None where the lines need not be bounded
	to      day.Date
	rest    *calc.Figure // of the rows that are not in the workbook; nil: none
	text    string       // the formula
}

// choice restricts a sum to the lines whose field is one of some numbers.
type choice struct {
	field string
	is    []int
}

// summands are what sums add up, by the name of the sum's field.
var summands = map[string]func(*sales.Line) float64{
	string(sales.Units):    func(x *sales.Line) float64 { return x.Units.Float64() },
	string(sales.Gross):    func(x *sales.Line) float64 { return x.Gross.Float64() },
	string(sales.Discount): func(x *sales.Line) float64 { return x.Discount.Float64() },
	string(sales.Net):      func(x *sales.Line) float64 { return x.Net.Float64() },
	string(sales.Fees):     func(x *sales.Line) float64 { return x.Fees() },
}

// covers reports whether any of the rows of a sum are lines of the workbook,
// and can be chosen there by numbers.
func (s *salesSheet) covers(f *calc.Figure) bool { return s.sum(f) != nil }

// rest is what a sum has outside the lines of the workbook; nil for nothing.
func (s *salesSheet) rest(f *calc.Figure) *calc.Figure { return s.sum(f).rest }

func (s *salesSheet) sum(f *calc.Figure) *sum {
	x, ok := s.found[f]
	if !ok {
		x = s.find(f)
		s.found[f] = x
	}
	return x
}

func (s *salesSheet) find(f *calc.Figure) *sum {
	what, _ := f.Summed()
	if what.Table != string(book.TSales) || summands[what.Field] == nil {
		return nil
	}
	from := f.From()
	value := summands[from.Sum]
	x := &sum{field: from.Sum, from: day.None, to: day.None}
	for _, c := range from.Where {
		if !s.choose(x, c) {
			return nil
		}
	}
	inside, n := 0.0, 0
	for _, i := range s.candidates(x) {
		if s.holds(x, i) {
			inside += value(&s.lines[i])
			n++
		}
	}
	if n == 0 || n > from.Count {
		return nil
	}
	x.text = x.formula()
	if n < from.Count {
		x.rest = calc.Sum(f.Or(0)-inside, from.Table, from.Count-n, from.Sum, from.Where, "xlsx.outside", label(f))
	}
	return x
}

// choose adds a condition; false for one that lines cannot be chosen by.
func (s *salesSheet) choose(x *sum, c calc.Cond) bool {
	switch c.Field {
	case "from", "to":
		d, err := day.Parse(c.Value)
		if err != nil || c.Field == "from" && d > s.period.To || c.Field == "to" && d < s.period.From {
			return false
		}
		if c.Field == "from" && d > s.period.From {
			x.from = d
		}
		if c.Field == "to" && d < s.period.To {
			x.to = d
		}
		return true
	}
	names, ok := s.names[c.Field]
	if !ok {
		return false
	}
	out := choice{field: c.Field}
	for _, n := range slices.Sorted(maps.Keys(names)) {
		if slices.Contains(names[n], c.Value) {
			out.is = append(out.is, n)
		}
	}
	if len(out.is) < len(names) {
		x.choices = append(x.choices, out)
	}
	return true
}

// candidates are the lines that a sum may hold: those of its product, if it has
// one.
func (s *salesSheet) candidates(x *sum) []int {
	for _, c := range x.choices {
		if c.field == "product" && len(c.is) == 1 {
			return s.byProduct[c.is[0]]
		}
	}
	return s.all
}

func (s *salesSheet) holds(x *sum, i int) bool {
	d := s.lines[i].Day
	if x.from != day.None && d < x.from || x.to != day.None && d > x.to {
		return false
	}
	for _, c := range x.choices {
		if !slices.Contains(c.is, s.facts[i][c.field]) {
			return false
		}
	}
	return true
}

// formula adds the lines up; lines are chosen by numbers, since a name might
// hold a wildcard or an operator.
func (s *salesSheet) formula(f *calc.Figure) string { return s.sum(f).text }

func (x *sum) formula() string {
	what := columnName(x.field)
	parts := []string{""}
	for _, c := range x.choices {
		var next []string
		for _, p := range parts {
			for _, n := range c.is {
				next = append(next, p+","+columnName(c.field)+","+strconv.Itoa(n))
			}
		}
		parts = next
	}
	for i, p := range parts {
		if x.from != day.None {
			p += bound(">=", x.from)
		}
		if x.to != day.None {
			p += bound("<=", x.to)
		}
		if p == "" {
			parts[i] = "SUM(" + what + ")"
			continue
		}
		parts[i] = "SUMIFS(" + what + p + ")"
	}
	return strings.Join(parts, "+")
}

func bound(op string, d day.Date) string {
	y, m, dd := d.YMD()
	return fmt.Sprintf(`,%s,"%s"&DATE(%d,%d,%d)`, columnName("date"), op, y, m, dd)
}

func columnName(field string) string { return "sales_" + field }

func year(s sales.Season) string { return strconv.Itoa(int(s.Year)) }
