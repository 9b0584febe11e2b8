package xlsx

import (
	"strings"

	"pourbook/compute/calc"
)

const (
	// longest is how many characters a formula may have before it is divided; a
	// cell holds 8,192, a reader far fewer.
	longest = 1000
	// mostTerms is how many terms a part of a divided sum has.
	mostTerms = 40
	// fewest is how many neighbors are written as a range.
	fewest = 3
)

// body is what a figure is computed by: of a step its only argument.
func body(f *calc.Figure) *calc.Figure {
	if f.Kind() == calc.Step && len(f.Args()) == 1 {
		return f.Args()[0]
	}
	return f
}

// shorten divides formulas that are too long: sums into parts, others into
// their operands, each with a row of its own among the steps.
func (w *live) shorten() {
	w.each(func(f *calc.Figure, here spot) {
		if g := w.equal.one(f); !w.placed(g) || w.placeOf(g) == here {
			w.divide(g, here.sheet)
		}
	})
	for i := 0; i < len(w.steps); i++ {
		w.divide(w.steps[i], w.placeOf(w.steps[i]).sheet)
	}
}

func (w *live) divide(f *calc.Figure, sheet string) {
	if f.Kind() == calc.Literal || w.surelyShort(f) {
		return
	}
	if w.text = w.appendFormula(w.text[:0], f, sheet); len(w.text) <= longest {
		return
	}
	b := body(f)
	terms := b.Terms()
	if len(terms) <= mostTerms {
		for _, a := range b.Args() {
			w.placeOperation(a)
		}
		return
	}
	var parts []*calc.Figure
	for len(terms) > 0 {
		n := min(mostTerms, len(terms))
		part := calc.Add(terms[:n]...)
		w.placeOperation(part)
		parts, terms = append(parts, part), terms[n:]
	}
	w.parts[b] = parts
}

// surelyShort reports whether a step's formula has so few cells and numbers that
// it need not be written to see that it is short: each takes some 80 characters
// at most.
func (w *live) surelyShort(f *calc.Figure) bool {
	left := longest / 80
	var few func(args []*calc.Figure) bool
	few = func(args []*calc.Figure) bool {
		for _, a := range args {
			left--
			if left < 0 || w.placeOf(a).row == 0 && a.Kind() != calc.Literal && (!a.Infix() || !few(a.Args())) {
				return false
			}
		}
		return true
	}
	return f.Kind() == calc.Step && few(f.Args())
}

func (w *live) placeOperation(f *calc.Figure) {
	if f.Kind() == calc.Op && !w.placed(f) {
		w.addStep(f)
	}
}

// column writes a sum of cells, neighbors as ranges; false when no cells are
// neighbors, or a term has no cell.
func (w *live) column(terms []*calc.Figure, sheet string) (string, bool) {
	var out []string
	ranges := false
	for i := 0; i < len(terms); {
		at := w.placeOf(terms[i])
		if at.row == 0 {
			return "", false
		}
		n := 1
		for i+n < len(terms) && w.placeOf(terms[i+n]) == at.below(n) {
			n++
		}
		if n < fewest {
			n = 1
			out = append(out, at.in(sheet))
		} else {
			ranges = true
			out = append(out, "SUM("+at.in(sheet)+":"+at.below(n-1).cell()+")")
		}
		i += n
	}
	return strings.Join(out, "+"), ranges
}
