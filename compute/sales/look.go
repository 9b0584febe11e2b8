package sales

import (
	"iter"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// look says what catches the eye of whoever reads the lines: totals that differ
// from their price, units that went for nothing, days in no season.
func (l *Ledger) look() {
	var free Total
	var first Line
	gaps := newGaps(l)
	for x := range l.odd(len(gaps.open) > 0) {
		if x.mismatch {
			l.Problems.Add(problem.Problem{
				Severity: problem.Warning, Code: problem.TotalMismatch, At: l.Place(x),
				Args: []any{"total", x.Net.String(), "priced", x.priced.String()},
			})
		}
		if x.free {
			if free.Count == 0 || x.Above(&first) {
				first = *x
			}
			free.AddUnits(x.Worth)
		}
		if x.Season.Row < 0 {
			gaps.add(x)
		}
	}
	gaps.say()
	if free.Count > 0 {
		l.unpriced(free, l.Place(&first))
	}
}

// unpriced says how many units went for nothing without a discount that says so.
func (l *Ledger) unpriced(t Total, at cell.Ref) {
	l.Problems.Add(problem.Problem{
		Severity: problem.Warning, Code: problem.ZeroPrice, Say: "lines", At: at,
		Args: []any{"n", t.Count, "units", t.Units.String()},
	})
}

// odd gives out the lines whose amounts catch the eye, and where the seasons
// leave days open those of any day.
func (l *Ledger) odd(open bool) iter.Seq[*Line] {
	if open {
		return l.All().Each
	}
	return func(yield func(*Line) bool) {
		if !slices.ContainsFunc(l.worth, func(w Worth) bool { return w.mismatch || w.free }) {
			return
		}
		var x Line
		for s := range l.stretches(0, l.n, book.Amounts) {
			for i, a := range s.Amounts {
				if w := &l.worth[a]; w.mismatch || w.free {
					p := l.packed(s.First + i)
					if l.fill(&x, s.First+i, &p); !yield(&x) {
						return
					}
				}
			}
		}
	}
}
