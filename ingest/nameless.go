package ingest

import (
	"slices"

	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/parse"
)

// reach is the last column whose cells may be of the block: one without a
// heading may stand right of it.
func (b *block) reach() int {
	last := b.last
	for _, c := range b.nameless {
		last = max(last, c.index)
	}
	return last
}

// unitColumns takes in the columns right of an amount that have no heading and
// hold nothing but units, where no heading is that of the unit.
func (r *reader) unitColumns(b *block) {
	for _, c := range b.nameless {
		if b.has(c.field) || !b.onlyUnits(c.index) {
			continue
		}
		r.add(problem.Problem{
			Severity: problem.Note, Code: problem.AmbiguousHeading, Say: "nameless", At: b.at(b.head.Row, c.index),
			Args: []any{"field", c.field, "amount", c.heading, "table", string(b.spec.name)},
		})
		c.heading = ""
		b.columns = append(b.columns, c)
	}
}

// onlyUnits reports whether a column's cells, some of them filled, are units.
func (b *block) onlyUnits(index int) bool {
	filled := 0
	for _, rec := range b.rows {
		if index >= len(rec.cells) || parse.Blank(rec.cells[index]) {
			continue
		}
		text, f := parse.Text(rec.cells[index])
		if !f.None() || !isUnitText(text) {
			return false
		}
		filled++
	}
	return filled > 0
}

func isUnitText(s string) bool {
	_, amount := unit.Find(s)
	_, rate := unit.FindRate(s)
	return amount || rate || slices.Contains(packWords(), normal(s))
}
