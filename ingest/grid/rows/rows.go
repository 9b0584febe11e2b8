// Package rows scans the rows of a sheet's part and the items of a part of
// shared texts. It knows a strict subset of XML, that which programs write, and
// stops with ErrOutside at anything else, so that a checking reader can take
// over. What it gives out before is right.
//
// The subset: UTF-8; elements of the rows without prefixes; no comments, CDATA
// or processing instructions other than the declaration; no repeated attribute
// that is read; no carriage return in text; row and cell numbers that rise; the
// known elements row, c, v, f, is, t, r, rPr, rPh, phoneticPr at their places.
package rows

import (
	"errors"
	"math"
)

// ErrOutside is a part that goes beyond the subset, damaged or not.
var ErrOutside = errors.New("outside the subset of the scanner")

// Kind is the type attribute of a cell, as written.
type Kind uint8

// The kinds of cell.
const (
	Number  Kind = iota // "" or "n"
	Shared              // "s": Text is the number of a shared text
	Str                 // "str"
	Inline              // "inlineStr"
	Bool                // "b"
	Error               // "e"
	ISODate             // "d"
)

// Cell is a cell that has a value or a formula. Text is the text of v, or of is
// where there is no v, Formula that of f, with entities resolved and white space
// kept. HasValue and HasFormula tell that a v or f stands there, empty or not.
// Shared is one more than the number of a shared text, or 0 where Text has to be read.
type Cell struct {
	Col, Style           int32 // Col from 1
	Shared               int32
	Text, Formula        Span
	Kind                 Kind
	HasValue, HasFormula bool
}

// Span is where a text stands in its block.
type Span struct{ at, n int32 } // at is less than 0 in the arena: its place there, less all of it

// Block is some rows that follow one another. It is valid until give returns.
type Block struct {
	Rows   []Row
	window []byte
	arena  []byte // texts that do not stand in the window as they are
}

// Text is the text of a cell of the block.
func (b *Block) Text(s Span) []byte { return textOf(b.window, b.arena, s) }

func textOf(window, arena []byte, s Span) []byte {
	if s.at < 0 {
		at := s.at - math.MinInt32
		return arena[at : at+s.n : at+s.n]
	}
	return window[s.at : s.at+s.n : s.at+s.n]
}

// Limits of a cell and a sheet, as spreadsheets have them; what goes beyond is
// outside the subset.
const (
	maxRows    = 1_048_576
	maxColumns = 16_384
	maxText    = 32_767 // in bytes here
)

// Row is a row of a sheet. Cells without v, f and is are left out, but count
// for MaxStyle, the highest style number of the row's cells.
type Row struct {
	N        int
	Hidden   bool
	MaxStyle int32
	Cells    []Cell
}
