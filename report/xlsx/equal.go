package xlsx

import (
	"fmt"
	"strconv"

	"pourbook/compute/calc"
)

// equals finds the figures that are the same: the same cell of the book, the
// same rows, the same step on the same figures. One of them stands for all.
type equals struct {
	all   []*calc.Figure // one of each, after what it rests on
	ids   map[*calc.Figure]int
	byKey map[string]int
	seen  map[*calc.Figure]bool
}

func newEquals() equals {
	return equals{ids: map[*calc.Figure]int{}, byKey: map[string]int{}, seen: map[*calc.Figure]bool{}}
}

// one is the figure that stands for f; f itself when it is an operation.
func (e *equals) one(f *calc.Figure) *calc.Figure {
	if id, ok := e.ids[f]; ok {
		return e.all[id]
	}
	return f
}

// add adds f and what it rests on.
func (e *equals) add(f *calc.Figure) {
	if e.seen[f] {
		return
	}
	e.seen[f] = true
	for _, a := range f.Args() {
		e.add(a)
	}
	if f.Kind() == calc.Literal || f.Kind() == calc.Op {
		return
	}
	key := e.key(f)
	id, ok := e.byKey[key]
	if !ok {
		id = len(e.all)
		e.byKey[key] = id
		e.all = append(e.all, f)
	}
	e.ids[f] = id
}

// key is the same for figures that are the same.
func (e *equals) key(f *calc.Figure) string {
	from, name := f.From(), f.Name()
	switch f.Kind() {
	case calc.Input:
		return fmt.Sprintf("i %q %q %q %v", from.At, name.Key, name.Of, f.Or(0))
	case calc.Rows:
		return fmt.Sprintf("r %q %q %q %d %v", from.Table, from.Sum, from.Where, from.Count, f.Or(0))
	}
	return fmt.Sprintf("s %q %q ", name.Key, name.Of) + f.Formula(func(g *calc.Figure) string {
		if g == f {
			return ""
		}
		return "#" + strconv.Itoa(e.ids[g])
	})
}
