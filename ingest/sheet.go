package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// walker cuts a sheet into blocks while its rows come by.
type walker struct {
	*reader
	sheet  *grid.Sheet
	label  string // the sheet's name in places
	extra  bool   // only sales are wanted
	plan   []*SheetLayout
	open   []*block
	title  string
	single *grid.Row // a row of a single text: a title, or a row of the open block
	merges map[int][][2]cell.Ref
	carry  []carriedCell
	known  map[string]bool
	filled bool
	found  int
	guess  *unknownTable // the first row of texts, where nothing was recognised
}

// carriedCell is the value of a merged area, for the rows that it covers.
type carriedCell struct {
	index, until int
	cell         grid.Cell
}

// find cuts a sheet into its blocks.
func (r *reader) find(s *grid.Sheet, label string, extra bool) error {
	w := &walker{reader: r, sheet: s, label: label, extra: extra, known: map[string]bool{}, merges: map[int][][2]cell.Ref{}}
	if w.plan = r.layout.of(s.Name); ignored(w.plan) {
		return nil
	}
	for _, m := range s.Merged {
		if m[1].Row > m[0].Row {
			w.merges[m[0].Row] = append(w.merges[m[0].Row], m)
		}
	}
	if err := s.Each(w.row); err != nil {
		return err
	}
	w.flush()
	switch {
	case !w.filled:
	case w.found == 0:
		r.add(problem.Problem{Severity: problem.Note, Code: problem.UnreadSheet, At: cell.Ref{Sheet: label}, Args: []any{"sheet", s.Name}})
		if w.guess != nil && !extra {
			r.strange = append(r.strange, *w.guess)
		}
	case s.Hidden:
		r.add(problem.Problem{Severity: problem.Note, Code: problem.HiddenRow, Say: "sheet", At: cell.Ref{Sheet: label}, Args: []any{"sheet", s.Name}})
	}
	return nil
}

// row takes in a row of the sheet.
func (w *walker) row(row grid.Row) error {
	if w.n++; w.n%4096 == 0 && w.ctx.Err() != nil {
		return w.ctx.Err()
	}
	lone, empty := lonely(row.Cells)
	if empty {
		return nil
	}
	w.filled = true
	if lone >= 0 && row.Cells[lone].Kind == grid.Text && !slices.ContainsFunc(w.plan, func(p *SheetLayout) bool { return p.Row == row.N }) {
		w.flush()
		w.single = &grid.Row{N: row.N, Hidden: row.Hidden, Cells: slices.Clone(row.Cells)}
		return nil
	}
	if w.headings(row) {
		return nil
	}
	w.flush()
	w.dispatch(row)
	if w.guess == nil && w.found == 0 {
		w.guess = guess(w.label, row)
	}
	return nil
}

// guess takes a row of two or more texts and nothing else for headings.
func guess(sheet string, row grid.Row) *unknownTable {
	u := unknownTable{At: cell.Ref{Sheet: sheet, Row: row.N}}
	for i := range row.Cells {
		c := &row.Cells[i]
		if blank(c) {
			continue
		}
		if looksLikeData(*c) {
			return nil
		}
		if u.At.Col == 0 {
			u.At.Col = i + 1
		}
		u.headings = append(u.headings, shortened(c.Raw))
	}
	if len(u.headings) < 2 {
		return nil
	}
	return &u
}

// lonely is the only filled cell of a row, -1 when there are more.
func lonely(cells []grid.Cell) (at int, empty bool) {
	at = -1
	for i := range cells {
		if blank(&cells[i]) {
			continue
		}
		if at >= 0 {
			return -1, false
		}
		at = i
	}
	return at, at < 0
}

// flush gives a single text to the open block that it stands in: no heading
// row followed, so it was no title.
func (w *walker) flush() {
	if w.single == nil {
		return
	}
	row := *w.single
	w.single = nil
	at, _ := lonely(row.Cells)
	w.title = row.Cells[at].Raw
	if b := w.blockAt(at); b != nil && !w.remark(b, row, at) {
		w.dispatch(row)
	}
}

