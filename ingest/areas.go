package ingest

import (
	"slices"
	"strconv"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// mostAreas is how many areas of a sheet are named.
const mostAreas = 20

// area is a part of a sheet, of two or more columns, that is in no table; the
// columns count from 0, and rows is how many of its rows are filled.
type area struct {
	top, bottom, first, last int
	rows                     int
}

func (a *area) name() string {
	return cell.Column(a.first+1) + strconv.Itoa(a.top) + ":" + cell.Column(a.last+1) + strconv.Itoa(a.bottom)
}

// leave notes what of a row stands in no open table: runs of two or more filled
// cells.
func (w *walker) leave(row grid.Row) {
	first := -1
	for i := 0; i <= len(row.Cells); i++ {
		if i < len(row.Cells) && !blank(&row.Cells[i]) && w.blockAt(i) == nil {
			if first < 0 {
				first = i
			}
			continue
		}
		if first >= 0 && i-first > 1 {
			w.extend(row.N, first, i-1)
		}
		first = -1
	}
}

// extend adds a run of cells to the area above it with which it shares two
// columns or more, at most a blank row between, or begins an area.
func (w *walker) extend(row, first, last int) {
	for i := len(w.areas) - 1; i >= 0; i-- {
		a := &w.areas[i]
		if row-a.bottom <= 2 && min(last, a.last) > max(first, a.first) {
			if row > a.bottom {
				a.rows++
			}
			a.bottom, a.first, a.last = row, min(first, a.first), max(last, a.last)
			return
		}
	}
	single := func(a area) bool { return a.rows < 2 && row-a.bottom > 2 }
	if w.areas = slices.DeleteFunc(w.areas, single); len(w.areas) < mostAreas {
		w.areas = append(w.areas, area{row, row, first, last, 1})
	}
}

// unreadAreas says which areas of a sheet with tables are in none of them. Where
// the layout file says that something is no table, it is asked no more.
func (w *walker) unreadAreas() {
	if w.extra || slices.ContainsFunc(w.plan, func(p *SheetLayout) bool { return p.Table == None }) {
		return
	}
	for _, a := range w.areas {
		if a.rows > 1 {
			w.add(problem.Problem{
				Severity: problem.Note, Code: problem.UnreadSheet, Say: "area", At: cell.Ref{Sheet: w.label, Row: a.top, Col: a.first + 1},
				Args: []any{"area", a.name()},
			})
		}
	}
}
