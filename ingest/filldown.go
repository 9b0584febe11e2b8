package ingest

import (
	"slices"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// fillDown gives the name above to the rows that leave it blank, in a table
// that writes each name once, over rows of its own. Where a name stands on two
// rows below each other the maker repeats names, and a blank one was forgotten.
// A row without the beside field, and one below a blank row, stays as it is.
func (r *reader) fillDown(b *block, field, beside string) {
	c, ok := b.column(field)
	other, has := b.column(beside)
	if !ok || !has || b.repeatsNames(c.index) {
		return
	}
	above, filled := record{}, []cell.Ref{}
	for i := range b.rows {
		rec := &b.rows[i]
		switch {
		case !blank(rec.cell(c.index)):
			above = *rec
		case above.n == 0 || rec.n != b.rows[i-1].n+1:
			above = record{}
		case !blank(rec.cell(other.index)):
			rec.set(c.index, *above.cell(c.index))
			filled = append(filled, b.at(rec.n, c.index))
		}
	}
	if len(filled) == 0 {
		return
	}
	r.add(problem.Problem{
		Severity: problem.Note, Code: problem.MissingField, Say: "from-above", At: filled[0],
		Args: []any{"field", field, "table", string(b.spec.name), "n", len(filled)},
	})
}

// repeatsNames reports whether two rows below each other have the same name.
func (b *block) repeatsNames(index int) bool {
	last, row := "", 0
	return slices.ContainsFunc(b.rows, func(rec record) bool {
		t, f := parse.Text(*rec.cell(index))
		key, below := cell.Fold(t), rec.n == row+1
		same := f.None() && key != "" && key == last && below
		last, row = key, rec.n
		return same
	})
}

// cell is a row's cell of a column, blank where the row ends before it.
func (rec *record) cell(index int) *grid.Cell {
	if index < len(rec.cells) {
		return &rec.cells[index]
	}
	return &grid.Cell{}
}

func (rec *record) set(index int, c grid.Cell) {
	for len(rec.cells) <= index {
		rec.cells = append(rec.cells, grid.Cell{})
	}
	rec.cells[index] = c
}
