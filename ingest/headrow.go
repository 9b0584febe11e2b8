package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// headings looks whether a row is the heading row of one table or of several
// side by side, and opens them.
func (w *walker) headings(row grid.Row) bool {
	if all := w.planned(row); len(all) > 0 {
		w.begin(row, all)
		return true
	}
	return w.recognize(row)
}

// recognize is headings without the layout.
func (w *walker) recognize(row grid.Row) bool {
	if !w.mayBeHeadings(row) {
		return w.beside(row)
	}
	if w.tired(row.N) {
		return false
	}
	all := w.headsOf(row)
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

// tired reports whether so many rows of the sheet looked like headings that no
// more are tried; a book of nothing but such sheets is refused.
func (w *walker) tired(row int) bool {
	if w.tries++; w.tries > maxTries {
		w.endSearch()
		return true
	}
	if w.heads++; w.heads > maxHeads {
		w.beyond("too-many-tables", maxTables, cell.Ref{Sheet: w.label, Row: row, Col: 1})
		return true
	}
	return false
}

// endSearch says once for a sheet that no more headings are looked for.
func (w *walker) endSearch() {
	if !w.ended {
		w.ended = true
		w.add(problem.Problem{
			Severity: problem.Warning, Code: problem.UnreadSheet, Say: "search", At: w.place, Args: []any{"sheet", w.label},
		})
	}
}

func total(parts [][]match) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p[0].score
	}
	return sum
}

// sideBySide are the tables that a row's segments are the headings of, when
// every segment of two or more cells is, and one of them has all it needs.
func (w *walker) sideBySide(row grid.Row, texts []head) [][]match {
	var out [][]match
	full := false
	parts := segments(row.Cells)
	if len(parts) < 2 {
		return nil
	}
	for _, s := range parts {
		if s.first == s.last {
			continue
		}
		all := candidates(w.namesAt(s), texts, s.first, s.last)
		switch {
		case len(all) > 0:
			full = full || all[0].full()
		default:
			if all = understood(texts, s); len(all) == 0 {
				return nil
			}
		}
		out = append(out, all)
	}
	if !full {
		return nil
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
		if all := candidates(w.names(), w.headsOf(row), s.first, s.last); len(all) > 0 && (all[0].full() || all[0].nearly()) {
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

// namesAt are names, and the titles side by side that stand above a segment.
func (w *walker) namesAt(s segment) []string {
	out := w.names()
	if w.titles == nil {
		return out
	}
	for i := s.first; i <= s.last && i < len(w.titles.Cells); i++ {
		if c := &w.titles.Cells[i]; !blank(c) {
			out = append(out, c.Raw)
		}
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
		if c.Kind == grid.Text {
			texts++
		}
	}
	for i := range row.Cells {
		if c := &row.Cells[i]; c.Kind == grid.Text && w.isKnown(c.Raw) {
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
		if w.texts++; w.texts > maxTexts {
			w.endSearch()
			return false
		}
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
	w.dropGroups(row.N, &m)
	w.open = slices.DeleteFunc(w.open, func(o *block) bool { return o.first <= m.last && m.first <= o.last })
	w.title, w.single, w.titles = "", nil, nil
	w.found++
	b := &block{match: m, sheet: w.label}
	b.head = b.at(row.N, m.first)
	w.open = append(w.open, b)
	if near := rivals(all); len(near) > 1 && !m.forced && !w.extra {
		b.rivals = near
	} else {
		b.waiting = true
	}
	if w.blocks = append(w.blocks, b); len(w.blocks) > maxTables {
		w.beyond("too-many-tables", maxTables, b.head)
	}
}

// dropGroups forgets a block whose heading row is the row above another heading
// row, and that has less of a table: it names groups of the headings below.
func (w *walker) dropGroups(row int, below *match) {
	group := func(b *block) bool {
		return b.sheet == w.label && b.head.Row == row-1 && b.n == 0 && !b.forced && b.first <= below.last && below.first <= b.last &&
			(below.full() || !b.full() && len(b.columns) < len(below.columns))
	}
	before := len(w.blocks)
	w.blocks = slices.DeleteFunc(w.blocks, group)
	w.open = slices.DeleteFunc(w.open, group)
	w.found -= before - len(w.blocks)
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
