package ingest

import (
	"math"
	"slices"
	"strconv"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// block is a table as it was found: its heading row and the rows below.
type block struct {
	match
	sheet  string
	head   cell.Ref
	rivals []match // tables that fit as well; which it is, the rows have to tell
	rows   []record
	sales  *saleSink // rows of sales, which are not kept as rows
	n      int       // data rows
	lost   int       // rows left out
	worth  float64   // money on rows that a missing column leaves out
	foot   footing
	hidden int
	shaded cell.Ref // the first hidden row
	extra  bool     // of a further file of sales
	file   string   // that file
	unsure []string // fields that two headings fit as well
	// undecided: nothing tells which table it is.
	undecided  bool
	headless   bool // its headings are made up
	waiting    bool // to be settled, with its first row or at the sheet's end
	ahead      int  // rows dated after today
	firstAhead book.Date
}

// record is a row of a block; cells is in the order of the sheet's columns.
type record struct {
	n     int
	cells []grid.Cell
}

// at is the cell of a row.
func (b *block) at(row, index int) cell.Ref {
	return cell.Ref{Sheet: b.sheet, Row: row, Col: index + 1}
}

// column is the column of a field.
func (b *block) column(field string) (*column, bool) {
	for i := range b.columns {
		if b.columns[i].field == field {
			return &b.columns[i], true
		}
	}
	return nil, false
}

func near(a, b float64) bool { return math.Abs(a-b) <= 0.005+1e-9*math.Abs(b) }

// plainValue is the number in a cell, also when it is plain text.
func plainValue(c *grid.Cell) (float64, bool) {
	switch {
	case c.Kind == grid.Number:
		return c.Num, true
	case c.Kind == grid.Text && plainAmount(c.Raw):
		v, err := strconv.ParseFloat(c.Raw, 64)
		return v, err == nil
	}
	return 0, false
}

// blank is parse.Blank, without a look at what begins with a plain character.
func blank(c *grid.Cell) bool {
	if c.Kind == grid.Text && c.Raw != "" && c.Raw[0] > ' ' && c.Raw[0] < 0x7f {
		return false
	}
	return parse.Blank(*c)
}

// take gives a row to the block. Rows of totals and repeated headings have
// been dealt with.
func (r *reader) take(b *block, row grid.Row) {
	if b.waiting && !b.unsettled() {
		r.settled(b)
	}
	if at, ok := b.isExample(row.Cells); ok {
		r.add(problem.Problem{Severity: problem.Note, Code: problem.TotalsRow, Say: "example", At: b.at(row.N, at)})
		return
	}
	if at, ok := b.isTotals(row.Cells); ok {
		clear(b.foot.since)
		r.add(problem.Problem{Severity: problem.Note, Code: problem.TotalsRow, At: b.at(row.N, at)})
		return
	}
	if at, ok := b.addsUp(row); ok {
		clear(b.foot.since)
		r.add(problem.Problem{
			Severity: problem.Note, Code: problem.TotalsRow, Say: "sum", At: b.at(row.N, at),
			Args: []any{"read", shortened(row.Cells[at].Raw), "table", string(b.spec.name)},
		})
		return
	}
	if at, ok := b.looksAddedUp(row.Cells); ok {
		r.add(problem.Problem{
			Severity: problem.Warning, Code: problem.TotalsRow, Say: "typed", At: b.at(row.N, at), Args: []any{"table", string(b.spec.name)},
		})
	}
	b.foot.add(row.Cells)
	b.n++
	if row.Hidden {
		if b.hidden == 0 {
			b.shaded = b.at(row.N, b.first)
		}
		b.hidden++
	}
	if b.sales != nil {
		b.sales.take(row)
		return
	}
	cells := row.Cells[:min(len(row.Cells), b.reach()+1)]
	if r.kept += len(cells); r.kept > maxKept {
		r.beyond("too-many-cells", maxKept, b.head)
		return
	}
	b.rows = append(b.rows, record{row.N, slices.Clone(cells)})
	if b.waiting && !b.unsettled() {
		r.settled(b)
	}
}
