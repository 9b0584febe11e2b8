package ingest

import (
	"fmt"

	"pourbook/compute/cell"
)

// Broken is the value of a panic that came up while a book was read: a fault of
// the program, and the row that it had in hand, for the report to its makers.
type Broken struct {
	Path string
	At   cell.Ref // the row's first cell; none before the first row
	What any      // the value of the first panic
}

// String is the path, the place and the panic, for the report of a fault.
func (b Broken) String() string { return fmt.Sprintf("%s, %s: %v", b.Path, b.At, b.What) }

// placePanic adds the row in hand to a panic that passes by.
func (r *reader) placePanic() {
	if p := recover(); p != nil {
		panic(Broken{r.book.Path, r.place, p})
	}
}
