// Package grid reads a file into cells: it knows files, sheets, rows and cell
// types, and nothing of candles.
package grid

import (
	"pourbook/compute/cell"
	"pourbook/compute/day"
)

// Kind is what a cell holds.
type Kind uint8

// The kinds of cell.
const (
	Blank   Kind = iota
	Text         // Raw is the text, as typed
	Number       // Num; Raw is its shortest decimal text
	Date         // Day; a number with a date format, or an ISO date cell; Num is the serial number
	Bool         // Num is 1 or 0
	Error        // Raw is the error, such as "#REF!"
	NoValue      // a formula that was never calculated
)

// Cell is a cell's content. Percent tells that its format shows a percent
// (0.08 is shown as 8 %), Time that its format shows a time of day or a
// duration (Num is then a part of a day). Text is never interpreted here.
// A Date whose serial number is no day of the calendar has Day day.None. The
// serial numbers of a book that counts days from 1904 have Since1904.
type Cell struct {
	Kind    Kind
	Raw     string
	Num     float64
	Day     day.Date
	Percent bool
	Time    bool
	Formula bool

	Since1904 bool
	Sums      Span
}

// Row is a row of a sheet, counted from 1. Cells[i] is in column i+1; trailing
// blanks may be missing. Cells is reused for the next row: copy what you keep.
type Row struct {
	N      int
	Hidden bool
	Cells  []Cell
}

// Limits of a spreadsheet (Microsoft, "Excel specifications and limits").
const (
	maxRows    = 1_048_576
	maxColumns = 16_384
	maxText    = 32_767 // UTF-16 units of a cell
)

// Sheet is a sheet of a workbook, or a whole .csv file.
type Sheet struct {
	Name   string
	Hidden bool
	// Merged are the merged areas, as first and last cell. Those of a large
	// sheet are not known: see ErrMerged.
	Merged [][2]cell.Ref
	rows   reader
}

// reader gives out the rows of a sheet.
type reader interface {
	each(f func(Row) error) error
	eachRaw(f func(*RawRow) error) error
	sharedTexts() int
	sharedText(n int) string
	far() (read, all int64)
}

// File is an opened book or sales file.
type File struct {
	Name   string // without folder and extension
	Path   string
	Print  string // short fingerprint of the bytes, such as "3f9a-71c2"; of a large workbook once Finish has set it
	Sheets []*Sheet
	// Notes are things to know about how the file was read (the encoding of a
	// .csv, an unusual extension), by code of their words and arguments.
	Notes []Note
	kept  *hashed // of a large workbook, else nil
}

// Note is something to know about how a file was read. Its words are
// "file.<Key>", filled from Args.
type Note struct {
	Key  string
	Args []any
}

// Close releases the file and its memory; no sheet can be read afterwards. The
// error is the system's.
func (f *File) Close() error {
	f.Sheets = nil
	if f.kept == nil {
		return nil
	}
	return f.kept.Close()
}

func (f *File) note(key string, args ...any) { f.Notes = append(f.Notes, Note{key, args}) }

// Fault is a file that cannot be read: Key is the code of its words
// ("file.<Key>" and "file.<Key>.hint"), Args, names and values in turn, fill them.
type Fault struct {
	Path string
	Key  string
	Args []any
	Err  error
}

// Error is a plain line for logs; the words for makers come from templates.
func (e *Fault) Error() string {
	if e.Err != nil {
		return e.Path + ": " + e.Key + ": " + e.Err.Error()
	}
	return e.Path + ": " + e.Key
}

// Unwrap is the cause.
func (e *Fault) Unwrap() error { return e.Err }

func fault(key string, err error, args ...any) *Fault { return &Fault{Key: key, Args: args, Err: err} }
