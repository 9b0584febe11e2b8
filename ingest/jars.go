package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
	"pourbook/templates"
)

// partsOf is a wax's amount without the word "parts".
func partsOf(c grid.Cell) grid.Cell {
	if c.Kind == grid.Text {
		low := strings.ToLower(strings.TrimSpace(c.Raw))
		for _, w := range templates.List("read.parts") {
			if cut, ok := strings.CutSuffix(low, w); ok {
				c.Raw = cut
				break
			}
		}
	}
	return c
}

// jars reads jars: their fill is a weight, or follows from capacity and fill %.
func (r *reader) jars(b *block) {
	r.each(b, func(l *line) {
		name := l.name("jar")
		if l.out {
			return
		}
		if have := r.names.jars[cell.Fold(name.V)]; have != nil {
			l.twice(name, have.Name.At)
			return
		}
		fill, _ := l.measure("fill weight", unit.None, unit.Mass)
		capacity, _ := l.measure("capacity", unit.Volume, unit.Volume)
		j := &book.Jar{
			Name: name, Fill: l.above0(fill), Capacity: l.above0(capacity), FillPercent: l.share("fill %", parse.WholePercent),
			Opaque: l.yes("opaque"), Diameter: l.text("diameter"),
		}
		if !j.Fill.OK() && !(j.Capacity.OK() && j.FillPercent.OK()) {
			l.noFill(j)
			return
		}
		r.names.jars[cell.Fold(name.V)] = j
		r.book.Jars = append(r.book.Jars, j)
	})
}

// noFill leaves a jar out whose fill is not known.
func (l *line) noFill(j *book.Jar) {
	l.out = true
	for _, c := range []cell.Num{j.Fill, j.Capacity, j.FillPercent} {
		if c.State == cell.Bad {
			return // that cell has its problem
		}
	}
	at := j.Fill.At
	if j.Capacity.OK() {
		at = j.FillPercent.At
	}
	if l.b.has("fill weight") || l.b.has("capacity") {
		l.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "jar-fill", At: at, Args: []any{"jar", j.Name.V}})
	}
}

// jarParts reads what goes with a jar, one part a row, or several of which one
// each goes with it.
func (r *reader) jarParts(b *block) {
	r.fillDown(b, "jar", "material")
	r.each(b, func(l *line) {
		j, all := l.jar(), l.partNames()
		if j == nil {
			return
		}
		if len(all) == 0 {
			out := l.leftOut(nil)
			if f, ok := finishOf(l.text("finish").V); ok {
				out.Finish = f
			}
			j.LeftOut = append(j.LeftOut, out)
			return
		}
		for _, m := range all {
			j.Parts = append(j.Parts, l.part(m))
		}
	})
}

// part is a row's part of a jar. One whose count or finish cannot be read stays,
// so that what it costs is unknown.
func (l *line) part(m *book.Material) book.Part {
	count, dim := l.count(m)
	p := book.Part{Material: m, Count: count, Dim: dim, Finish: book.AnyFinish, At: l.b.at(l.rec.n, l.b.first)}
	if c, ok := l.b.column("material"); ok {
		p.At.Col = c.index + 1
	}
	t := l.text("finish")
	f, ok := finishOf(t.V)
	switch {
	case t.State == cell.Blank:
	case t.OK() && ok:
		p.Finish = f
	default:
		if t.OK() {
			l.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "finish", At: t.At, Args: []any{"read", t.V}})
		}
		p.Count = cell.Num{Raw: p.Count.Raw, At: t.At, State: cell.Bad}
	}
	return p
}

// partNames are the materials that a row of parts names: one, or several of the
// book's, parted by commas, where no count stands. None leaves the row out.
func (l *line) partNames() []*book.Material {
	c, _, _ := l.at("material")
	text, _ := parse.Text(c)
	if n, _, _ := l.at("count"); parse.Blank(n) && l.names.materials[cell.Fold(text)] == nil {
		names := listed(text)
		var out []*book.Material
		for _, name := range names {
			if m := l.names.materials[cell.Fold(name)]; m != nil {
				out = append(out, m)
			}
		}
		if len(out) > 1 && len(out) == len(names) {
			return out
		}
	}
	if m := l.material("material"); m != nil {
		return []*book.Material{m}
	}
	return nil
}

// listed are the names of a list.
func listed(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' })
}

// listsMaterials reports whether a text lists names, one of them at least of a
// material or a kind of it.
func (r *reader) listsMaterials(text string) bool {
	names := listed(text)
	return len(names) > 1 && slices.ContainsFunc(names, func(name string) bool {
		_, kind := kindOf(name)
		return kind || r.names.materials[cell.Fold(name)] != nil
	})
}

// count is how much of a part goes with one jar: 1, or a number of pieces, or
// an amount of what is bought by weight or volume.
func (l *line) count(m *book.Material) (cell.Num, unit.Dimension) {
	bare := unit.Count
	if m.Dim != unit.Count {
		bare = unit.None
	}
	n, dim := l.measure("count", bare)
	switch {
	case n.State == cell.Blank && m.Dim == unit.Count:
		return cell.Num{V: 1, At: n.At, State: cell.Assumed}, unit.Count
	case n.State == cell.Blank:
		l.found(parse.NoUnit(""), n.At)
		return cell.Num{At: n.At, State: cell.Bad}, m.Dim
	}
	if dim == unit.None {
		dim = m.Dim
	}
	return l.notNegative(n), dim
}
