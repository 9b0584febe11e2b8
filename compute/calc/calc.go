// Package calc builds figures. A figure is one expression that yields its
// value, its spreadsheet formula, the cells it rests on and, through the names
// of its steps, its explanation; so the four cannot drift apart.
//
// Figures are immutable and computed when built. A figure that rests on an
// unknown one is unknown, never zero.
package calc

import (
	"math"
	"strconv"

	"pourbook/compute/cell"
)

// Kind tells what a node of the tree is.
type Kind uint8

const (
	// Literal: a number of the formula itself, such as the 16 of oz per lb.
	Literal Kind = iota
	// Input: read from the book, or assumed in place of a blank.
	Input
	// Rows: a sum over rows of a table; its source is the rows, not one cell.
	Rows
	// Step: a named figure; it has one argument.
	Step
	// Op: an unnamed operation.
	Op
)

// Figure is a node of the tree. The nil Figure is unknown.
type Figure struct {
	value   float64
	kind    Kind
	known   bool
	assumed bool // a default stands in for an input below it
	of      made // nil for literals
}

// made is what a figure is made of: *leaf, *rows, *step, *pair or *list.
type made interface{ args() []*Figure }

type leaf struct {
	name Name
	from Origin
}

func (*leaf) args() []*Figure { return nil }

// rows is what a sum is over.
type rows struct {
	Selection
	*Summand
	count int
}

func (*rows) args() []*Figure { return nil }

type step struct {
	name Name
	arg  [1]*Figure // nil of what is unknown
}

func (s *step) args() []*Figure {
	if s.arg[0] == nil {
		return nil
	}
	return s.arg[:]
}

// Summand is what sums add up: a field of a table. Key is the code of their words.
type Summand struct{ Table, Field, Key string }

// Selection says which rows a sum is over, and what it is a figure of. It is asked
// when that is to be told, which for most of many sums is never.
type Selection interface {
	Where() []Cond
	Of() []string
}

// Name says what a figure is: Key is the code of its words in templates
// ("figure.<Key>"), Of what it is a figure of (a product, a material, a month),
// which fill the words as {0}, {1}, ...
type Name struct {
	Key string
	Of  []string
}

// Origin is where an Input or Rows figure comes from.
type Origin struct {
	At    cell.Ref
	Raw   string
	State cell.State
	// Table, Count and Where describe a sum over rows.
	Table string
	Count int
	Sum   string
	Where []Cond
}

// Cond restricts a sum to the rows whose Field equals Value; for the fields
// "from" and "to" (ISO dates) it bounds the row's date.
type Cond struct{ Field, Value string }

// Const is a number of the formula itself.
func Const(v float64) *Figure { return &Figure{kind: Literal, value: v, known: finite(v)} }

// Zero is the literal 0: a figure that is truly nothing.
var Zero = Const(0)

// In is the figure of a value read from the book. A blank or bad one is unknown.
func In(n cell.Num, key string, of ...string) *Figure {
	return &Figure{
		kind: Input, value: n.V, known: n.OK() && finite(n.V), assumed: n.State == cell.Assumed,
		of: &leaf{Name{key, of}, Origin{At: n.At, Raw: n.Raw, State: n.State}},
	}
}

// Sum is a sum over count rows of a table, already added up to v: field says
// what is added, where which rows.
func Sum(v float64, table string, count int, field string, where []Cond, key string, of ...string) *Figure {
	return SumOver(v, &Summand{table, field, key}, count, &told{where, of})
}

// SumOver is Sum where the selection tells which rows, when it is asked.
func SumOver[S any, P interface {
	*S
	Selection
}](v float64, what *Summand, count int, which P) *Figure {
	x := &struct {
		Figure
		rows
		which S
	}{Figure: Figure{kind: Rows, value: v, known: finite(v)}, which: *which}
	x.rows = rows{P(&x.which), what, count}
	x.of = &x.rows
	return &x.Figure
}

// told is a selection that is known.
type told struct {
	where []Cond
	of    []string
}

func (t *told) Where() []Cond { return t.where }
func (t *told) Of() []string  { return t.of }

// Unknown is a named figure that cannot be computed.
func Unknown(key string, of ...string) *Figure {
	return (*Figure)(nil).Named(key, of...)
}

// Named gives the figure a name, which makes it a cell of its own in a
// workbook and a line of its own in an explanation.
func (f *Figure) Named(key string, of ...string) *Figure {
	v, ok := f.Value()
	x := &struct {
		Figure
		step
	}{Figure{kind: Step, value: v, known: ok, assumed: f != nil && f.assumed}, step{Name{key, of}, [1]*Figure{f}}}
	x.of = &x.step
	return &x.Figure
}

// Value is the figure's value; false when it is unknown.
func (f *Figure) Value() (float64, bool) {
	if f == nil {
		return 0, false
	}
	return f.value, f.known
}

// Or is the value, or other when it is unknown.
func (f *Figure) Or(other float64) float64 {
	if v, ok := f.Value(); ok {
		return v
	}
	return other
}

// Known reports whether the figure has a value.
func (f *Figure) Known() bool { return f != nil && f.known }

// Kind is the node's kind.
func (f *Figure) Kind() Kind { return f.kind }

// Name is the node's name; its Key is "" for literals and operations.
func (f *Figure) Name() Name {
	switch x := f.of.(type) {
	case *leaf:
		return x.name
	case *rows:
		return Name{x.Key, x.Of()}
	case *step:
		return x.name
	}
	return Name{}
}

// Args are the figures that the node is computed from.
func (f *Figure) Args() []*Figure {
	if f.of == nil {
		return nil
	}
	return f.of.args()
}

// From is where an Input or Rows figure comes from.
func (f *Figure) From() Origin {
	switch x := f.of.(type) {
	case *leaf:
		return x.from
	case *rows:
		return Origin{State: cell.Typed, Table: x.Table, Count: x.count, Sum: x.Field, Where: x.Where()}
	}
	return Origin{}
}

// Summed is what a Rows figure adds up and over how many rows, without asking
// which; nil for any other figure.
func (f *Figure) Summed() (what *Summand, count int) {
	if x, ok := f.of.(*rows); ok {
		return x.Summand, x.count
	}
	return nil, 0
}

// IsZero reports whether the figure is unknown, so that encoding/json's
// omitzero leaves it out.
func (f *Figure) IsZero() bool { return !f.Known() }

// MarshalJSON is the unrounded value, or null when unknown; it never fails.
func (f *Figure) MarshalJSON() ([]byte, error) {
	v, ok := f.Value()
	if !ok {
		return []byte("null"), nil
	}
	if v == 0 {
		v = 0 // no negative zero
	}
	return strconv.AppendFloat(make([]byte, 0, 24), v, 'g', -1, 64), nil
}

// Walk calls visit for f and everything it rests on, each node once, parents first.
// A visit that returns false does not go below its node.
func (f *Figure) Walk(visit func(*Figure) bool) { walk(f, map[*Figure]bool{}, visit) }

func walk(f *Figure, seen map[*Figure]bool, visit func(*Figure) bool) {
	if f == nil || seen[f] {
		return
	}
	seen[f] = true
	if !visit(f) {
		return
	}
	for _, a := range f.Args() {
		walk(a, seen, visit)
	}
}

// Sources are the Input and Rows figures that f rests on, each once.
func (f *Figure) Sources() []*Figure {
	var out []*Figure
	f.Walk(func(n *Figure) bool {
		if n.kind == Input || n.kind == Rows {
			out = append(out, n)
		}
		return true
	})
	return out
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
