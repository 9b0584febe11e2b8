package ingest

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// dateFields hold days.
var dateFields = []string{"date", "from", "to"}

// What is looked at to tell whether a column holds days: so many of its filled
// cells, in so many rows.
const (
	daysSeen = 5
	rowsSeen = 20
)

// dubious reports whether a column stands under a heading that could only
// weakly be its field, which holds no days.
func (c *column) dubious() bool {
	return c.sure <= weak && !slices.Contains(dateFields, c.field) && !slices.Contains(idle, c.field)
}

// unsettled reports whether the rows of a block do not tell yet which of its
// columns hold days or names.
func (b *block) unsettled() bool {
	return len(b.rows) < rowsSeen && b.doubt(func(c column) bool { return len(b.filled(c.index)) < daysSeen })
}

// doubt reports whether a dubious column has a quality.
func (b *block) doubt(has func(column) bool) bool {
	if b.spec.name == book.TSettings {
		return false
	}
	dubious := func(c column) bool { return (c.dubious() || b.maybeNames(c)) && has(c) }
	return slices.ContainsFunc(b.columns, dubious) || slices.ContainsFunc(b.doubles, func(d [2]column) bool { return dubious(d[1]) })
}

// filled are the first filled cells of a column.
func (b *block) filled(index int) []grid.Cell {
	var out []grid.Cell
	for i := range b.rows[:min(len(b.rows), rowsSeen)] {
		if c := b.rows[i].cell(index); !parse.Blank(*c) && len(out) < daysSeen {
			out = append(out, *c)
		}
	}
	return out
}

// holdsDays reports whether most of the first filled cells of a column are days.
func (b *block) holdsDays(index int) bool {
	days, all := 0, b.filled(index)
	for _, c := range all {
		if isDay(c) {
			days++
		}
	}
	return 2*days > len(all)
}

// dated takes from a field of another kind a column under a heading that could
// only weakly be that field, where the first rows hold dates. Where the table
// has no date and only one column is such, the column is the date.
func (r *reader) dated(b *block) {
	if b.spec.name == book.TSettings {
		return
	}
	var days []column
	doubtful := func(c column) bool { return c.dubious() && b.holdsDays(c.index) }
	b.columns = slices.DeleteFunc(b.columns, func(c column) bool {
		if !doubtful(c) {
			return false
		}
		days = append(days, c)
		return true
	})
	b.doubles = slices.DeleteFunc(b.doubles, func(d [2]column) bool {
		if !doubtful(d[1]) || !b.has(d[1].field) {
			return false
		}
		days = append(days, d[1])
		return true
	})
	r.instead(b, days, "date", "dated")
}

// instead makes the only column that was taken from other fields the needed field
// that the table lacks; several, or one that it has, are not read.
func (r *reader) instead(b *block, taken []column, field, say string) {
	if len(taken) == 0 {
		return
	}
	if len(taken) == 1 && slices.Contains(b.spec.must, field) && !b.has(field) {
		c := taken[0]
		c.field, c.unit, c.meant = field, "", ""
		b.columns = append(b.columns, c)
		r.add(problem.Problem{
			Severity: problem.Note, Code: problem.AmbiguousHeading, Say: say, At: b.at(b.head.Row, c.index),
			Args: []any{"heading", c.heading, "field", c.field, "table", string(b.spec.name)},
		})
	} else {
		for _, c := range taken {
			c.field, c.meant = "", ""
			b.unread = append(b.unread, c)
		}
	}
	b.missing = b.spec.lacks(b.has)
}

// isDay reports whether a cell holds a day, and cannot be anything else; which
// of 3/4 is the month does not matter.
func isDay(c grid.Cell) bool {
	switch c.Kind {
	case grid.Date:
		return true
	case grid.Text:
		return slices.ContainsFunc([]parse.Order{parse.DayFirst, parse.MonthFirst}, func(o parse.Order) bool {
			d := parse.DateIn(c, o)
			return d.OK() && d.Finding.None()
		})
	}
	return false
}

// spare are the headings of a block that are not used for a field: those that
// mean none, and those that lost to another, in the order of their columns.
func (b *block) spare() []column {
	out := slices.Clone(b.unread)
	for _, d := range b.doubles {
		for _, c := range d {
			used := func(o column) bool { return o.index == c.index }
			if !slices.ContainsFunc(b.columns, used) && !slices.ContainsFunc(out, used) {
				out = append(out, c)
			}
		}
	}
	slices.SortFunc(out, func(a, c column) int { return a.index - c.index })
	return out
}
