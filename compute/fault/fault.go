// Package fault tells what the program had in hand when it failed.
package fault

import (
	"fmt"

	"pourbook/compute/cell"
)

// Fault is the value of a panic: a fault of the program, and what it worked on,
// for the report to its makers.
type Fault struct {
	Name string   // a product, a material, a table, a document
	At   cell.Ref // its row of the book; none for what is no row
	What any      // the value of the first panic
}

// String is the name, the place and the panic.
func (f Fault) String() string { return fmt.Sprintf("%s, %s: %v", f.Name, f.At, f.What) }

// In adds what is in hand to a panic that passes by, unless something within it
// was in hand. It is to be deferred, before work on one row of the book or on
// one table; it costs nothing where nothing fails.
func In(at cell.Ref, name string) {
	switch p := recover().(type) {
	case nil:
	case Fault:
		panic(p)
	default:
		panic(Fault{name, at, p})
	}
}
