package parse

import (
	"strings"

	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// MoneyIn reads a cell that holds an amount of money. A currency other than
// the book's (a code such as "USD") is an error, never converted.
func MoneyIn(c grid.Cell, st Style, currency string) Result {
	r := NumberIn(c, st)
	if r.OK() && !SameCurrency(r.Currency, currency) {
		r.Finding = bad(problem.BadNumber, "currency", r.Raw, "found", r.Currency, "currency", strings.ToUpper(currency))
	}
	return r
}
