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
	"io"
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

// Cell is a cell that has a value or a formula. Text is the text of v, Rich
// that of is, Formula that of f, with entities resolved and white space kept;
// they are valid until give returns. HasValue and HasFormula tell that a v or f
// stands there, empty or not.
type Cell struct {
	Col                  int32 // from 1
	Style                int32
	Kind                 Kind
	HasValue, HasFormula bool
	Text, Formula, Rich  []byte
}

// Row is a row of a sheet. Cells without v, f and is are left out, but count
// for MaxStyle, the highest style number of the row's cells.
type Row struct {
	N        int
	Hidden   bool
	MaxStyle int32
	Cells    []Cell
}

// Sheet reads a sheet's part to its end and gives out its rows in order, in
// blocks that are reused after give returns. The bytes around the rows, with an
// empty sheetData between them, are returned for a reader that checks them.
// Errors of r and give are returned as they are; ErrOutside is wrapped.
func Sheet(r io.Reader, give func([]Row) error) (around []byte, err error) {
	return nil, ErrOutside
}

// Texts reads the items of a part of shared texts in order: rich text joined,
// phonetic runs left out, escapes such as _x000D_ as they stand. text is valid
// until give returns. Errors are as those of Sheet.
func Texts(r io.Reader, give func(text []byte) error) error { return ErrOutside }
