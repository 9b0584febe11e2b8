// Package check looks at a book with the eyes of the trade: what looks wrong
// for a candle, and what each job still lacks.
package check

import (
	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// Domain is what looks wrong for a candle.
func Domain(b *book.Book, _ day.Date) problem.List {
	var l problem.List
	return l
}
