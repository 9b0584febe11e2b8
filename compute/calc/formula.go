package calc

import (
	"slices"
	"strconv"
)

// Place appends the address of a figure, nothing for one that has no cell of its
// own, which is then written out where it stands.
type Place func(to []byte, f *Figure) []byte

// formula is a formula in the making.
type formula struct {
	text  []byte
	place Place
}

// Formula writes the figure as a spreadsheet formula without the leading "=".
// place gives the address of a named figure, an input or a sum, and "" for one
// that has no cell of its own. Literals are written as numbers. For a figure with
// a cell of its own, the formula is of what it is computed from.
func (f *Figure) Formula(place func(*Figure) string) string {
	return string(f.AppendFormula(nil, func(to []byte, g *Figure) []byte {
		if g.kind == Op {
			return to
		}
		return append(to, place(g)...)
	}))
}

// AppendFormula appends what Formula writes; place may give unnamed operations an
// address too.
func (f *Figure) AppendFormula(to []byte, place Place) []byte {
	w := formula{to, place}
	if f.kind == Step && len(f.Args()) == 1 {
		f = f.Args()[0]
	}
	w.write(f)
	return w.text
}

// write writes f, and is how tightly what it wrote binds.
func (w *formula) write(f *Figure) (prec int) {
	const whole = 10
	if f.kind != Literal {
		n := len(w.text)
		if w.text = w.place(w.text, f); len(w.text) > n {
			return whole
		}
	}
	switch f.kind {
	case Step:
		if len(f.Args()) == 1 {
			return w.write(f.Args()[0])
		}
	case Op:
		op := f.does()
		op.write(w, f.Args())
		return op.prec
	}
	w.text = strconv.AppendFloat(w.text, f.value, 'G', -1, 64)
	if f.value < 0 {
		return 1
	}
	return whole
}

// infix writes operands with a sign between them; strict operations bind those on
// the right more tightly.
func infix(sign byte, prec int, strict bool) func(*formula, []*Figure) {
	return func(w *formula, args []*Figure) {
		for i, a := range args {
			if i > 0 {
				w.text = append(w.text, sign)
			}
			from := len(w.text)
			if p := w.write(a); p < prec || strict && i > 0 && p == prec {
				w.text = append(slices.Insert(w.text, from, '('), ')')
			}
		}
	}
}

func call(name string) func(*formula, []*Figure) {
	return func(w *formula, args []*Figure) {
		w.text = append(w.text, name...)
		for i, a := range args {
			w.text = append(w.text, "(,"[min(i, 1)])
			w.write(a)
		}
		w.text = append(w.text, ')')
	}
}

// text writes what of makes of the arguments' texts.
func text(of func(args []string) string) func(*formula, []*Figure) {
	return func(w *formula, args []*Figure) {
		texts, from := make([]string, len(args)), len(w.text)
		for i, a := range args {
			w.write(a)
			texts[i], w.text = string(w.text[from:]), w.text[:from]
		}
		w.text = append(w.text, of(texts)...)
	}
}
