package ingest

import (
	"slices"
	"strings"

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
	places map[*SheetLayout]int // the row in which a table of the plan begins
	open   []*block
	title  string
	single *grid.Row // a row of a single text: a title, or a row of the open block
	titles *grid.Row // a row of single texts apart from one another: titles side by side, or a row of the open blocks
	apart  bool      // a blank row stands above it
	last   int       // the last row with a cell
	above  grid.Row  // the last row that holds texts and nothing else
	merges map[int][][2]cell.Ref
	carry  []carriedCell
	known  map[string]bool
	filled bool
	found  int
	tries  int           // rows that looked like headings
	texts  int           // texts that were looked up
	ended  bool          // too many of either: no more headings are looked for
	guess  *unknownTable // the first row of texts, where nothing was recognised
	quick  *quick        // of the open Sales table
	kept   []grid.Row    // the rows, where nothing was recognised
	areas  []area        // what is in no table
}

// find cuts a sheet into its blocks.
func (r *reader) find(s *grid.Sheet, label string, extra bool) error {
	w := &walker{reader: r, sheet: s, label: label, extra: extra, known: map[string]bool{}, merges: map[int][][2]cell.Ref{}}
	if w.plan = r.layout.of(s.Name); ignored(w.plan) {
		return nil
	}
	if err := w.locate(); err != nil {
		return err
	}
	for _, m := range s.Merged {
		if m[1].Row > m[0].Row {
			w.merges[m[0].Row] = append(w.merges[m[0].Row], m)
		}
	}
	if err := s.EachRaw(w.raw); err != nil {
		return err
	}
	w.flush()
	for _, b := range w.blocks {
		w.settled(b)
	}
	if w.found > 0 {
		w.unreadAreas()
	}
	switch {
	case !w.filled:
	case w.found == 0:
		r.tableless = append(r.tableless, w)
	case s.Hidden:
		r.add(problem.Problem{Severity: problem.Note, Code: problem.HiddenRow, Say: "sheet", At: cell.Ref{Sheet: label}, Args: []any{"sheet", s.Name}})
	}
	return nil
}

// unreadSheets says which sheets hold no table, once all have been seen.
func (r *reader) unreadSheets() {
	for _, w := range r.tableless {
		if w.settingsByName() {
			continue
		}
		r.add(problem.Problem{Severity: problem.Note, Code: problem.UnreadSheet, At: cell.Ref{Sheet: w.label}, Args: []any{"sheet", w.sheet.Name}})
		if w.guess != nil && !w.extra {
			r.strange = append(r.strange, *w.guess)
		}
	}
}

// row takes in a row of the sheet.
func (w *walker) row(row grid.Row) error {
	w.place = cell.Ref{Sheet: w.label, Row: row.N, Col: 1}
	if err := w.count(); err != nil {
		return err
	}
	lone, empty := lonely(row.Cells)
	if empty {
		return nil
	}
	w.filled = true
	defer w.remember(row)
	apart := row.N > w.last+1
	w.last = row.N
	if lone >= 0 && row.Cells[lone].Kind == grid.Text && !w.begins(row.N) {
		w.flush()
		w.apart = apart
		w.single = &grid.Row{N: row.N, Hidden: row.Hidden, Cells: slices.Clone(row.Cells)}
		return nil
	}
	if w.headings(row) {
		w.leave(row)
		return nil
	}
	w.flush()
	if apart && areTitles(row.Cells) {
		w.titles = &grid.Row{N: row.N, Hidden: row.Hidden, Cells: slices.Clone(row.Cells)}
		return nil
	}
	w.plain(row)
	return nil
}

// plain takes in a row that is neither titles nor headings.
func (w *walker) plain(row grid.Row) {
	w.dispatch(row)
	w.leave(row)
	w.keep(row)
	if w.guess == nil && w.found == 0 {
		w.guess = guess(w.label, row)
	}
}

// areTitles reports whether a row can be titles of tables side by side: short
// texts, none beside another.
func areTitles(cells []grid.Cell) bool {
	n, last := 0, -2
	for i := range cells {
		c := &cells[i]
		if blank(c) {
			continue
		}
		if c.Kind != grid.Text || looksLikeData(*c) || last == i-1 || len(strings.Fields(c.Raw)) > 5 {
			return false
		}
		n, last = n+1, i
	}
	return n > 1
}

// count counts a row, and stops the reading when it is no longer wanted.
func (w *walker) count() error {
	if w.over != nil {
		return w.over
	}
	if w.n++; w.n%4096 == 0 {
		w.far.tell(w.n, w.sheet)
		return w.ctx.Err()
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

// flush gives a single text, or several apart from one another, to the open
// blocks that they stand in: no heading row followed, so they were no titles.
func (w *walker) flush() {
	if w.titles != nil {
		row := *w.titles
		w.titles = nil
		w.plain(row)
	}
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
	if i >= 0 && len(b.spec.must)+len(b.spec.any) < 3 && !(w.apart && isSentence(row.Cells[at].Raw)) {
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

// isSentence reports whether a text is more than a name.
func isSentence(s string) bool {
	s = strings.TrimSpace(s)
	return len(strings.Fields(s)) > 4 || strings.HasSuffix(s, ".") || strings.Contains(s, ": ")
}

func shortened(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
