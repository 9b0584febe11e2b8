package ingest

import (
	"slices"

	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// remember keeps a row that may name groups of the headings below it.
func (w *walker) remember(row grid.Row) {
	if !slices.ContainsFunc(row.Cells, looksLikeData) {
		w.above = grid.Row{N: row.N, Cells: slices.Clone(row.Cells)}
	}
}

// headsOf are a row's cells as headings. One that is nothing but a unit or a
// currency, such as "$" below "Retail", is what the cell above it says.
func (w *walker) headsOf(row grid.Row) []head {
	out := heads(row.Cells)
	if w.above.N != row.N-1 {
		return out
	}
	for i, h := range out {
		if h.text == "" || !onlyUnit(h.text) {
			continue
		}
		if group := w.groupAbove(i); group != "" {
			out[i] = newHead(group + " (" + h.text + ")")
		}
	}
	return out
}

// groupAbove is the text above a column, which may be merged over several.
func (w *walker) groupAbove(index int) string {
	for _, m := range w.sheet.Merged {
		if m[0].Row <= w.above.N && w.above.N <= m[1].Row && m[0].Col <= index+1 && index+1 <= m[1].Col {
			index = m[0].Col - 1
		}
	}
	if index >= len(w.above.Cells) || w.above.Cells[index].Kind != grid.Text {
		return ""
	}
	text, _ := parse.Text(w.above.Cells[index])
	return text
}

func onlyUnit(text string) bool {
	_, found := unit.Find(text)
	return (found || text == "%" || parse.IsCurrency(text)) && !words().isHeading(text)
}
