// Package ingest reads a maker's workbook into the domain model: it finds the
// tables by their headings, reads their cells and matches their references.
// What cannot be read is a problem with its cell, never a stop.
package ingest

import (
	"context"
	"strings"

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
}

// reader is a book in the making.
type reader struct {
	opts   Options
	book   *book.Book
	blocks []*block
	names  names
	lost   map[*block]int // rows left out
	// distinct spellings of the sales' texts
	orders, customers, events spellings
}

func (r *reader) add(p problem.Problem) { r.book.Problems.Add(p) }

// Read reads a book. The error is a *grid.Fault for a file that cannot be
// read; everything else is among the book's problems.
func Read(ctx context.Context, path string, o Options) (*book.Book, error) {
	f, err := grid.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := &reader{opts: o, book: &book.Book{Name: f.Name, Path: f.Path, Print: f.Print}}
	for _, s := range f.Sheets {
		if err := r.find(s); err != nil {
			return nil, err
		}
	}
	for _, more := range o.Sales {
		if err := r.moreSales(ctx, more); err != nil {
			return nil, err
		}
	}
	r.build()
	return r.book, nil
}

// moreSales reads the sales of another file.
func (r *reader) moreSales(ctx context.Context, path string) error {
	f, err := grid.Open(ctx, path)
	if err != nil {
		return err
	}
	defer f.Close()
	before := len(r.blocks)
	for _, s := range f.Sheets {
		if err := r.find(s); err != nil {
			return err
		}
	}
	kept := r.blocks[:before]
	for _, b := range r.blocks[before:] {
		if b.table == book.TSales {
			kept = append(kept, b)
		}
	}
	r.blocks = kept
	return nil
}

// build reads the blocks in the order in which tables refer to one another.
func (r *reader) build() {
	for _, b := range r.blocks {
		r.prepare(b)
	}
	for _, step := range []struct {
		table book.TableName
		read  func(*block)
	}{
		{book.TSettings, r.settings}, {book.TMaterials, r.materials}, {book.TPurchases, r.purchases}, {book.TRecipes, r.recipes},
		{book.TJars, r.jars}, {book.TJarParts, r.jarParts}, {book.TProducts, r.products}, {book.TChannels, r.channels},
		{book.TMarkets, r.markets}, {book.TSales, r.sales}, {book.TPours, r.pours}, {book.TStockCounts, r.counts},
		{book.TOverheads, r.overheads}, {book.TSeasons, r.seasons}, {book.TBurnTests, r.burns},
	} {
		for _, b := range r.blocks {
			if b.table == step.table {
				if step.table == book.TMaterials || step.table == book.TPurchases || step.table == book.TSales {
					r.restyle(b)
				}
				step.read(b)
			}
		}
	}
	r.describe()
}

// prepare looks over a block's columns for how numbers and dates are written,
// and takes totals rows out.
func (r *reader) prepare(b *block) {
	r.totals(b)
	r.restyle(b)
}

// restyle decides each column's number style and date order.
func (r *reader) restyle(b *block) {
	custom := parse.Custom(r.book.Settings.Text(book.Currency).V)
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

// totals takes out rows that add up others: their first text says so.
func (r *reader) totals(b *block) {
	kept := b.rows[:0]
	hidden := 0
	for _, rec := range b.rows {
		if at, ok := saysTotal(rec); ok {
			r.add(problem.Problem{Severity: problem.Note, Code: problem.TotalsRow, At: cell.Ref{Sheet: b.sheet, Row: rec.n, Col: at + 1}})
			continue
		}
		if rec.hidden {
			hidden++
		}
		kept = append(kept, rec)
	}
	b.rows = kept
	if hidden > 0 {
		r.add(problem.Problem{Severity: problem.Note, Code: problem.HiddenRow, At: b.head, Args: []any{"n", hidden}})
	}
}

var totalWords = []string{"total", "subtotal", "sub total", "sum", "grand total"}

func saysTotal(rec record) (int, bool) {
	for i, c := range rec.cells {
		if c.Kind != grid.Text || strings.TrimSpace(c.Raw) == "" {
			continue
		}
		s := normal(c.Raw)
		for _, w := range totalWords {
			if s == w || s == w+"s" || strings.HasPrefix(s, w+" ") {
				return i, true
			}
		}
		return 0, false
	}
	return 0, false
}

// describe tells what was found.
func (r *reader) describe() {
	for _, b := range r.blocks {
		t := book.Table{Table: b.table, Heading: b.head, Rows: len(b.rows), Sure: 1}
		for _, c := range b.columns {
			t.Fields = append(t.Fields, book.Field{Name: c.field, Heading: c.heading, At: cell.Ref{Sheet: b.sheet, Row: b.head.Row, Col: c.index + 1}})
		}
		t.Fields = append(t.Fields, b.unread...)
		t.LeftOut = r.leftOut(b)
		r.book.Tables = append(r.book.Tables, t)
	}
}
