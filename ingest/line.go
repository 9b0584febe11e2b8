package ingest

import (
	"fmt"
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// line is a row being read. A needed field that cannot be read leaves it out.
type line struct {
	*reader
	b   *block
	rec record
	out bool
	// worth is the money that stands on the row, said if it is left out.
	worth book.Money
	said  []problem.Problem
}

// add keeps a problem of the row until it is known whether the row is left out.
func (l *line) add(p problem.Problem) { l.said = append(l.said, p) }

// say gives the row's problems to the book; the first error has the money.
func (l *line) say() {
	l.join()
	for _, p := range l.said {
		if l.out && l.worth.OK() && p.Severity == problem.Error {
			p.Amount, p.HasAmount = l.worth.V.Float64(), true
			l.worth = book.Money{}
		}
		l.reader.add(p)
	}
	l.said = nil
	if l.out && l.worth.OK() {
		l.b.worth += l.worth.V.Float64() // a missing column leaves the row out
	}
}

// join makes one problem of the needed fields of the row that are blank, at the
// first of them.
func (l *line) join() {
	blank := func(p problem.Problem) bool { return p.Code == problem.MissingField && p.Say == "" }
	var fields []string
	for _, p := range l.said {
		if blank(p) {
			fields = append(fields, fmt.Sprint(p.Args[1]))
		}
	}
	if len(fields) < 2 {
		return
	}
	first := slices.IndexFunc(l.said, blank)
	l.said[first].Say = "several"
	l.said[first].Args = []any{"fields", strings.Join(fields, ", "), "table", string(l.b.spec.name)}
	l.said = slices.DeleteFunc(l.said, blank)
}

// each reads every row of a block; a row that read leaves out is counted.
func (r *reader) each(b *block, read func(l *line)) {
	for _, rec := range b.rows {
		if r.over != nil {
			return
		}
		r.place = b.at(rec.n, b.first)
		l := &line{reader: r, b: b, rec: rec}
		read(l)
		l.say()
		if l.out {
			b.lost++
			l.lose()
		}
	}
}

// at is the cell of a field, and how its column is written. A field without a
// column is a blank cell at the head of the row.
func (l *line) at(field string) (grid.Cell, cell.Ref, column) {
	c, ok := l.b.column(field)
	if !ok {
		return grid.Cell{}, l.b.at(l.rec.n, l.b.first), column{}
	}
	ref := l.b.at(l.rec.n, c.index)
	if c.index < len(l.rec.cells) {
		return l.rec.cells[c.index], ref, *c
	}
	return grid.Cell{}, ref, *c
}

// unsure reports whether two headings fit a field as well, so that its value
// is unknown; the heading row has the problem.
func (l *line) unsure(field string) bool { return slices.Contains(l.b.unsure, field) }

// found raises what was found in a cell, unless it is nothing.
func (l *line) found(f parse.Finding, at cell.Ref) {
	if !f.None() {
		l.add(f.Problem(at))
	}
}

// refuse leaves the row out for what stands in one of its cells.
func (l *line) refuse(code problem.Code, say string, at cell.Ref, args ...any) {
	l.out = true
	l.add(problem.Problem{Severity: problem.Error, Code: code, Say: say, At: at, Args: args})
}

// lacks leaves the row out for a needed field that is blank. Where the whole
// column is missing, the heading row has the problem.
func (l *line) lacks(field string) {
	l.out = true
	if c, ok := l.b.column(field); ok {
		l.add(problem.Problem{
			Severity: problem.Error, Code: problem.MissingField, At: l.b.at(l.rec.n, c.index),
			Args: []any{"field", field, "table", string(l.b.spec.name)},
		})
	}
}

// ifSure is c, unless two headings fit the field as well: then it is bad, so
// that what rests on it is unknown.
func ifSure[T any](l *line, field string, c cell.Of[T]) cell.Of[T] {
	if l.unsure(field) {
		_, at, _ := l.at(field)
		return cell.Of[T]{At: at, State: cell.Bad}
	}
	return c
}

func (l *line) text(field string) cell.Text {
	c, at, _ := l.at(field)
	s, f := parse.Text(c)
	l.found(f, at)
	t := cell.Text{V: s, Raw: strings.TrimSpace(c.Raw), At: at, State: cell.Typed}
	switch {
	case f.Bad():
		t.State = cell.Bad
	case s == "":
		t.State = cell.Blank
	}
	return ifSure(l, field, t)
}

// name is a needed text.
func (l *line) name(field string) cell.Text {
	t := l.text(field)
	if t.State == cell.Blank {
		l.lacks(field)
	}
	l.out = l.out || !t.OK()
	return t
}

// number is a plain number, not negative.
func (l *line) number(field string, words ...string) cell.Num {
	c, at, col := l.at(field)
	x := parse.NumberIn(c, col.style, words...)
	l.found(x.Finding, at)
	return ifSure(l, field, l.notNegative(x.Num(at)))
}

// notNegative makes a negative number bad.
func (l *line) notNegative(n cell.Num) cell.Num { return l.spoil(n, n.V < 0, "negative") }

// above0 makes a number bad that is not above 0.
func (l *line) above0(n cell.Num) cell.Num { return l.spoil(n, n.V <= 0, "not-positive") }

// spoil makes a readable number bad when it is out of range, with what to say.
func (l *line) spoil(n cell.Num, out bool, say string) cell.Num {
	if !n.OK() || !out {
		return n
	}
	l.add(problem.Problem{Severity: problem.Error, Code: problem.BadNumber, Say: say, At: n.At, Args: []any{"read", n.Raw}})
	return unreadable(n)
}

// unreadable is the cell of n without a value.
func unreadable(n cell.Num) cell.Num { return cell.Num{Raw: n.Raw, At: n.At, State: cell.Bad} }

// money is an amount of the book's currency, not negative.
func (l *line) money(field string) book.Money {
	c, at, col := l.at(field)
	x := parse.MoneyIn(c, col.style, l.currency())
	l.found(x.Finding, at)
	m := x.Money(at)
	switch {
	case m.OK() && l.foreign(col.unit):
		l.add(problem.Problem{
			Severity: problem.Error, Code: problem.BadNumber, Say: "currency", At: at,
			Args: []any{"read", m.Raw, "found", col.unit, "currency", strings.ToUpper(l.currency())},
		})
		return book.Money{Raw: m.Raw, At: at, State: cell.Bad}
	case m.OK() && m.V.Sign() < 0:
		l.add(problem.Problem{Severity: problem.Error, Code: problem.BadNumber, Say: "negative", At: at, Args: []any{"read", m.Raw}})
		return book.Money{Raw: m.Raw, At: at, State: cell.Bad}
	}
	return ifSure(l, field, m)
}

// foreign reports whether a heading's unit is another currency than the book's.
func (r *reader) foreign(u string) bool {
	return parse.IsCurrency(u) && !parse.SameCurrency(u, r.currency()) && !parse.SameCurrency(strings.ToUpper(u), r.currency())
}

func (r *reader) currency() string { return r.book.Settings.Text(book.Currency).V }

func (l *line) percent(field string, rule parse.PercentRule) cell.Num {
	c, at, col := l.at(field)
	rule.Fraction = col.fraction
	x := parse.PercentIn(c, col.style, rule)
	l.found(x.Finding, at)
	return ifSure(l, field, x.Num(at))
}

// share is a percent from 0 to 100.
func (l *line) share(field string, rule parse.PercentRule) cell.Num {
	n := l.notNegative(l.percent(field, rule))
	return l.spoil(n, n.V > 1, "over-100")
}

func (l *line) yes(field string) cell.Bool {
	c, at, _ := l.at(field)
	x := parse.YesNo(c)
	l.found(x.Finding, at)
	return ifSure(l, field, x.Bool(at))
}

func (l *line) date(field string) book.Date {
	c, at, col := l.at(field)
	x := parse.DateIn(c, col.order)
	l.found(x.Finding, at)
	return ifSure(l, field, x.At(at))
}

// day is a needed date.
func (l *line) day(field string) book.Date {
	d := l.date(field)
	if d.State == cell.Blank {
		l.lacks(field)
	}
	l.out = l.out || !d.OK()
	return d
}

// amount is a quantity with its unit, from the cell, a unit column or the heading.
func (l *line) amount(field string) (parse.Quantity, cell.Ref) {
	c, at, col := l.at(field)
	u := parse.Units{Heading: col.unit}
	raw := c.Raw
	if field == "pack size" {
		c.Raw = packContents(c)
	}
	if beside := l.b.spec.beside[field]; beside != "" && !parse.Blank(c) {
		u.Column = l.text(beside).V
	}
	q := parse.QuantityIn(c, col.style, u)
	if raw != c.Raw && q.OK() {
		q.Raw = strings.TrimSpace(raw)
	}
	l.found(q.Finding, at)
	return q, at
}

// measure is a quantity in the base unit of one of the dimensions, all when
// none is given; a bare number takes bare, which is None when a unit is needed.
func (l *line) measure(field string, bare unit.Dimension, dims ...unit.Dimension) (cell.Num, unit.Dimension) {
	q, at := l.amount(field)
	n := cell.Num{V: q.Base, Raw: q.Raw, At: at, State: cell.Typed}
	dim := q.Unit.Dim
	switch {
	case l.unsure(field):
		return cell.Num{At: at, State: cell.Bad}, unit.None
	case q.Blank:
		return cell.Num{At: at}, unit.None
	case !q.OK():
		return cell.Num{Raw: q.Raw, At: at, State: cell.Bad}, unit.None
	case q.Bare() && !q.HasPacks && bare != unit.None:
		n.V, dim = q.V, bare
	case q.Bare() && !q.HasPacks && q.V == 0: // nothing is nothing in any unit
		return n, unit.None
	case q.Bare() && !q.HasPacks:
		l.found(parse.NoUnit(q.Raw), at)
		n = unreadable(n)
	case q.Rate != nil || dim == unit.None || len(dims) > 0 && !slices.Contains(dims, dim):
		n = l.otherKind(n, field, dims...)
	case q.HasPacks:
		n.V *= q.Packs
	}
	return n, dim
}

// otherKind makes a quantity bad that is of none of the wanted dimensions.
func (l *line) otherKind(n cell.Num, field string, dims ...unit.Dimension) cell.Num {
	l.add(problem.Problem{
		Severity: problem.Error, Code: problem.BadUnit, Say: "kind", At: n.At, Args: []any{"read", n.Raw, "field", field, "want", wanted(dims)},
	})
	return unreadable(n)
}

func wanted(dims []unit.Dimension) string {
	if len(dims) == 0 {
		dims = []unit.Dimension{unit.Mass, unit.Volume, unit.Count}
	}
	var out []string
	for _, d := range dims {
		out = append(out, d.String())
	}
	return strings.Join(out, ", ")
}

// pieces is a number of pieces, not negative.
func (l *line) pieces(field string) cell.Num {
	n, _ := l.measure(field, unit.Count, unit.Count)
	return l.notNegative(n)
}

// needed leaves the row out when a needed value is blank or bad.
func needed[T any](l *line, field string, c cell.Of[T]) cell.Of[T] {
	if c.State == cell.Blank {
		l.lacks(field)
	}
	l.out = l.out || !c.OK()
	return c
}
