package grid

import "pourbook/compute/day"

// RawKind is what can be known of a cell without making a string of it.
type RawKind uint8

// The kinds of raw cell.
const (
	RawOther  RawKind = iota // what Full says: blank or anything else
	RawNumber                // Text is the number as written, not checked, without white space
	RawShared                // Shared is the number of its text, which is not empty
	RawText                  // Text is the text, which is not empty
)

// RawCell is a cell as its file gives it. Text is valid until the row has been
// taken.
type RawCell struct {
	Col     int // from 1
	Kind    RawKind
	Format  Format
	Formula bool
	Shared  int // of a RawShared, else -1
	Text    []byte
}

// RawRow is a row as its file gives it. Cells holds the cells that are not
// blank, by rising column, and only if Plain: else Full alone tells what the row
// holds. It is reused for the next row.
type RawRow struct {
	N         int
	Hidden    bool
	Plain     bool
	Since1904 bool // of the serial numbers of days
	Cells     []RawCell

	full func() Row
}

// Full is the row as Each gives it; without cells if all are blank. It is
// reused as RawRow is.
func (r *RawRow) Full() Row { return r.full() }

// Day is the day that a serial number stands for, or day.None.
func (r *RawRow) Day(serial float64) day.Date { return serialDay(serial, r.Since1904) }

// EachRaw calls f for the rows that Each gives, and perhaps for rows whose
// cells are all blank. It stops at f's first error and returns it; damage of
// the file is an error too, and may be found after a row that it concerns, and
// so are merged areas found late (ErrMerged).
func (s *Sheet) EachRaw(f func(*RawRow) error) error { return s.rows.eachRaw(f) }

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
