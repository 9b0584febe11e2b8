package ingest

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"pourbook/compute/book"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// column is a column of a block that was recognised as a field.
type column struct {
	field    string
	heading  string
	unit     string // from the heading, "" for none
	index    int    // into the row's cells
	sure     float64
	can      []entry // what else the heading can mean
	meant    string  // the accepted heading that a misspelt one stands for
	fraction bool    // the layout file says that it holds fractions
	style    parse.Style
	order    parse.Order
}

// match is what a row's cells mean as headings of one table.
type match struct {
	spec        *spec
	columns     []column
	doubles     [][2]column // two headings that fit one field; the second is not used
	unread      []column    // headings without a field
	nameless    []column    // columns without a heading, where one of units may stand
	missing     [][]string
	first, last int // columns, from 0
	named       bool
	forced      bool // the layout file says so
	atRow       bool // and in which row
	plan        *SheetLayout
	given       map[int]int // of a column the number of its heading in plan
	score       float64
}

func (m *match) has(field string) bool {
	return slices.ContainsFunc(m.columns, func(c column) bool { return c.field == field })
}

// full reports whether every needed field has a heading.
func (m *match) full() bool { return len(m.missing) == 0 }

// sure is 0 to 1: how certain the recognition is.
func (m *match) sure() float64 {
	if m.forced {
		return 1
	}
	sum := 0.0
	for _, c := range m.columns {
		sum += c.sure
	}
	if len(m.columns) == 0 {
		return 0
	}
	return sum / float64(len(m.columns)) / float64(1+len(m.missing))
}

// heads are a row's cells as headings.
func heads(cells []grid.Cell) []head {
	out := make([]head, len(cells))
	for i := range cells {
		if cells[i].Kind != grid.Text {
			continue
		}
		if t, f := parse.Text(cells[i]); f.None() && t != "" {
			out[i] = newHead(t)
		}
	}
	return out
}

// readAs is a row's cells from first to last as the heading row of a table.
func readAs(s *spec, row []head, first, last int) match {
	m := match{spec: s, first: first, last: last}
	before := ""
	for i := first; i <= last && i < len(row); i++ {
		if row[i].text == "" {
			m.besideUnit(before, i)
			before = ""
			continue
		}
		all, unit := words().lookUp(s.name, row[i])
		if u := s.beside[before]; u != "" && len(all) > 0 && isUnitField(s, all[0].field) && slices.Contains(unitHeadings(), row[i].whole) {
			all = []entry{{u, strong}}
		}
		before = ""
		c := column{heading: row[i].text, unit: unit, index: i}
		if len(all) == 0 {
			m.unread = append(m.unread, c)
			continue
		}
		before = all[0].field
		m.add(c, all)
	}
	m.besideUnit(before, last+1)
	m.rightDoubles()
	m.spellings(row)
	m.missing = s.lacks(m.has)
	m.rate()
	return m
}

// besideUnit notes a column without a heading right of an amount.
func (m *match) besideUnit(amount string, index int) {
	if u := m.spec.beside[amount]; u != "" {
		m.nameless = append(m.nameless, column{field: u, index: index, sure: weak, heading: amount})
	}
}

func isUnitField(s *spec, field string) bool {
	for _, u := range s.beside {
		if u == field {
			return true
		}
	}
	return false
}

// unitHeadings are headings of a unit column that do not say of what.
var unitHeadings = sync.OnceValue(func() []string { return normals("read.unit-headings") })

// add takes a column in, for the first of the fields that it can mean. Of two
// headings for one field the surer has it; the other takes its next field where
// that is free, else it is kept to be named in a problem.
func (m *match) add(c column, can []entry) {
	c.field, c.sure, c.can = can[0].field, can[0].sure, can[1:]
	i := slices.IndexFunc(m.columns, func(o column) bool { return o.field == c.field })
	if i < 0 {
		m.columns = append(m.columns, c)
		return
	}
	old := m.columns[i]
	if c.sure > old.sure || c.sure == old.sure && m.free(c) == nil && m.free(old) != nil {
		c, m.columns[i] = old, c
	}
	if next := m.free(c); next != nil {
		m.add(c, next)
		return
	}
	m.doubles = append(m.doubles, [2]column{m.columns[i], c})
}

// rightDoubles names in each double the column that has the field in the end: a
// later heading may have taken it.
func (m *match) rightDoubles() {
	for i, d := range m.doubles {
		if k := slices.IndexFunc(m.columns, func(c column) bool { return c.field == d[1].field }); k >= 0 {
			m.doubles[i][0] = m.columns[k]
		}
	}
}

