package ingest

import (
	"maps"
	"slices"

	"pourbook/compute/book"
	"pourbook/ingest/grid"
)

// opening is a table that the layout says begins in a row, or columns of which
// it says that they are none.
type opening struct {
	*SheetLayout
	match
}

// planned are the tables that the layout says begin in a row: one that has its
// rows for itself, or those that stand side by side.
func (w *walker) planned(row grid.Row) []opening {
	var out []opening
	for _, p := range w.plan {
		if p.used || w.places[p] != row.N {
			continue
		}
		p.used = true
		if p.To == 0 && len(out) > 0 {
			continue
		}
		m := match{}
		if p.Table != None {
			m = w.readPlan(p, w.headsOf(row))
			m.atRow = p.Row > 0
		}
		out = append(out, opening{p, m})
	}
	return out
}

// begins reports whether a table of the layout begins in a row.
func (w *walker) begins(row int) bool {
	return slices.ContainsFunc(w.plan, func(p *SheetLayout) bool { return !p.used && w.places[p] == row })
}

// readPlan is a row as the heading row of a table of the layout. The heads of
// other columns than the table's are not looked at.
func (w *walker) readPlan(p *SheetLayout, row []head) match {
	return readWith(specOf(book.TableName(p.Table)), p.within(row), max(p.From-1, 0), p.reach(len(row)), p)
}

// begin opens the tables that the layout says begin in a row. What stands
// beside them goes its own way.
func (w *walker) begin(row grid.Row, all []opening) {
	w.titles = nil
	if all[0].To == 0 {
		w.title, w.single = "", nil
		if all[0].Table == None {
			w.open = nil
		} else {
			w.start(row, []match{all[0].match})
		}
		return
	}
	if w.single != nil {
		at, _ := lonely(w.single.Cells)
		if slices.ContainsFunc(all, func(o opening) bool { return o.From <= at+1 && at < o.To }) {
			w.single = nil // their title
		}
	}
	w.flush()
	rest := row
	rest.Cells = slices.Clone(row.Cells)
	for _, o := range all {
		clear(rest.Cells[min(o.From-1, len(rest.Cells)):min(o.To, len(rest.Cells))])
		w.open = slices.DeleteFunc(w.open, func(b *block) bool { return b.first < o.To && o.From <= b.last+1 })
	}
	for _, o := range all {
		if o.Table != None {
			w.start(row, []match{o.match})
		}
	}
	if _, empty := lonely(rest.Cells); !empty && !w.recognize(rest) {
		w.dispatch(rest)
	}
}

// readWith is readAs with the layout's headings before the accepted ones.
func readWith(s *spec, row []head, first, last int, p *SheetLayout) match {
	m := match{spec: s, first: first, last: last, forced: true, plan: p, given: p.assign(row)}
	maps.DeleteFunc(m.given, func(_, k int) bool { return p.Headings[k].Field == Open })
	rest := slices.Clone(row)
	for i := first; i <= last && i < len(row); i++ {
		if k, ok := m.given[i]; ok {
			rest[i] = head{}
			m.addGiven(column{heading: row[i].text, unit: row[i].unit, index: i, sure: ownName, field: p.Headings[k].Field})
		}
	}
	said := slices.Clone(m.columns)
	other := readAs(s, rest, first, last)
	for _, c := range other.columns {
		if m.has(c.field) {
			c.field = ""
			m.unread = append(m.unread, c)
			continue
		}
		m.columns = append(m.columns, c)
	}
	for _, d := range other.doubles {
		if !slices.ContainsFunc(said, func(c column) bool { return c.field == d[0].field }) {
			m.doubles = append(m.doubles, d)
		}
	}
	m.unread = append(m.unread, other.unread...)
	m.nameless = slices.DeleteFunc(other.nameless, func(c column) bool { _, ok := m.given[c.index]; return ok })
	fractions := claims(p.Fractions, row)
	for i := range m.columns {
		_, m.columns[i].fraction = fractions[m.columns[i].index]
	}
	m.missing = s.lacks(m.has)
	m.rate()
	return m
}

// addGiven takes in a column of which the layout says what it is. A second one
// for a field is kept to be named; of two with one heading the left is used.
func (m *match) addGiven(c column) {
	i := slices.IndexFunc(m.columns, func(o column) bool { return o.field == c.field })
	switch {
	case c.field == None:
		c.field = ""
		m.unread = append(m.unread, c)
	case i < 0:
		m.columns = append(m.columns, c)
	default:
		if c.heading == m.columns[i].heading {
			c.sure = strong
		}
		m.doubles = append(m.doubles, [2]column{m.columns[i], c})
	}
}
