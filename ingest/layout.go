package ingest

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"pourbook/compute/cell"
	"pourbook/ingest/grid"
)

// None is what the layout file says of a sheet or a heading that is not read,
// Open of a question that nobody has answered yet.
const (
	None = "none"
	Open = "?"
)

// Layout says what a book's sheets and headings are, where recognition needs
// help. It is kept beside the book as BOOK.layout.yaml.
type Layout struct {
	Sheets []SheetLayout
}

// SheetLayout is a table of a sheet. Row is its heading row, 0 for any that
// has the headings. From and To are its first and last column, from 1, 0 for a
// table that has its rows for itself. Table is None for a sheet that is not read.
type SheetLayout struct {
	Sheet     string
	Table     string
	Row       int
	From, To  int
	Headings  []HeadingLayout
	Fractions []string // headings of percents that are written as fractions
	line      int
	used      bool
	dropped   bool     // not written
	note      string   // written below the headings
	nearest   []string // the texts of the row that has most of the headings
	most      int      // so many of them
}

// HeadingLayout maps a heading to a field, or to None. Note is written behind it.
type HeadingLayout struct {
	Heading, Field string
	Note           string
	line           int
}

// LayoutPath is where the layout of a book is kept.
func LayoutPath(book string) string {
	return strings.TrimSuffix(book, filepath.Ext(book)) + ".layout.yaml"
}

// ReadLayout reads a layout file. Errors are *grid.Fault; those of its content
// name the line.
func ReadLayout(path string) (*Layout, error) {
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &grid.Fault{Path: path, Key: "missing", Err: err}
	case err != nil:
		return nil, &grid.Fault{Path: path, Key: "unreadable", Err: err}
	}
	l, fault := parseLayout(data)
	if fault != nil {
		fault.Path = path
		return nil, fault
	}
	return l, nil
}

// findLayout reads the layout that was asked for, or the one beside the book
// where there is one.
func findLayout(path, asked string) (*Layout, error) {
	if asked != "" {
		return ReadLayout(asked)
	}
	if _, err := os.Stat(LayoutPath(path)); err != nil {
		return &Layout{}, nil
	}
	return ReadLayout(LayoutPath(path))
}

// of are the tables that the layout has on a sheet.
func (l *Layout) of(sheet string) []*SheetLayout {
	var out []*SheetLayout
	for i := range l.Sheets {
		if cell.Fold(l.Sheets[i].Sheet) == cell.Fold(sheet) {
			out = append(out, &l.Sheets[i])
		}
	}
	return out
}

// ignored reports whether a sheet is not to be read.
func ignored(plan []*SheetLayout) bool {
	for _, p := range plan {
		if p.Table == None && p.Row == 0 && p.To == 0 {
			p.used = true
			return true
		}
	}
	return false
}

func number(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && n > 0
}
