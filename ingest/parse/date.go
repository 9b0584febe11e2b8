package parse

import (
	"strings"

	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// read is a value read from a cell, as it stood there, with what is to be said
// of it.
type read[T any] struct {
	V       T
	Raw     string
	Blank   bool
	Finding Finding
}

// Day is a date read from a cell, YearDay a day of any year, such as a season's
// first.
type (
	Day     struct{ read[day.Date] }
	YearDay struct{ read[day.MonthDay] }
)

// OK reports whether there is a usable value.
func (d read[T]) OK() bool { return !d.Blank && !d.Finding.Bad() }

// At is the value as one of the book, read from the cell at a place.
func (d read[T]) At(at cell.Ref) cell.Of[T] {
	c := cell.Of[T]{Raw: d.Raw, At: at, State: cell.Typed}
	switch {
	case d.Finding.Bad():
		c.State = cell.Bad
	case d.Blank:
		c.State = cell.Blank
	default:
		c.V = d.V
	}
	return c
}

// DateIn reads a date cell, ISO text, text with a month's name, or text such as
// "3/4/2026" where order tells which is the day. Times of day are dropped. A
// number from 20000 to 80000, in text too, is a day that lost its date format,
// with a warning.
func DateIn(c grid.Cell, order Order) Day {
	d := Day{read[day.Date]{V: day.None, Raw: strings.TrimSpace(c.Raw)}}
	if d.Finding = unreadable(c); !d.Finding.None() {
		return d
	}
	switch c.Kind {
	case grid.Date:
		if d.V = c.Day; d.V == day.None {
			d.Finding = bad(problem.BadDate, "", c.Raw)
		}
	case grid.Number:
		d.V, d.Finding = serial(c)
	case grid.Text:
		d.text(c.Raw, order)
	case grid.Bool:
		d.Finding = bad(problem.BadDate, "", c.Raw)
	default:
		d.Blank = true
	}
	return d
}

// firstSerial is the day that a spreadsheet of the 1900 system counts from;
// the other system starts in 1904.
var (
	firstSerial = day.Of(1899, 12, 30)
	days1904    = int(day.Of(1904, 1, 1) - firstSerial)
)

func serial(c grid.Cell) (day.Date, Finding) {
	n := int(c.Num)
	if c.Since1904 {
		n += days1904
	}
	if c.Num >= 20000 && c.Num < 80001 && !c.Time && !c.Percent {
		d := firstSerial + day.Date(n)
		return d, warn(problem.BadDate, "serial", c.Raw, "as", d.String())
	}
	n = int(c.Num)
	if y, m, dom := n/10000, n/100%100, n%100; float64(n) == c.Num && y >= 2000 && y < 2100 && real(y, m, dom) {
		d := day.Of(y, m, dom)
		return d, warn(problem.BadDate, "digits", c.Raw, "as", d.String())
	}
	return day.None, bad(problem.BadDate, "", c.Raw)
}

func (d *Day) text(s string, order Order) {
	p, ok := cutDate(s)
	if n := natural(tidy(s)); n >= 20000 && n <= 80000 {
		d.V, d.Finding = serial(grid.Cell{Raw: s, Num: float64(n)})
		return
	}
	switch {
	case tidy(s) == "":
		d.Blank = true
		return
	case !ok:
		d.Finding = bad(problem.BadDate, "", s)
		return
	case p.noYear:
		d.Finding = bad(problem.BadDate, "no-year", s)
		return
	}
	year, month, dom := p.read(order)
	switch {
	case month == 0 && order == Mixed:
		d.Finding = bad(problem.BadDate, "mixed", s)
	case month == 0:
		d.Finding = bad(problem.BadDate, "order", s)
	case year < 0:
		d.Finding = bad(problem.BadDate, "year", s)
	case !real(year, month, dom):
		d.Finding = bad(problem.BadDate, "", s)
	default:
		d.V = day.Of(year, month, dom)
	}
}

// real reports whether there is such a day.
func real(year, month, dom int) bool {
	return year >= 1900 && year <= 9999 && realMD(year, month, dom)
}

func realMD(year, month, dom int) bool {
	if month < 1 || month > 12 || dom < 1 {
		return false
	}
	_, m, n := day.Of(year, month, dom).YMD()
	return m == month && n == dom
}
