package ingest

import (
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
		if p.used || p.Row > 0 && p.Row != row.N || p.To == 0 && len(out) > 0 {
			continue
		}
		m, ok := w.opens(p, row)
		if !ok {
			continue
		}
		p.used = true
		if out = append(out, opening{p, m}); p.To == 0 {
			break
		}
	}
	return out
}

// opens reports whether a table of the layout begins in a row.
func (w *walker) opens(p *SheetLayout, row grid.Row) (match, bool) {
	if p.Table == None {
		return match{}, p.Row == row.N
	}
	s := specOf(book.TableName(p.Table))
	if s == nil {
		return match{}, false
	}
	texts := w.headsOf(row)
	first, last := 0, len(texts)-1
	if p.To > 0 {
		first, last = p.From-1, min(p.To-1, last)
		for i := range texts {
			if i < first || i > last {
				texts[i] = head{}
			}
		}
	}
	m := readWith(s, texts, first, last, p)
	if p.Row == 0 && (len(m.columns) == 0 || !p.found(texts) || len(m.columns) == 1 && len(m.unread) > 0) {
		return match{}, false
	}
	m.forced, m.atRow = true, p.Row > 0
	return m, true
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
	given := map[int]string{}
	rest := slices.Clone(row)
	m := match{spec: s, first: first, last: last, forced: true}
	for i := first; i <= last && i < len(row); i++ {
		f, ok := p.field(row[i].text)
		if row[i].text == "" || !ok {
			continue
		}
		given[i] = f
		rest[i] = head{}
		c := column{heading: row[i].text, unit: row[i].unit, index: i, sure: 1, field: f}
		if f == None {
			c.field = ""
			m.unread = append(m.unread, c)
			continue
		}
		m.columns = append(m.columns, c)
	}
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
		if !slices.Contains(mapValues(given), d[0].field) {
			m.doubles = append(m.doubles, d)
		}
	}
	m.unread = append(m.unread, other.unread...)
	m.nameless = slices.DeleteFunc(other.nameless, func(c column) bool { _, ok := given[c.index]; return ok })
	for i := range m.columns {
		m.columns[i].fraction = p.fraction(m.columns[i].heading)
	}
	m.missing = s.lacks(m.has)
	m.rate()
	return m
}
