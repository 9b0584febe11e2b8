package xlsx

import (
	"strconv"

	"pourbook/compute/calc"
)

// equals finds the figures that are the same: the same cell of the book, the
// same rows, the same step on the same figures. One of them stands for all.
type equals struct {
	all   []*calc.Figure       // one of each, after what it rests on
	ids   map[*calc.Figure]int // of all that were added, unplaced for literals and operations
	byKey map[string]int
	key   []byte
}

// unplaced has no figure that stands for it.
const unplaced = -1

func newEquals() equals {
	return equals{ids: make(map[*calc.Figure]int, 1<<14), byKey: make(map[string]int, 1<<12)}
}

// one is the figure that stands for f; f itself when it is an operation.
func (e *equals) one(f *calc.Figure) *calc.Figure {
	if id, ok := e.ids[f]; ok && id != unplaced {
		return e.all[id]
	}
	return f
}

// add adds f and what it rests on.
func (e *equals) add(f *calc.Figure) {
	if _, ok := e.ids[f]; ok {
		return
	}
	for _, a := range f.Args() {
		e.add(a)
	}
	if f.Kind() == calc.Literal || f.Kind() == calc.Op {
		e.ids[f] = unplaced
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
	from, name := f.From(), f.Name()
	switch f.Kind() {
	case calc.Input:
		e.key = append(e.key[:0], 'i')
		e.text(from.At.Sheet)
		e.number(from.At.Row)
		e.number(from.At.Col)
		e.named(name)
		e.value(f)
	case calc.Rows:
		e.key = append(e.key[:0], 'r')
		e.text(from.Table)
		e.text(from.Sum)
		for _, c := range from.Where {
			e.text(c.Field)
			e.text(c.Value)
		}
		e.number(from.Count)
		e.value(f)
	default:
		e.key = append(e.key[:0], 's')
		e.named(name)
		e.key = append(e.key, f.Formula(func(g *calc.Figure) string {
			if g == f {
				return ""
			}
			return "#" + strconv.Itoa(e.ids[g])
		})...)
	}
}

func (e *equals) text(s string) { e.key = strconv.AppendQuote(e.key, s) }

func (e *equals) number(n int) { e.key = strconv.AppendInt(append(e.key, ' '), int64(n), 10) }

func (e *equals) value(f *calc.Figure) {
	e.key = strconv.AppendFloat(append(e.key, ' '), f.Or(0), 'g', -1, 64)
}

func (e *equals) named(n calc.Name) {
	e.text(n.Key)
	for _, o := range n.Of {
		e.text(o)
	}
	e.key = append(e.key, ' ')
}
