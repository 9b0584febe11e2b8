package ingest

import (
	"strings"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/parse"
)

// aside warns of columns of Recipes that are not read though they name
// materials: one line was taken for a whole recipe.
func (r *reader) aside(b *block) {
	var names []string
	var first cell.Ref
	for _, c := range b.spare() {
		if !r.namesMaterials(b, c.index) {
			continue
		}
		if names = append(names, c.heading); len(names) == 1 {
			first = b.at(b.head.Row, c.index)
		}
	}
	if len(names) > 0 {
		r.add(problem.Problem{
			Severity: problem.Warning, Code: problem.AmbiguousHeading, Say: "ingredients", At: first,
			Args: []any{"headings", strings.Join(names, ", "), "table", string(b.spec.name)},
		})
	}
}

// namesMaterials reports whether most of the filled cells of a column are names
// of materials.
func (r *reader) namesMaterials(b *block, index int) bool {
	known, all := 0, 0
	for _, rec := range b.rows {
		c := rec.cell(index)
		if parse.Blank(*c) {
			continue
		}
		all++
		if t, f := parse.Text(*c); f.None() && r.names.materials[cell.Fold(t)] != nil {
			known++
		}
	}
	return 2*known > all
}
