package parse

import "pourbook/ingest/grid"

// Order is which of the two small numbers of "3/4/2026" is the day.
type Order uint8

// The orders. Mixed is a column in which neither reading fits every cell.
const (
	OrderUnknown Order = iota
	DayFirst
	MonthFirst
	Mixed
)

// DateEvidence gathers over a column's cells in which order its dates are
// written: a day above 12 shows it. The zero value is ready.
type DateEvidence struct {
	dayFirst, monthFirst bool // some cell shows it
}

// Look takes in a cell.
func (e *DateEvidence) Look(c grid.Cell) {
	if c.Kind != grid.Text {
		return
	}
	p, ok := cutDate(c.Raw)
	if !ok || p.sure {
		return
	}
	year := p.year
	switch {
	case p.noYear:
		year = 2000
	case p.shortYear:
		year = century(p.year)
	}
	day, month := realMD(year, p.b, p.a), realMD(year, p.a, p.b)
	e.dayFirst = e.dayFirst || day && !month
	e.monthFirst = e.monthFirst || month && !day
}

// Order is what the column shows.
func (e *DateEvidence) Order() Order {
	switch {
	case e.dayFirst && e.monthFirst:
		return Mixed
	case e.dayFirst:
		return DayFirst
	case e.monthFirst:
		return MonthFirst
	}
	return OrderUnknown
}
