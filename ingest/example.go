package ingest

import (
	"strings"

	"pourbook/ingest/grid"
)

// exampleWord starts the first text of an example row of a starter book.
const exampleWord = "Example "

// isExample reports whether a row is an example row, and where it says so.
func (b *block) isExample(cells []grid.Cell) (int, bool) {
	for i := b.first; i <= b.last && i < len(cells); i++ {
		if cells[i].Kind == grid.Text && cells[i].Raw != "" {
			return i, strings.HasPrefix(cells[i].Raw, exampleWord)
		}
	}
	return 0, false
}
