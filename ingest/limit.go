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
	maxHeads    = 5_000   // rows that look like headings; most repeat those of a printed page
	maxLooked   = 200_000 // texts that might be headings, in rows without a number or date
	maxNames    = 50_000  // of the products, channels or markets of sales
	maxProblems = 200_000
)

// beyond notes that the book goes beyond a limit, and where.
func (r *reader) beyond(key string, limit int, at cell.Ref) {
	if r.over == nil {
		r.over = &grid.Fault{Path: r.book.Path, Key: key, Args: []any{"limit", limit, "place", at.String()}}
	}
}
