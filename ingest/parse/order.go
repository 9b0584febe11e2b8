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
	// Of texts with a year of two digits: the first and last numbers met, and
	// whether others were met too.
	short                   bool
	first, last             int
	firstVaries, lastVaries bool
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
		e.lookShort(p)
	}
	day, month := realMD(year, p.b, p.a), realMD(year, p.a, p.b)
	e.dayFirst = e.dayFirst || day && !month
	e.monthFirst = e.monthFirst || month && !day
}

func (e *DateEvidence) lookShort(p dateParts) {
	if !e.short {
		e.short, e.first, e.last = true, p.a, p.year
	}
	e.firstVaries = e.firstVaries || p.a != e.first
	e.lastVaries = e.lastVaries || p.year != e.last
}

// yearFirst reports a column such as 26/10/05, 26/10/17: what stands still is
// the year, though it could be read as a day.
func (e *DateEvidence) yearFirst() bool {
	return e.short && e.first > 12 && !e.firstVaries && e.lastVaries
}

// Order is what the column shows.
func (e *DateEvidence) Order() Order {
	switch {
	case e.dayFirst && e.monthFirst, e.yearFirst():
		return Mixed
	case e.dayFirst:
		return DayFirst
	case e.monthFirst:
		return MonthFirst
	}
	return OrderUnknown
}
