package grid

import "pourbook/compute/day"

// RawKind is what can be known of a cell without making a string of it.
type RawKind uint8

// The kinds of raw cell.
const (
	RawOther  RawKind = iota // see Full
	RawNumber                // Text is the number as written, not checked
	RawShared                // Shared is the number of its text
	RawText                  // Text is the text, with escapes such as _x000D_ as they stand
)

// RawCell is a cell as its file gives it. Text is valid until the row has been taken.
type RawCell struct {
	Col     int // from 1
	Kind    RawKind
	Format  Format
	Formula bool
	Shared  int // of a RawShared, else -1
	Text    []byte
}

// RawRow is a row as its file gives it. Cells holds the cells that have a value
// or a formula, by rising column, and only if Plain: else Full alone tells what
// the row holds. It is reused for the next row.
type RawRow struct {
	N      int
	Hidden bool
	Plain  bool
	Cells  []RawCell

	since1904 bool
	full      Row
}

// Full is the row as Each gives it; it has no cells if all are blank. It is
// reused as RawRow is.
func (r *RawRow) Full() Row { return r.full }

// Day is the day that a serial number stands for, or day.None.
func (r *RawRow) Day(serial float64) day.Date { return serialDay(serial, r.since1904) }

// EachRaw calls f for the rows that Each gives, and perhaps for rows whose
// cells are all blank. It stops at f's first error and returns it; damage of
// the file is an error too.
func (s *Sheet) EachRaw(f func(*RawRow) error) error {
	var raw RawRow
	return s.each(func(r Row) error {
		raw = RawRow{N: r.N, Hidden: r.Hidden, full: r}
		return f(&raw)
	})
}

// Text is the shared text of that number, as a cell's text; "" for a number
// that is not there.
func (s *Sheet) Text(n int) string {
	if s.text == nil {
		return ""
	}
	return s.text(n)
}
