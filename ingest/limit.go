package ingest

import (
	"pourbook/compute/cell"
	"pourbook/ingest/grid"
)

// Limits of a book. A maker's is far below them; a file made to exhaust memory
// or patience is refused before it does. Sales are not counted as cells: a line
// of theirs is small.
const (
	maxKept     = 1_000_000 // cells of tables other than Sales
	maxTables   = 500
	maxHeads    = 20_000 // rows that look like headings
	maxNames    = 50_000 // of the products, channels or markets of sales
	maxProblems = 200_000
)

// Limits of the search for headings on a sheet. Below so many rows or texts
// without any, the rest is no table with headings.
const (
	maxTries = 5_000
	maxTexts = 100_000
)

// beyond notes that the book goes beyond a limit, and where.
func (r *reader) beyond(key string, limit int, at cell.Ref) {
	if r.over == nil {
		r.over = &grid.Fault{Path: r.book.Path, Key: key, Args: []any{"limit", limit, "place", at.String()}}
	}
}
