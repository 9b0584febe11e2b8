package ingest

import (
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
}

// each reads every row of a block; a row that read leaves out is counted.
func (r *reader) each(b *block, read func(l *line)) {
	for _, rec := range b.rows {
		l := &line{reader: r, b: b, rec: rec}
		read(l)
		if l.out {
			if r.lost == nil {
				r.lost = map[*block]int{}
			}
			r.lost[b]++
		}
	}
}

func (r *reader) leftOut(b *block) int { return r.lost[b] }

// at is the cell of a field, and how its column is written.
func (l *line) at(field string) (grid.Cell, cell.Ref, column) {
	for _, c := range l.b.columns {
		if c.field != field {
			continue
		}
		ref := cell.Ref{Sheet: l.b.sheet, Row: l.rec.n, Col: c.index + 1}
		if c.index < len(l.rec.cells) {
			return l.rec.cells[c.index], ref, c
		}
		return grid.Cell{}, ref, c
	}
	return grid.Cell{}, cell.Ref{Sheet: l.b.sheet, Row: l.rec.n, Col: 1}, column{}
}

// found raises what was found in a cell, unless it is nothing.
func (l *line) found(f parse.Finding, at cell.Ref) {
	if !f.None() {
		l.add(f.Problem(at))
	}
}

// lacks leaves the row out for a needed field that is blank.
func (l *line) lacks(field string) {
	_, at, _ := l.at(field)
	l.out = true
	l.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, At: at, Args: []any{"field", field, "table", string(l.b.table)}})
}

func (l *line) text(field string) cell.Text {
	c, at, _ := l.at(field)
	s, f := parse.Text(c)
	l.found(f, at)
	t := cell.Text{V: strings.Join(strings.Fields(s), " "), Raw: c.Raw, At: at, State: cell.Typed}
	switch {
	case f.Bad():
		t.State = cell.Bad
	case t.V == "":
		t.State = cell.Blank
	}
	return t
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

func (l *line) number(field string, words ...string) cell.Num {
	c, at, col := l.at(field)
	x := parse.NumberIn(c, col.style, words...)
	l.found(x.Finding, at)
	return x.Num(at)
}

func (l *line) money(field string) book.Money {
	c, at, col := l.at(field)
	x := parse.MoneyIn(c, col.style, l.book.Settings.Text(book.Currency).V)
	l.found(x.Finding, at)
	return x.Money(at)
}

func (l *line) percent(field string, rule parse.PercentRule) cell.Num {
	c, at, col := l.at(field)
	x := parse.PercentIn(c, col.style, rule)
	l.found(x.Finding, at)
	return x.Num(at)
}

func (l *line) yes(field string) cell.Bool {
	c, at, _ := l.at(field)
	x := parse.YesNo(c)
	l.found(x.Finding, at)
	return x.Bool(at)
}

func (l *line) date(field string) book.Date {
	c, at, col := l.at(field)
	x := parse.DateIn(c, col.order)
	l.found(x.Finding, at)
	return x.Date(at)
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
func (l *line) amount(field, unitField string) (parse.Quantity, cell.Ref) {
	c, at, col := l.at(field)
	u := parse.Units{Heading: col.unit}
	if unitField != "" {
		u.Column = l.text(unitField).V
	}
	q := parse.QuantityIn(c, col.style, u)
	l.found(q.Finding, at)
	return q, at
}

// measure is a quantity in the base unit of one of the dimensions; a bare
// number takes bare, which may be None when a unit is needed.
func (l *line) measure(field, unitField string, bare unit.Dimension, dims ...unit.Dimension) (cell.Num, unit.Dimension) {
	q, at := l.amount(field, unitField)
	n := cell.Num{V: q.Base, Raw: q.Raw, At: at, State: cell.Typed}
	dim := q.Unit.Dim
	switch {
	case q.Blank:
		return cell.Num{At: at}, unit.None
	case !q.OK():
		n.State = cell.Bad
	case q.Bare() && bare == unit.None:
		l.found(parse.NoUnit(q.Raw), at)
		n.State = cell.Bad
	case q.Bare():
		n.V, dim = q.V, bare
	case q.Rate != nil || len(dims) > 0 && !has(dims, dim):
		l.add(problem.Problem{Severity: problem.Error, Code: problem.BadUnit, Say: "dimension", At: at, Args: []any{"read", q.Raw}})
		n.State = cell.Bad
	}
	if n.State == cell.Bad {
		n.V = 0
	}
	return n, dim
}

func has(dims []unit.Dimension, d unit.Dimension) bool {
	for _, x := range dims {
		if x == d {
			return true
		}
	}
	return false
}

// needed leaves the row out when a needed number is blank or bad.
func (l *line) needed(field string, n cell.Num) cell.Num {
	if n.State == cell.Blank {
		l.lacks(field)
	}
	l.out = l.out || !n.OK()
	return n
}

func (l *line) neededMoney(field string, m book.Money) book.Money {
	if m.State == cell.Blank {
		l.lacks(field)
	}
	l.out = l.out || !m.OK()
	return m
}
