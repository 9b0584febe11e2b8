// Package ingest reads a maker's workbook into the domain model: it finds the
// tables by their headings, reads their cells and matches their references.
// What cannot be read is a problem with its cell, never a stop.
package ingest

import (
	"context"
	"errors"
	"path/filepath"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// Options say what else to read.
type Options struct {
	Sales  []string // more sales, from .csv or .xlsx files
	Layout string   // a layout file other than BOOK.layout.yaml
	Today  day.Date // for dates that lie in the future
	// Progress, if not nil, is told now and then, in the goroutine that reads, how
	// many rows were read, and what share of all there is to read, 1 at the end.
	Progress func(rows int, share float64)
}

// reader is a book in the making.
type reader struct {
	ctx    context.Context
	opts   Options
	layout *Layout
	sheets []string
	book   *book.Book
	far    far
	blocks []*block
	names  names
	n      int // rows met
	// strange are rows on unread sheets that may be headings.
	strange []unknownTable
	// tableless are sheets in which no table was recognised.
	tableless []*walker
	// distinct spellings of the sales' texts
	orders, customers, events spellings
	strangers                 map[int32]cell.Ref // by number of events: the first cell of a market that is not in Markets
	told                      map[string]bool    // spellings of references that were noted

	kept     int // cells of rows
	heads    int // rows that looked like headings
	problems int
	over     *grid.Fault // the first limit that the book goes beyond
	place    cell.Ref    // the row in hand
}

func (r *reader) add(p problem.Problem) {
	if r.problems++; r.problems > maxProblems {
		r.beyond("too-many-problems", maxProblems, p.At)
		return
	}
	r.book.Problems.Add(p)
}

// Read reads a book, with the layout file beside it where there is one. The
// error is a *grid.Fault for a file that cannot be read; everything else is
// among the book's problems.
func Read(ctx context.Context, path string, o Options) (*book.Book, error) {
	r, err := read(ctx, path, o)
	if err != nil {
		return nil, err
	}
	return r.book, nil
}

// read reads a book twice where a large sheet has merged areas, which are known
// only when its rows have gone by.
func read(ctx context.Context, path string, o Options) (*reader, error) {
	r, err := readOnce(ctx, path, o)
	if errors.Is(err, grid.ErrMerged) {
		return readOnce(grid.MergesFirst(ctx), path, o)
	}
	return r, err
}

func readOnce(ctx context.Context, path string, o Options) (*reader, error) {
	f, err := grid.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	layout, err := findLayout(path, o.Layout)
	if err != nil {
		return nil, err
	}
	r := &reader{
		ctx: ctx, opts: o, layout: layout, names: newNames(), strangers: map[int32]cell.Ref{}, told: map[string]bool{},
		book: &book.Book{Name: f.Name, Path: f.Path}, far: newFar(o.Progress, append([]string{path}, o.Sales...)),
	}
	defer r.placePanic()
	r.far.begin(f)
	r.fileNotes(f, cell.Ref{})
	if err := r.findAll(f, func(s *grid.Sheet) string { return s.Name }, false); err != nil {
		return nil, err
	}
	r.book.Print = f.Print
	for _, more := range o.Sales {
		if err := r.moreSales(more); err != nil {
			return nil, err
		}
	}
	r.far.end(r.n)
	r.unreadSheets()
	r.build()
	if r.over != nil {
		return nil, r.over
	}
	return r, nil
}

// fileNotes are what is to be known about how a file was read, and about values
// that it has from elsewhere or from an earlier calculation. A book's notes that
// concern all of its sheets have no place.
func (r *reader) fileNotes(f *grid.File, at cell.Ref) {
	for _, n := range f.Notes {
		p := problem.Problem{Severity: problem.Note, Code: problem.CellError, At: at, Args: n.Args}
		switch n.Key {
		case "note-external":
			p.Say = "external"
		case "note-manual":
			p.Say = "manual"
		case "note-text":
			p.Code, p.Say, p.At.Sheet = problem.NumberStyle, "text-file", filepath.Base(f.Path)
		case "note-extension":
			p.Code, p.Say, p.Args = problem.NumberStyle, "ending", []any{"file", filepath.Base(f.Path)}
		}
		r.add(p)
	}
}

// findAll finds the tables of a file's sheets.
func (r *reader) findAll(f *grid.File, label func(*grid.Sheet) string, extra bool) error {
	for _, s := range f.Sheets {
		if err := r.find(s, label(s), extra); err != nil {
			return f.Finish(r.ctx, err)
		}
		r.sheets = append(r.sheets, s.Name)
	}
	return f.Finish(r.ctx, nil)
}

// moreSales reads the sales of another file.
func (r *reader) moreSales(path string) error {
	f, err := grid.Open(r.ctx, path)
	if err != nil {
		return err
	}
	defer f.Close()
	base := filepath.Base(path)
	r.fileNotes(f, cell.Ref{Sheet: base})
	r.far.begin(f)
	before := len(r.blocks)
	label := func(s *grid.Sheet) string {
		if s.Name != base {
			return base + " " + s.Name
		}
		return base
	}
	if err := r.findAll(f, label, true); err != nil {
		return err
	}
	found := r.blocks[before:]
	for _, b := range found {
		b.extra, b.file = true, base
	}
	r.blocks = append(r.blocks[:before], slices.DeleteFunc(found, func(b *block) bool { return b.spec.name != book.TSales })...)
	if len(r.blocks) == before {
		r.add(problem.Problem{Severity: problem.Error, Code: problem.MissingTable, Say: "no-sales-in-file", At: cell.Ref{Sheet: base}, Args: []any{"file", base}})
	}
	return nil
}

// build reads the blocks in the order in which tables refer to one another.
func (r *reader) build() {
	for _, step := range []struct {
		table book.TableName
		read  func(*block)
	}{
		{book.TSettings, r.settings},
		{book.TMaterials, r.materials},
		{book.TJars, r.jars},
		{book.TRecipes, r.recipes},
		{book.TJarParts, r.jarParts},
		{book.TProducts, r.products},
		{book.TPurchases, r.purchases},
		{book.TChannels, r.channels},
		{book.TMarkets, r.markets},
		{book.TSales, r.sales},
		{book.TPours, r.pours},
		{book.TStockCounts, r.counts},
		{book.TOverheads, r.overheads},
		{book.TSeasons, r.seasons},
		{book.TBurnTests, r.burns},
	} {
		r.decideFor(step.table)
		for _, b := range r.blocks {
			if b.spec.name == step.table && !b.undecided {
				r.unitColumns(b)
				r.styles(b)
				step.read(b)
				r.sayAhead(b)
			}
		}
	}
	r.likes()
	r.repeated()
	r.layoutStale()
	r.tellStrangers()
	r.book.Orders, r.book.Customers, r.book.SaleMarkets = r.orders.shown.Len()-1, r.customers.shown.Len()-1, r.events.shown
	r.describe()
	r.missingTables()
}

// decideFor decides the blocks that may be of a table that is read now.
func (r *reader) decideFor(t book.TableName) {
	for _, b := range r.blocks {
		if b.rivals != nil && !b.undecided && slices.ContainsFunc(b.rivals, func(m match) bool { return m.spec.name == t }) {
			r.decide(b)
			if !b.undecided {
				b.rivals = nil
			}
		}
	}
}

func (r *reader) sales(b *block) {
	if b.sales != nil {
		b.sales.finish()
	}
}

// styles decides how the numbers and dates of each column are written.
func (r *reader) styles(b *block) {
	custom := parse.Custom(r.currency())
	for i := range b.columns {
		c := &b.columns[i]
		var numbers parse.Evidence
		var dates parse.DateEvidence
		for _, rec := range b.rows {
			if c.index < len(rec.cells) {
				numbers.LookIn(rec.cells[c.index])
				dates.Look(rec.cells[c.index])
			}
		}
		c.style, c.order = numbers.Style(custom), dates.Order()
	}
}

// describe tells what was found, and what is to be known about its rows.
func (r *reader) describe() {
	for _, b := range r.blocks {
		if b.hidden > 0 {
			r.add(problem.Problem{
				Severity: problem.Note, Code: problem.HiddenRow, At: b.shaded, Args: []any{"n", b.hidden, "table", string(b.spec.name)},
			})
		}
		if b.undecided {
			continue
		}
		if b.worth != 0 {
			r.add(problem.Problem{
				Severity: problem.Error, Code: problem.MissingField, Say: "column-rows", At: b.head, Amount: b.worth, HasAmount: true,
				Args: []any{"n", b.lost, "table", string(b.spec.name)},
			})
		}
		r.book.Tables = append(r.book.Tables, b.describe())
	}
}

func (b *block) describe() book.Table {
	t := book.Table{Table: b.spec.name, Heading: b.head, Rows: b.n, LeftOut: b.lost, Sure: b.sure()}
	field := func(name string, c column) book.Field {
		return book.Field{Name: name, Heading: c.heading, At: b.at(b.head.Row, c.index)}
	}
	for _, c := range b.columns {
		t.Fields = append(t.Fields, field(c.field, c))
	}
	for _, c := range b.unread {
		t.Fields = append(t.Fields, field("", c))
	}
	for _, d := range b.doubles {
		t.Fields = append(t.Fields, field("", d[1]))
		if !b.has(d[0].field) {
			t.Fields = append(t.Fields, field("", d[0]))
		}
	}
	return t
}

// missingTables says which tables are not there that every job needs.
func (r *reader) missingTables() {
	for _, t := range []book.TableName{book.TMaterials, book.TRecipes, book.TJars, book.TProducts} {
		if !r.book.Has(t) {
			r.add(problem.Problem{Severity: problem.Error, Code: problem.MissingTable, Args: []any{"table", string(t)}})
		}
	}
}