// remark reports whether a row of a single text is no row of the table: it is
// not where the table's names stand, or a table with more needed fields has
// nothing else in the row.
func (w *walker) remark(b *block, row grid.Row, at int) bool {
	if w.carries(row.N) {
		return false
	}
	i := slices.IndexFunc(b.columns, func(c column) bool { return c.index == at })
	if i >= 0 && len(b.spec.must)+len(b.spec.any) < 3 {
		return false
	}
	if starts, _ := saysTotal(row.Cells[at].Raw); !starts {
		w.add(problem.Problem{
			Severity: problem.Note, Code: problem.UnreadSheet, Say: "remark", At: b.at(row.N, at),
			Args: []any{"read", shortened(row.Cells[at].Raw)},
		})
	}
	return true
}

func (w *walker) blockAt(index int) *block {
	for _, b := range w.open {
		if index >= b.first && index <= b.last {
			return b
		}
	}
	return nil
}

// dispatch gives a row's cells to the blocks that they stand in.
func (w *walker) dispatch(row grid.Row) {
	row.Cells = w.merged(row)
	for _, b := range w.open {
		empty := true
		for i := b.first; i <= b.last && i < len(row.Cells); i++ {
			if !blank(&row.Cells[i]) {
				empty = false
				break
			}
		}
		if !empty {
			w.take(b, row)
		}
	}
}

// merged fills the cells of merged areas that cover several rows.
func (w *walker) merged(row grid.Row) []grid.Cell {
	cells := row.Cells
	if len(w.carry) > 0 {
		w.carry = slices.DeleteFunc(w.carry, func(c carriedCell) bool { return c.until < row.N })
		for _, c := range w.carry {
			for len(cells) <= c.index {
				cells = append(cells, grid.Cell{})
			}
			if b := w.blockAt(c.index); b != nil && blank(&cells[c.index]) && b.carries(c.index) {
				cells[c.index] = c.cell
			}
		}
	}
	for _, m := range w.merges[row.N] {
		if i := m[0].Col - 1; i < len(cells) {
			w.carry = append(w.carry, carriedCell{i, m[1].Row, cells[i]})
		}
	}
	return cells
}

func (w *walker) carries(row int) bool {
	return slices.ContainsFunc(w.carry, func(c carriedCell) bool { return c.until >= row })
}

func (b *block) carries(index int) bool {
	return slices.ContainsFunc(b.columns, func(c column) bool { return c.index == index && slices.Contains(carried, c.field) })
}

// headings looks whether a row is the heading row of one table or of several
// side by side, and opens them.
func (w *walker) headings(row grid.Row) bool {
	if p, m, ok := w.planned(row); ok {
		w.title, w.single = "", nil
		if p.Table == None {
			w.open = nil
		} else {
			w.start(row, []match{m})
		}
		return true
	}
	if !w.mayBeHeadings(row) {
		return w.beside(row)
	}
	all := heads(row.Cells)
	whole := candidates(w.names(), all, 0, len(all)-1)
	if parts := w.sideBySide(row, all); len(parts) > 1 && (len(whole) == 0 || total(parts) > whole[0].score+1) {
		for _, p := range parts {
			w.start(row, p)
		}
		return true
	}
	if len(whole) == 0 || len(w.open) > 0 && !whole[0].full() && !whole[0].named && len(whole[0].columns) < 3 {
		return false
	}
	w.start(row, whole)
	return true
}

func total(parts [][]match) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p[0].score
	}
	return sum
}

// sideBySide are the tables that a row's segments are the headings of, when
// every segment of two or more cells is.
func (w *walker) sideBySide(row grid.Row, texts []head) [][]match {
	var out [][]match
	parts := segments(row.Cells)
	if len(parts) < 2 {
		return nil
	}
	for _, s := range parts {
		if s.first == s.last {
			continue
		}
		all := candidates(w.names(), texts, s.first, s.last)
		if len(all) == 0 || !all[0].full() {
			return nil
		}
		out = append(out, all)
	}
	return out
}

