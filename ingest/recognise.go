package ingest

import (
	"strings"
	"sync"
	"unicode"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
	"pourbook/templates"
)

// column is a column of a block that was recognised as a field.
type column struct {
	field   string
	heading string
	unit    string // from the heading, "" for none
	index   int    // into the row's cells
	style   parse.Style
	order   parse.Order
}

// block is a table as it was found: its heading row and the rows below.
type block struct {
	table   book.TableName
	sheet   string
	head    cell.Ref
	columns []column
	unread  []book.Field
	rows    []record
	score   float64
}

// record is a row of a block; cells is in the order of the sheet's columns.
type record struct {
	n      int
	hidden bool
	cells  []grid.Cell
}

// normal is a heading or a name as it is compared: letters and digits only, a
// few signs spelled out.
func normal(s string) string {
	s = strings.NewReplacer("%", " percent ", "#", " number ", "&", " and ", "colour", "color").Replace(strings.ToLower(s))
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), " ")
}

// accepted maps a table's accepted headings to its fields.
var accepted = sync.OnceValue(func() map[book.TableName]map[string]string {
	out := map[book.TableName]map[string]string{}
	for _, t := range tables {
		m := map[string]string{}
		for _, f := range t.fields {
			m[normal(f.name)] = f.name
			for _, h := range templates.List("heading." + string(t.name) + "." + f.name) {
				if _, own := m[normal(h)]; !own {
					m[normal(h)] = f.name
				}
			}
		}
		out[t.name] = m
	}
	return out
})

// match is what a row's cells mean as headings of one table.
type match struct {
	table   book.TableName
	columns []column
	double  [2]column // two headings that fit one field
	full    bool      // every needed field has a heading
	score   float64
}

// readAs is a row as the heading row of a table.
func readAs(t int, row grid.Row) match {
	def := tables[t]
	m := match{table: def.name}
	seen := map[string]int{}
	texts := 0
	for i, c := range row.Cells {
		if c.Kind != grid.Text || strings.TrimSpace(c.Raw) == "" {
			continue
		}
		texts++
		field, unit := fieldOf(def.name, c.Raw)
		if field == "" {
			continue
		}
		col := column{field: field, heading: strings.TrimSpace(c.Raw), unit: unit, index: i}
		if at, twice := seen[field]; twice {
			m.settle(at, col)
			continue
		}
		seen[field] = len(m.columns)
		m.columns = append(m.columns, col)
	}
	m.full = complete(t, seen)
	if texts > 0 {
		m.score = float64(len(m.columns)) + float64(len(m.columns))/float64(texts)
	}
	return m
}

// settle decides between two headings of one field: the field's own name wins,
// else the problem names both.
func (m *match) settle(at int, col column) {
	old := m.columns[at]
	own := func(c column) bool {
		return normal(parse.SplitHeading(c.heading).Name) == normal(c.field) || normal(c.heading) == normal(c.field)
	}
	switch {
	case own(old) && !own(col):
	case own(col) && !own(old):
		m.columns[at] = col
	default:
		m.double = [2]column{old, col}
	}
}

// fieldOf is the field that a heading names in a table, and the unit in it.
func fieldOf(t book.TableName, heading string) (field, unit string) {
	names := accepted()[t]
	if f, ok := names[normal(heading)]; ok {
		return f, ""
	}
	h := parse.SplitHeading(heading)
	if f, ok := names[normal(h.Name)]; ok {
		return f, h.Unit
	}
	return "", ""
}

func complete(t int, seen map[string]int) bool {
	for _, f := range tables[t].fields {
		if _, ok := seen[f.name]; f.must && !ok {
			return false
		}
	}
	for _, names := range tables[t].either {
		found := false
		for _, n := range names {
			_, ok := seen[n]
			found = found || ok
		}
		if !found {
			return false
		}
	}
	return true
}

// headings is the table whose heading row this is; false when it is none. Of
// several that fit, the one that the sheet is named after wins, then the one
// that understands more of the row.
func headings(sheet string, row grid.Row) (match, bool) {
	var best match
	bestRank := 0.0
	for t := range tables {
		m := readAs(t, row)
		named := namedAfter(sheet, m.table)
		if len(m.columns) < 2 || !m.full && !(named && len(m.columns) >= 2 && m.score > float64(len(m.columns))+0.5) {
			continue
		}
		rank := m.score
		if named {
			rank += 100
		}
		if m.full {
			rank += 10
		}
		if rank > bestRank {
			best, bestRank = m, rank
		}
	}
	return best, bestRank > 0
}

