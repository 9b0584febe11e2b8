package check

import (
	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/sales"
)

// Ledger is the book's sales up to a day.
func Ledger(b *book.Book, upTo day.Date) *sales.Ledger {
	defer fault.In(b.Heading(book.TSales), string(book.TSales))
	return sales.New(b, upTo)
}