// beside opens a table whose heading row starts right of the open ones, in a
// row of theirs.
func (w *walker) beside(row grid.Row) bool {
	if len(w.open) == 0 || !w.besideOpen(row) {
		return false
	}
	opened := false
	for _, s := range segments(row.Cells) {
		free := true
		for i := s.first; i <= s.last; i++ {
			free = free && w.blockAt(i) == nil && row.Cells[i].Kind == grid.Text
		}
		if !free || s.last == s.first {
			continue
		}
		if all := candidates(w.names(), heads(row.Cells), s.first, s.last); len(all) > 0 && all[0].full() {
			w.flush()
			w.dispatch(row)
			w.start(row, all)
			opened = true
		}
	}
	return opened
}

// besideOpen reports whether a text stands outside the open blocks.
func (w *walker) besideOpen(row grid.Row) bool {
	for i := range row.Cells {
		if row.Cells[i].Kind == grid.Text && w.blockAt(i) == nil {
			return true
		}
	}
	return false
}

// names are what the sheet and the nearest title say.
func (w *walker) names() []string {
	out := []string{w.sheet.Name}
	title := w.title
	if w.single != nil {
		at, _ := lonely(w.single.Cells)
		title = w.single.Cells[at].Raw
	}
	if title != "" && len(strings.Fields(title)) <= 5 {
		out = append(out, title)
	}
	return out
}

// mayBeHeadings is a quick look: texts only where a block is open, most of
// them known as headings.
func (w *walker) mayBeHeadings(row grid.Row) bool {
	texts, known := 0, 0
	for i := range row.Cells {
		c := &row.Cells[i]
		if c.Kind == grid.Blank {
			continue
		}
		if len(w.open) > 0 && looksLikeData(*c) && w.blockAt(i) != nil {
			return false
		}
		if c.Kind != grid.Text {
			continue
		}
		texts++
		if w.isKnown(c.Raw) {
			known++
		}
	}
	if len(w.open) > 0 {
		return known > 1 && 2*known > texts || w.repeats(row)
	}
	return known > 0 && texts > 1
}

// repeats reports whether a row repeats an open block's headings.
func (w *walker) repeats(row grid.Row) bool {
	for _, b := range w.open {
		same := 0
		for _, c := range b.columns {
			if c.index < len(row.Cells) && normal(row.Cells[c.index].Raw) == normal(c.heading) {
				same++
			}
		}
		if same > 1 && same == len(b.columns) {
			return true
		}
	}
	return false
}

func (w *walker) isKnown(text string) bool {
	k, ok := w.known[text]
	if !ok {
		k = len(text) < 60 && words().isHeading(text)
		if len(w.known) < 4096 {
			w.known[text] = k
		}
	}
	return k
}

// start opens a block below a heading row.
func (w *walker) start(row grid.Row, all []match) {
	if i := slices.IndexFunc(all, func(m match) bool { return m.spec.name == book.TSales }); w.extra && i > 0 {
		all = all[i:]
	}
	m := all[0]
	for _, o := range w.open {
		if o.spec == m.spec && sameColumns(o.columns, m.columns) {
			w.single = nil
			return
		}
	}
	m.trim()
	w.open = slices.DeleteFunc(w.open, func(o *block) bool { return o.first <= m.last && m.first <= o.last })
	w.title, w.single = "", nil
	w.found++
	b := &block{match: m, sheet: w.label}
	b.head = b.at(row.N, m.first)
	w.open = append(w.open, b)
	if near := rivals(all); len(near) > 1 && !m.forced && !w.extra {
		b.rivals = near
	} else {
		w.settle(b)
	}
	w.blocks = append(w.blocks, b)
}

// trim narrows a match to its headings.
func (m *match) trim() {
	first, last := -1, 0
	for _, c := range slices.Concat(m.columns, m.unread) {
		if first < 0 || c.index < first {
			first = c.index
		}
		last = max(last, c.index)
	}
	for _, d := range m.doubles {
		first, last = min(first, d[1].index), max(last, d[1].index)
	}
	m.first, m.last = first, last
}

func sameColumns(a, b []column) bool {
	return slices.EqualFunc(a, b, func(x, y column) bool { return x.field == y.field && x.index == y.index })
}

func shortened(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
