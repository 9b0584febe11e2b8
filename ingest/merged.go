package ingest

import (
	"slices"

	"pourbook/ingest/grid"
)

// carriedCell is the value of a merged area, for the rows that it covers.
type carriedCell struct {
	index, until int
	cell         grid.Cell
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
