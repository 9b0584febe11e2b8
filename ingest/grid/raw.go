package grid

import "pourbook/compute/day"

// RawRow is a row as its file gives it, so that plain cells can be taken without
// making strings of them. It is reused for the next row.
type RawRow struct {
	N         int
	Hidden    bool
	Plain     bool // it has cells; else Full alone tells what it holds
	Since1904 bool // of the serial numbers of days

	full func() Row
	from *rawRows
}

// Full is the row as Each gives it; without cells if all are blank. It is
// reused as RawRow is.
func (r *RawRow) Full() Row { return r.full() }

// Len is the number of cells of a plain row, by rising column; some may be blank.
func (r *RawRow) Len() int { return len(r.from.scanned.Cells) }

// Column is the column of a cell, from 1.
func (r *RawRow) Column(i int) int { return int(r.from.scanned.Cells[i].Col) }

// Blank reports whether a cell has neither value nor formula.
func (r *RawRow) Blank(i int) bool { return r.from.blank(&r.from.scanned.Cells[i]) }

// Number is the number in a cell of that format as it is written, not checked,
// without white space; false for a cell that is none. It is valid until the row
// has been taken.
func (r *RawRow) Number(i int, f Format) ([]byte, bool) {
	return r.from.number(&r.from.scanned.Cells[i], f)
}

// Shared is the number of a cell's shared text, which is not empty; false for a
// cell without.
func (r *RawRow) Shared(i int) (int, bool) { return r.from.sharedOf(&r.from.scanned.Cells[i]) }

// Text is the text of a cell that has its own, which is not empty; false for any
// other cell. It is valid until the row has been taken.
func (r *RawRow) Text(i int) ([]byte, bool) { return r.from.text(&r.from.scanned.Cells[i]) }

// Day is the day that a serial number stands for, or day.None.
func (r *RawRow) Day(serial float64) day.Date { return serialDay(serial, r.Since1904) }

// EachRaw calls f for the rows that Each gives, and perhaps for rows whose
// cells are all blank. It stops at f's first error and returns it; damage of
// the file is an error too, and may be found after a row that it concerns, and
// so are merged areas found late (ErrMerged).
func (s *Sheet) EachRaw(f func(*RawRow) error) error { return s.rows.eachRaw(f) }

// Texts is how many shared texts there are.
func (s *Sheet) Texts() int { return s.rows.sharedTexts() }

// Text is the shared text of that number, as a cell's text; "" for a number
// that is not there.
func (s *Sheet) Text(n int) string { return s.rows.sharedText(n) }

// fullOnly takes rows for one who takes raw rows.
func fullOnly(f func(*RawRow) error) func(Row) error {
	var raw RawRow
	var row Row
	full := func() Row { return row }
	return func(r Row) error {
		row, raw = r, RawRow{N: r.N, Hidden: r.Hidden, full: full}
		return f(&raw)
	}
}