// free is what else a column can mean, from the first field that no column has.
func (m *match) free(c column) []entry {
	i := slices.IndexFunc(c.can, func(e entry) bool { return !m.has(e.field) })
	if i < 0 {
		return nil
	}
	return c.can[i:]
}

// spellings looks among the headings that were not understood for misspelt
// ones, when another was understood.
func (m *match) spellings(row []head) {
	if len(m.columns) == 0 {
		return
	}
	left := m.unread[:0]
	for _, c := range m.unread {
		e, meant := words().misspelling(m.spec.name, row[c.index], m.has)
		if e.field == "" {
			left = append(left, c)
			continue
		}
		c.field, c.sure, c.unit, c.meant = e.field, e.sure, row[c.index].unit, meant
		m.columns = append(m.columns, c)
	}
	m.unread = left
}

// rate scores a match: what was understood, less what was not and what is missing.
func (m *match) rate() {
	m.score = 0
	for _, c := range m.columns {
		m.score += c.sure
	}
	m.score -= 0.3*float64(len(m.unread)) + 0.3*float64(len(m.doubles)) + 1.5*float64(len(m.missing))
}

// credible reports whether a match is good enough to be a heading row.
func (m *match) credible() bool {
	n, all := len(m.columns), len(m.columns)+len(m.unread)+len(m.doubles)
	strongest := 0
	for _, c := range m.columns {
		if c.sure >= strong {
			strongest++
		}
	}
	switch {
	case m.forced:
		return true
	case n < 2 && !(m.named && n == 1 && all <= 3 && m.spec.name != book.TSettings):
		return false
	case m.full() && strongest == n:
		return true
	case m.full() && m.named:
		return true
	case m.full():
		return strongest > 0 && (n > 2 || all == 2 && m.score >= 1.9) && 2*n >= all
	case m.named:
		return 2*n >= all && n > len(m.missing)-1 || strongest >= 3
	}
	return m.nearly()
}

// nearly reports whether a match lacks one needed field, and is else as sure as
// a full one.
func (m *match) nearly() bool {
	n, strongest := len(m.columns), 0
	for _, c := range m.columns {
		if c.sure >= strong {
			strongest++
		}
	}
	return len(m.missing) == 1 && strongest >= 3 && 5*n >= 3*(n+len(m.unread)+len(m.doubles))
}

// candidates are the tables that a row can be the heading row of, the best
// first. names are the sheet's name and the title above.
func candidates(names []string, row []head, first, last int) []match {
	var out []match
	most, longest := 0, map[book.TableName]int{}
	for i := range specs {
		for k, n := range names {
			l := words().sheetNames(n, specs[i].name) * 2
			if l > 0 && k > 0 {
				l++ // a title is nearer than the sheet's name
			}
			longest[specs[i].name] = max(longest[specs[i].name], l)
		}
		most = max(most, longest[specs[i].name])
	}
	for i := range specs {
		m := readAs(&specs[i], row, first, last)
		if l := longest[m.spec.name]; l > 0 {
			m.named = true
			m.score += 0.75
			if l == most {
				m.score += 0.75
			}
		}
		if m.credible() {
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(a, b match) int { return cmp.Compare(b.score, a.score) })
	return out
}

// understood are the tables that have all they need in a segment in which every
// heading is known, one of them surely: beside another table that is enough.
func understood(row []head, s segment) []match {
	var out []match
	for i := range specs {
		m := readAs(&specs[i], row, s.first, s.last)
		sure := slices.ContainsFunc(m.columns, func(c column) bool { return c.sure >= strong })
		if sure && m.full() && len(m.unread)+len(m.doubles) == 0 {
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(a, b match) int { return cmp.Compare(b.score, a.score) })
	return out
}

// lead is by how much the best table has to be ahead to be taken at once.
const lead = 0.45

// rivals are the candidates that come near the best one.
func rivals(all []match) []match {
	var out []match
	for _, m := range all {
		if m.score > all[0].score-lead && (m.full() || !all[0].full()) {
			out = append(out, m)
		}
	}
	return out
}

// segment is a run of cells without a blank one between them.
type segment struct{ first, last int }

func segments(cells []grid.Cell) []segment {
	var out []segment
	for i := range cells {
		if parse.Blank(cells[i]) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].last == i-1 {
			out[n-1].last = i
		} else {
			out = append(out, segment{i, i})
		}
	}
	return out
}

// looksLikeData reports whether a cell holds what stands in rows, not in headings.
func looksLikeData(c grid.Cell) bool {
	switch c.Kind {
	case grid.Blank:
		return false
	case grid.Text:
		t := strings.TrimLeft(c.Raw, " $€£-+(")
		return t != "" && t[0] >= '0' && t[0] <= '9'
	}
	return true
}
