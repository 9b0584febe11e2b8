package sales

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// unpriced says how many units went for nothing without a discount that says so.
func (l *Ledger) unpriced() {
	var t Total
	var first *book.Sale
	for i := range l.Lines {
		x := &l.Lines[i]
		if x.Bad || x.Units.Sign() <= 0 || x.Gross.Sign() != 0 {
			continue
		}
		if first == nil || Above(x.Sale, first) {
			first = x.Sale
		}
		t.Add(x)
	}
	if first == nil {
		return
	}
	l.Problems.Add(problem.Problem{
		Severity: problem.Warning, Code: problem.ZeroPrice, Say: "lines", At: l.place(first),
		Args: []any{"n", t.Count, "units", t.Units.String()},
	})
}

// Above reports whether a sale stands above another in the book.
func Above(a, b *book.Sale) bool {
	if a.Sheet != b.Sheet {
		return a.Sheet < b.Sheet
	}
	return a.Row < b.Row
}

// place is the first cell of a sale's row.
func place(b *book.Book, s *book.Sale) cell.Ref {
	if int(s.Sheet) >= len(b.SaleSheets) {
		return cell.Ref{}
	}
	return cell.Ref{Sheet: b.SaleSheets[s.Sheet], Row: int(s.Row), Col: 1}
}
