// Package costdoc is the costing report as words and tables, before anything
// is drawn: the sentence that each page finds, the figures rounded for print,
// the values of the charts. A renderer decides how it looks and no number.
package costdoc

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// Document is the costing report. Pages that the book does not allow are nil.
type Document struct {
	Title  string // "Costing October 2026"
	Month  *Month
	Costs  *Costs
	Change *Change
	Use    *Use
	Split  *Split
	Stock  *Stock
	Notes  *Notes
}

// Head is the head of a page. Finding is the sentence that says what the page
// found; it is true whatever the book holds.
type Head struct {
	Title, Subtitle, Finding string
	Facts                    []Fact
}

// Fact is a line beside the title.
type Fact struct{ Label, Value string }

// Kind says what a column of a table holds.
type Kind uint8

// The kinds of column.
const (
	Text   Kind = iota // a short text
	Name               // what the row is about
	Words              // sentences
	Number             // numbers, points below one another
)

// Table is a table whose cells are ready for print.
type Table struct {
	Title, Aside string
	Columns      []Column
	Rows         []Row
}

// Column is a column of a table.
type Column struct {
	Title string
	Kind  Kind
	Bold  bool
}

// Row is a row. Group starts a group of rows, Total is a sum of those above.
type Row struct {
	Cells []Cell
	Group bool
	Total bool
}

// Cell is a text of a table. Alarm asks for a decision, Muted is less important.
type Cell struct {
	Text               string
	Bold, Muted, Alarm bool
}

// Swatch is the look of a finish: natural, or a color with its name.
type Swatch struct {
	Natural   bool
	Hex, Name string
}

// Series is a row of values of a chart; NaN where there is none.
type Series struct {
	Name   string
	Values []float64
}

// Of is the report of a costing.
func Of(r *cost.Result) *Document {
	m := newMaker(r)
	return &Document{
		Title: text("cost.title", "period", m.period),
		Month: m.month(), Costs: m.costs(), Change: m.change(), Use: m.use(),
		Split: m.split(), Stock: m.stock(), Notes: m.notes(),
	}
}

// Decisions are what most needs one, as the report of a costing has it.
func Decisions(r *cost.Result) []Decision {
	out, _ := newMaker(r).decisions()
	return out
}

func newMaker(r *cost.Result) *maker {
	m := &maker{r: r, b: r.Source, money: show.In(r.Currency)}
	if m.b == nil {
		m.b = &book.Book{}
	}
	m.index = map[*cost.Product]int{}
	for i := range r.Products {
		m.index[&r.Products[i]] = i
	}
	m.period = m.periodName()
	return m
}

// maker makes a document.
type maker struct {
	r      *cost.Result
	b      *book.Book
	money  show.Currency
	period string
	index  map[*cost.Product]int // of the result's products
}

// setting is a setting as a figure.
func (m *maker) setting(name book.Setting) *calc.Figure {
	return calc.In(m.b.Settings.Num(name), "setting", string(name))
}
