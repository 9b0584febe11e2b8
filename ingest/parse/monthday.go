package parse

import (
	"strings"

	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// YearDay is a day of any year read from a cell, such as a season's first.
type YearDay struct {
	V       day.MonthDay
	Raw     string
	Blank   bool
	Finding Finding
}

// OK reports whether there is a usable day.
func (d YearDay) OK() bool { return !d.Blank && !d.Finding.Bad() }

// MonthDay is the day as a value of the book.
func (d YearDay) MonthDay(at cell.Ref) cell.Of[day.MonthDay] {
	c := cell.Of[day.MonthDay]{Raw: d.Raw, At: at, State: cell.Typed}
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

// MonthDayIn reads "12-01" (month, then day), a date of any year, "Dec 1", and
// "12/1" where order tells which is the day.
func MonthDayIn(c grid.Cell, order Order) YearDay {
	d := YearDay{Raw: strings.TrimSpace(c.Raw)}
	if c.Kind == grid.Text {
		d.text(c.Raw, order)
		return d
	}
	full := DateIn(c, order)
	d.Blank, d.Finding = full.Blank, full.Finding
	if full.OK() {
		d.V = full.V.MD()
	}
	return d
}

func (d *YearDay) text(s string, order Order) {
	t := tidy(s)
	if t == "" {
		d.Blank = true
		return
	}
	p, ok := cutDate(t)
	if !ok {
		d.Finding = bad(problem.BadDate, "season", s)
		return
	}
	if !p.sure && p.noYear && strings.Contains(t, "-") {
		order = MonthFirst
	}
	_, month, dom := p.read(order)
	switch {
	case month == 0 && order == Mixed:
		d.Finding = bad(problem.BadDate, "mixed", s)
	case month == 0:
		d.Finding = bad(problem.BadDate, "order", s)
	case !realMD(2000, month, dom):
		d.Finding = bad(problem.BadDate, "season", s)
	default:
		d.V = day.MonthDay(month*100 + dom)
	}
}
