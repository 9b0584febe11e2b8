// Package cell holds a value together with what was typed and where.
package cell

import (
	"strconv"
	"strings"
)

// Ref is a place in a book: a sheet (or the name of a .csv file), and a row
// and column counted from 1. Row 0 names the whole sheet, Sheet "" no place.
type Ref struct {
	Sheet string
	Row   int
	Col   int
}

// None reports whether r names no place.
func (r Ref) None() bool { return r.Sheet == "" }

// Name is the cell's address without its sheet, such as "D17"; "" for a whole sheet.
func (r Ref) Name() string {
	if r.Row == 0 {
		return ""
	}
	return Column(r.Col) + strconv.Itoa(r.Row)
}

// String is the address as makers know it, such as "Sales!D17".
func (r Ref) String() string {
	if r.Row == 0 {
		return r.Sheet
	}
	return r.Sheet + "!" + r.Name()
}

// Column is the letters of a column counted from 1; "" below 1.
func Column(n int) string {
	const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	if n > 0 && n <= len(letters) {
		return letters[n-1 : n]
	}
	var b []byte
	for ; n > 0; n = (n - 1) / 26 {
		b = append([]byte{byte('A' + (n-1)%26)}, b...)
	}
	return string(b)
}

// State tells how a value came to be.
type State uint8

const (
	// Blank: nothing was typed and there is no default.
	Blank State = iota
	// Typed: read from the book.
	Typed
	// Assumed: a default stands in for a blank.
	Assumed
	// Bad: typed, but it cannot be read; a problem says so.
	Bad
)

// Of is a value read from a cell: what it means (V), what was typed (Raw),
// where (At), and its state. V is zero unless OK.
type Of[T any] struct {
	V     T
	Raw   string
	At    Ref
	State State
}

// OK reports whether V can be used.
func (c Of[T]) OK() bool { return c.State == Typed || c.State == Assumed }

// Num is a number in base units (g, mL, minutes, fractions for percents).
type Num = Of[float64]

// Text is a piece of text, trimmed.
type Text = Of[string]

// Bool is a yes or no.
type Bool = Of[bool]

// Default is an assumed value.
func Default[T any](v T) Of[T] { return Of[T]{V: v, State: Assumed} }

// Fold is the form in which names are compared: spaces collapsed and case folded.
func Fold(s string) string {
	return strings.ToLower(strings.Join(strings.Fields(s), " "))
}
