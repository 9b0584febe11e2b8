package xlsx

import (
	"encoding/binary"
	"math"

	"pourbook/compute/calc"
)

// equals finds the figures that are the same: the same cell of the book, the
// same rows, the same step on the same figures. One of them stands for all.
type equals struct {
	all   []*calc.Figure       // one of each, after what it rests on
	ids   map[*calc.Figure]int // of all that were added, but for literals and operations
	byKey map[string]int
	ops   map[any]int // operations, numbered as they are met
	key   []byte
}

func newEquals() equals {
	return equals{ids: make(map[*calc.Figure]int, 1<<14), byKey: make(map[string]int, 1<<12), ops: map[any]int{}}
}

// one is the figure that stands for f; f itself when it is an operation.
func (e *equals) one(f *calc.Figure) *calc.Figure {
	if unnamed(f) {
		return f
	}
	if id, ok := e.ids[f]; ok {
		return e.all[id]
	}
	return f
}

func unnamed(f *calc.Figure) bool { return f.Kind() == calc.Literal || f.Kind() == calc.Op }

// add adds f and what it rests on.
func (e *equals) add(f *calc.Figure) {
	if !unnamed(f) {
		if _, ok := e.ids[f]; ok {
			return
		}
	}
	for _, a := range f.Args() {
		if a.Kind() != calc.Literal {
			e.add(a)
		}
	}
	if unnamed(f) {
		return
	}
	e.setKey(f)
	id, ok := e.byKey[string(e.key)]
	if !ok {
		id = len(e.all)
		e.byKey[string(e.key)] = id
		e.all = append(e.all, f)
	}
	e.ids[f] = id
}

// setKey sets the key that is the same for figures that are the same.
func (e *equals) setKey(f *calc.Figure) {
	switch from := f.From(); f.Kind() {
	case calc.Input:
		e.key = append(e.key[:0], 'i')
		e.text(from.At.Sheet)
		e.number(from.At.Row)
		e.number(from.At.Col)
		e.named(f.Name())
		e.value(f)
	case calc.Rows:
		e.key = append(e.key[:0], 'r')
		e.text(from.Table)
		e.text(from.Sum)
		e.number(len(from.Where))
		for _, c := range from.Where {
			e.text(c.Field)
			e.text(c.Value)
		}
		e.number(from.Count)
		e.value(f)
	default:
		e.key = append(e.key[:0], 's')
		e.named(f.Name())
		for _, a := range f.Args() {
			e.tree(a)
		}
	}
}

// tree adds an argument: the number of a figure that has one, else what it is of.
func (e *equals) tree(f *calc.Figure) {
	switch f.Kind() {
	case calc.Op:
	case calc.Literal:
		e.key = append(e.key, '=')
		e.value(f)
		return
	default:
		e.key = append(e.key, '#')
		e.number(e.ids[f])
		return
	}
	does := f.Operation()
	op, ok := e.ops[does]
	if !ok {
		op = len(e.ops)
		e.ops[does] = op
	}
	e.key = append(e.key, '(')
	e.number(op)
	for _, a := range f.Args() {
		e.tree(a)
	}
	e.key = append(e.key, ')')
}

func (e *equals) text(s string) {
	e.number(len(s))
	e.key = append(e.key, s...)
}

func (e *equals) number(n int) { e.key = binary.AppendVarint(e.key, int64(n)) }

func (e *equals) value(f *calc.Figure) {
	e.key = binary.LittleEndian.AppendUint64(e.key, math.Float64bits(f.Or(0)))
}

func (e *equals) named(n calc.Name) {
	e.text(n.Key)
	e.number(len(n.Of))
	for _, o := range n.Of {
		e.text(o)
	}
}
