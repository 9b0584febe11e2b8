package ingest

import (
	"slices"
	"strings"

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

// sizesBelow gives the name and the kind above to the rows of Materials that
// leave both blank, or repeat them by a ditto mark, and have a pack's size and
// price: further pack sizes of the material above.
func (r *reader) sizesBelow(b *block) {
	at := map[string]int{}
	for _, f := range []string{"name", "kind", "pack size", "pack price"} {
		c, ok := b.column(f)
		if !ok {
			return
		}
		at[f] = c.index
	}
	var filled []cell.Ref
	for i := 1; i < len(b.rows); i++ {
		rec, above := &b.rows[i], &b.rows[i-1]
		name, kind := rec.cell(at["name"]), rec.cell(at["kind"])
		if rec.n != above.n+1 || blank(above.cell(at["name"])) || !repeats(name) || !repeats(kind) && (blank(name) || kind.Raw != above.cell(at["kind"]).Raw) ||
			blank(rec.cell(at["pack size"])) || blank(rec.cell(at["pack price"])) {
			continue
		}
		rec.set(at["name"], *above.cell(at["name"]))
		rec.set(at["kind"], *above.cell(at["kind"]))
		filled = append(filled, b.at(rec.n, at["name"]))
	}
	if len(filled) > 0 {
		r.add(problem.Problem{
			Severity: problem.Note, Code: problem.MissingField, Say: "sizes-below", At: filled[0], Args: []any{"n", len(filled), "table", string(b.spec.name)},
		})
	}
}

// dittos are marks that repeat what stands above.
var dittos = []string{"\"", "''", "\u3003", "\u201d", "ditto", "do."}

// repeats reports whether a cell is blank or a ditto mark.
func repeats(c *grid.Cell) bool {
	return blank(c) || c.Kind == grid.Text && slices.Contains(dittos, strings.ToLower(strings.TrimSpace(c.Raw)))
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
