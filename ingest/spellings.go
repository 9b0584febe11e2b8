package ingest

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
)

// spellings numbers distinct texts, whatever their case and spaces; 0 is none.
type spellings struct {
	shown  book.Texts // as they were met first
	folded book.Texts // in the same order; those at the end are folded when they are needed
}

func (s *spellings) of(t string) int32 {
	for n := s.folded.Len(); n < s.shown.Len(); n++ {
		s.folded.Number(cell.Fold(s.shown.At(int32(n))))
	}
	n := s.folded.Number(cell.Fold(t))
	if int(n) == s.shown.Len() {
		s.shown.Add([]byte(t))
	}
	return n
}

// adopt takes a column's texts over with their numbers, if they differ, and in more
// than case and spaces, and no others have been met; the column then has none.
func (s *spellings) adopt(column *book.Texts) bool {
	if s.shown.Len() > 1 || !apart(column) || !column.Distinct() {
		return false
	}
	s.shown, *column = *column, book.Texts{}
	return true
}

// apart reports whether texts have neither spaces nor signs beyond ASCII, nor
// both cases among them.
func apart(texts *book.Texts) bool {
	met := uint8(0)
	for t := range texts.Words() {
		for _, c := range t {
			met |= signs[c]
		}
		if met&odd != 0 {
			return false
		}
	}
	return met != upper|lower
}

// What a byte of a text is to apart.
const (
	upper uint8 = 1 << iota
	lower
	odd
)

var signs = func() (of [256]uint8) {
	for c := range of {
		switch {
		case c <= ' ' || c >= 0x7f:
			of[c] = odd
		case c >= 'A' && c <= 'Z':
			of[c] = upper
		case c >= 'a' && c <= 'z':
			of[c] = lower
		}
	}
	return of
}()
