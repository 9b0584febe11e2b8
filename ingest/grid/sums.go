package grid

import (
	"bytes"
	"strings"
)

// Span is a run of rows, counted from 1; the zero Span is none.
type Span struct{ First, Last int32 }

// Len is the number of rows.
func (s Span) Len() int {
	if s.First == 0 {
		return 0
	}
	return int(s.Last-s.First) + 1
}

// sums are the rows whose cells, in the column of the formula's own cell and
// above it, a formula adds up: "SUM(B2:B9)", "SUBTOTAL(9,B2:B9)", "B2+B3+B4". A
// SUBTOTAL of a column of a named table has all rows above. Any other formula,
// one that leaves out a row between or adds up a single cell included, is none.
func sums(formula []byte, col, row int) Span {
	f := strings.TrimPrefix(string(bytes.TrimSpace(formula)), "+")
	inside, ok := strings.CutSuffix(f, ")")
	sep := "+"
	switch {
	case ok && strings.HasPrefix(inside, "SUM("):
		inside, sep = inside[len("SUM("):], ","
	case ok && strings.HasPrefix(inside, "SUBTOTAL("):
		code, rest, _ := strings.Cut(inside[len("SUBTOTAL("):], ",")
		if inside, sep = rest, ","; code != "9" && code != "109" {
			return Span{}
		}
		if strings.HasSuffix(inside, "]") && !strings.Contains(inside, ",") && row > 1 {
			return Span{1, int32(row - 1)}
		}
	case ok:
		return Span{}
	default:
		inside = f
	}
	var all Span
	n := 0
	for part := range strings.SplitSeq(inside, sep) {
		s, ok := columnSpan(strings.TrimSpace(part), col)
		if !ok || int(s.Last) >= row {
			return Span{}
		}
		n += s.Len()
		if all.First == 0 {
			all = s
		}
		all = Span{min(all.First, s.First), max(all.Last, s.Last)}
	}
	if n < 2 || all.Len() != n {
		return Span{}
	}
	return all
}

// columnSpan reads "B4" or "B4:B9", with or without "$", in a column.
func columnSpan(ref string, col int) (Span, bool) {
	from, to, area := strings.Cut(ref, ":")
	first, ok := rowIn(from, col)
	if !ok || !area {
		return Span{first, first}, ok
	}
	last, ok := rowIn(to, col)
	return Span{min(first, last), max(first, last)}, ok
}

// rowIn is the row of a cell's name, if the cell is in that column.
func rowIn(name string, col int) (int32, bool) {
	name = strings.TrimPrefix(name, "$")
	n, i := 0, 0
	for ; i < len(name) && i < 3 && name[i] >= 'A' && name[i] <= 'Z'; i++ {
		n = n*26 + int(name[i]-'A') + 1
	}
	row := natural(strings.TrimPrefix(name[i:], "$"))
	return int32(row), i > 0 && n == col && row > 0 && row <= maxRows
}
