package parse

import (
	"strings"

	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// MonthDayIn reads "12-01" (month, then day), a date of any year, "Dec 1", and
// "12/1" where order tells which is the day.
func MonthDayIn(c grid.Cell, order Order) YearDay {
	d := YearDay{read[day.MonthDay]{Raw: strings.TrimSpace(c.Raw)}}
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