// namedAfter reports whether a sheet's name says a table's.
func namedAfter(sheet string, t book.TableName) bool {
	s, n := normal(sheet), normal(string(t))
	return s == n || strings.TrimSuffix(s, "s") == strings.TrimSuffix(n, "s")
}

// find cuts a sheet into its blocks.
func (r *reader) find(s *grid.Sheet) error {
	var at *block
	content := false
	err := s.Each(func(row grid.Row) error {
		if blank(row) {
			return nil
		}
		content = true
		if m, ok := headings(s.Name, row); ok && (at == nil || m.table != at.table || m.full) && !looksLikeData(at, row) {
			if at != nil && m.table == at.table && sameColumns(at.columns, m.columns) {
				return nil
			}
			at = r.start(s, row, m)
			return nil
		}
		if at != nil {
			at.rows = append(at.rows, record{row.N, row.Hidden, append([]grid.Cell(nil), row.Cells...)})
		}
		return nil
	})
	if err != nil {
		return err
	}
	if content && at == nil {
		r.add(problem.Problem{Severity: problem.Note, Code: problem.UnreadSheet, At: cell.Ref{Sheet: s.Name}, Args: []any{"sheet", s.Name}})
	}
	if s.Hidden && at != nil {
		r.add(problem.Problem{Severity: problem.Note, Code: problem.HiddenRow, Say: "sheet", At: cell.Ref{Sheet: s.Name}})
	}
	return nil
}

// looksLikeData reports whether a row holds numbers or dates where headings
// would stand.
func looksLikeData(_ *block, row grid.Row) bool {
	for _, c := range row.Cells {
		if c.Kind == grid.Date || c.Kind == grid.Number {
			return true
		}
	}
	return false
}

func sameColumns(a, b []column) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].field != b[i].field || a[i].index != b[i].index {
			return false
		}
	}
	return true
}

func blank(row grid.Row) bool {
	for _, c := range row.Cells {
		if !parse.Blank(c) {
			return false
		}
	}
	return true
}

// start opens a block below a heading row.
func (r *reader) start(s *grid.Sheet, row grid.Row, m match) *block {
	b := &block{table: m.table, sheet: s.Name, columns: m.columns, score: m.score}
	for i, c := range row.Cells {
		if c.Kind == grid.Text && strings.TrimSpace(c.Raw) != "" {
			if b.head.None() {
				b.head = cell.Ref{Sheet: s.Name, Row: row.N, Col: i + 1}
			}
			if f, _ := fieldOf(m.table, c.Raw); f == "" {
				b.unread = append(b.unread, book.Field{Heading: strings.TrimSpace(c.Raw), At: cell.Ref{Sheet: s.Name, Row: row.N, Col: i + 1}})
			}
		}
	}
	if m.double[0].field != "" {
		at := func(c column) cell.Ref { return cell.Ref{Sheet: s.Name, Row: row.N, Col: c.index + 1} }
		r.add(problem.Problem{
			Severity: problem.Error, Code: problem.AmbiguousHeading, At: at(m.double[1]), Other: at(m.double[0]),
			Args: []any{"field", m.double[0].field, "one", m.double[0].heading, "two", m.double[1].heading},
		})
	}
	if !m.full {
		r.missingFields(b)
	}
	r.blocks = append(r.blocks, b)
	return b
}

// missingFields says which needed columns a block lacks.
func (r *reader) missingFields(b *block) {
	seen := map[string]int{}
	for i, c := range b.columns {
		seen[c.field] = i
	}
	for _, t := range tables {
		if t.name != b.table {
			continue
		}
		for _, f := range t.fields {
			if _, ok := seen[f.name]; f.must && !ok {
				r.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "column", At: b.head,
					Args: []any{"table", string(b.table), "field", f.name}})
			}
		}
		for _, names := range t.either {
			found := false
			for _, n := range names {
				_, ok := seen[n]
				found = found || ok
			}
			if !found {
				r.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "column", At: b.head,
					Args: []any{"table", string(b.table), "field", strings.Join(names, " / ")}})
			}
		}
	}
}
