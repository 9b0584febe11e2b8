package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// settled settles a block that waits for it.
func (r *reader) settled(b *block) {
	if b.waiting {
		b.waiting = false
		r.settle(b)
	}
}

// settle says what is wrong with a block's headings, once its table and its
// first rows are known.
func (r *reader) settle(b *block) {
	r.named(b)
	r.dated(b)
	for _, d := range b.doubles {
		r.double(b, d)
	}
	for _, c := range b.columns {
		if c.meant != "" {
			r.add(problem.Problem{
				Severity: problem.Note, Code: problem.AmbiguousHeading, Say: "spelling", At: b.at(b.head.Row, c.index),
				Args: []any{"heading", c.heading, "field", c.field, "table", string(b.spec.name)},
			})
		}
	}
	for _, names := range b.missing {
		r.add(problem.Problem{
			Severity: problem.Error, Code: problem.MissingField, Say: "column", At: b.head,
			Args: []any{"table", string(b.spec.name), "field", strings.Join(names, " / "), "near", unreadNames(b)},
		})
	}
	if b.spec.name == book.TSales {
		b.sales = newSaleSink(r, b)
		for _, rec := range b.rows {
			b.sales.take(grid.Row{N: rec.n, Cells: rec.cells})
		}
		b.rows = nil
	}
}

func unreadNames(b *block) string {
	var out []string
	for _, c := range b.spare() {
		out = append(out, c.heading)
	}
	return strings.Join(out, ", ")
}

// double names two headings that fit one field. When they fit as well, neither
// is used: what rests on the field is unknown rather than guessed.
func (r *reader) double(b *block, d [2]column) {
	used, other := d[0], d[1]
	p := problem.Problem{
		Severity: problem.Note, Code: problem.AmbiguousHeading, Say: "used", At: b.at(b.head.Row, other.index), Other: b.at(b.head.Row, used.index),
		Args: []any{"field", used.field, "table", string(b.spec.name), "one", used.heading, "two", other.heading},
	}
	if used.sure == other.sure {
		p.Severity, p.Say = problem.Error, ""
		if slices.Contains(idle, used.field) {
			p.Severity, p.Say = problem.Warning, "used"
		} else {
			b.columns = slices.DeleteFunc(b.columns, func(c column) bool { return c.field == used.field })
			b.unsure = append(b.unsure, used.field)
		}
	}
	r.add(p)
}

// decide chooses the table of a block whose headings fit several, by what
// stands in its rows: names of products, materials, recipes or jars.
func (r *reader) decide(b *block) {
	best, bestShare, second := -1, 0.0, 0.0
	for i := range b.rivals {
		s := r.share(&b.rivals[i], b.rows)
		if best < 0 || s > bestShare {
			best, bestShare, second = i, s, bestShare
		} else {
			second = max(second, s)
		}
	}
	if best >= 0 && bestShare > second+0.2 {
		b.become(b.rivals[best])
		r.settle(b)
		return
	}
	one, two := b.rivals[0], b.rivals[1]
	if one.named && !two.named {
		b.become(one)
		r.settle(b)
		return
	}
	r.add(problem.Problem{
		Severity: problem.Error, Code: problem.AmbiguousHeading, Say: "table", At: b.head,
		Args: []any{"one", string(one.spec.name), "two", string(two.spec.name), "sheet", b.sheet},
	})
	b.undecided = true
	b.lost = b.n
}

func (b *block) become(m match) {
	first, last := b.first, b.last
	b.match = m
	b.first, b.last = first, last
}

// share is the part of the first rows whose references are known, if the rows
// were of that table.
func (r *reader) share(m *match, rows []record) float64 {
	const look = 60
	found, asked := 0, 0
	for _, c := range m.columns {
		known := r.knows(m.spec.name, c.field)
		if known == nil {
			continue
		}
		for _, rec := range rows[:min(len(rows), look)] {
			if c.index >= len(rec.cells) || parse.Blank(rec.cells[c.index]) {
				continue
			}
			asked++
			if t, f := parse.Text(rec.cells[c.index]); f.None() && known(cell.Fold(t)) {
				found++
			}
		}
	}
	if asked == 0 {
		return 0
	}
	return float64(found) / float64(asked)
}

// knows is how to tell whether a name is one of a field's references; nil for
// a field that refers to nothing.
func (r *reader) knows(t book.TableName, field string) func(key string) bool {
	product := func(key string) bool {
		_, ok := r.names.codes[key]
		return ok || len(r.names.titles[key]) > 0
	}
	material := func(key string) bool { return r.names.materials[key] != nil }
	switch {
	case field == "kind":
		return func(key string) bool { _, ok := kindOf(key); return ok }
	case field == "finish":
		return func(key string) bool { _, ok := finishOf(key); return ok }
	case field == "product" && t != book.TProducts:
		return product
	case field == "material":
		return material
	case field == "item":
		return func(key string) bool { return product(key) || material(key) }
	case field == "recipe" && t != book.TRecipes:
		return func(key string) bool { return r.names.recipes[key] != nil }
	case field == "jar" && t != book.TJars:
		return func(key string) bool { return r.names.jars[key] != nil }
	}
	return nil
}
