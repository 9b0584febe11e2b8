package grid

import (
	"encoding/xml"
	"io"
	"sync/atomic"

	"pourbook/compute/cell"
)

// maxArea bounds the cells, blank ones included, that are given out of one
// sheet: a value in the last column of every row is no maker's sheet.
const maxArea = 64_000_000

// sheetPart reads the rows of one sheet.
type sheetPart struct {
	*source
	name   string
	target string
	merged [][2]cell.Ref
	tall   int

	counted atomic.Int64 // bytes read
}

// walk reads the part's XML to its end: it gives out the rows on the way, and
// an error where the part is not whole.
func (s *sheetPart) walk(f func(Row) error) error {
	r, err := s.openRows()
	if err != nil {
		return err
	}
	defer r.Close()
	w := s.newWalk(f)
	w.tokens = newTokens(unicodeReader(r), s.target)
	return w.run()
}

func (s *sheetPart) newWalk(f func(Row) error) *walk {
	return &walk{sheetPart: s, give: f, covered: newCovered(s.merged)}
}

// walk is one pass over a sheet's part.
type walk struct {
	*sheetPart
	*tokens
	give    func(Row) error
	covered *covered

	row    Row
	area   int
	merges int
	inRows bool
	raw    rawCell
	// into is where text goes: the value, the formula or the inline text of
	// the cell, or nowhere.
	into *[]byte
	skip int // depth of an element whose text is left out, 0 for none
}

// The depths at which the elements of a sheet stand.
const (
	atRoot = iota + 1
	atPart // sheetData, mergeCells
	atRow
	atCell
	atValue // v, f, is
)

func (w *walk) run() error {
	for {
		tok, err := w.next()
		if err == io.EOF {
			return w.finish()
		}
		if err != nil {
			return err
		}
		switch x := tok.(type) {
		case xml.StartElement:
			err = w.start(x)
		case xml.EndElement:
			err = w.stop(x.Name.Local)
		case xml.CharData:
			if w.into != nil && w.skip == 0 {
				*w.into = append(*w.into, x...)
			}
		}
		if err != nil {
			return err
		}
	}
}

// finish holds the merged areas against those that were found before.
func (w *walk) finish() error {
	if w.merges > 0 && w.late(w.target) {
		return ErrMerged
	}
	if w.merges != len(w.merged) && w.row.N > 0 {
		return fault("bad-merge", nil, "sheet", w.name)
	}
	return nil
}

func (w *walk) start(e xml.StartElement) error {
	name := e.Name.Local
	switch {
	case w.depth == atRoot && name != "worksheet":
		return fault("part-damaged", nil, "part", w.target)
	case w.depth == atPart:
		w.inRows = name == "sheetData"
	case name == "mergeCell" && w.depth == atRow && !w.inRows:
		w.merges++
	case !w.inRows:
	case w.depth == atRow && name == "row":
		return w.startRow(e)
	case w.depth == atCell && name == "c":
		return w.startCell(e)
	case w.depth >= atValue:
		w.startValue(name)
	}
	return nil
}

func (w *walk) startValue(name string) {
	switch {
	case w.skip > 0:
	case name == "rPh":
		w.skip = w.depth
	case w.depth == atValue && name == "v":
		w.raw.hasValue, w.into = true, &w.raw.value
	case w.depth == atValue && name == "f":
		w.raw.hasFormula, w.into = true, &w.raw.formula
	case w.depth > atValue && name == "t":
		w.into = &w.raw.inline
	}
}

func (w *walk) stop(name string) error {
	switch {
	case !w.inRows:
	case w.depth >= atCell:
		if w.depth < w.skip {
			w.skip = 0
		}
		w.into = nil
	case w.depth == atRow && name == "c":
		return w.addCell()
	case w.depth == atPart && name == "row":
		return w.giveRow()
	case w.depth == atRoot:
		w.inRows = false
	}
	return nil
}

func (w *walk) startRow(e xml.StartElement) error {
	n := w.row.N + 1
	if r, ok, err := w.attribute(e, "r"); err != nil {
		return err
	} else if ok {
		if n = natural(r); n <= w.row.N || n > maxRows {
			return fault("row-order", nil, "sheet", w.name, "row", r, "after", w.row.N)
		}
	}
	hidden, _, err := w.attribute(e, "hidden")
	if err != nil {
		return err
	}
	w.row = Row{N: n, Hidden: isTrue(hidden) || attr(e, "ht") == "0", Cells: w.row.Cells[:0]}
	w.raw.col = 0
	return nil
}

// attribute is an attribute that may stand only once; the XML decoder lets
// repetitions pass.
func (w *walk) attribute(e xml.StartElement, name string) (value string, ok bool, err error) {
	for _, a := range e.Attr {
		if a.Name.Local != name || a.Name.Space != "" {
			continue
		}
		if ok {
			return "", false, w.bad(nil)
		}
		value, ok = a.Value, true
	}
	return value, ok, nil
}

func (w *walk) startCell(e xml.StartElement) error {
	col := w.raw.col + 1
	ref, ok, err := w.attribute(e, "r")
	if err != nil {
		return err
	}
	if ok {
		var row int
		if row, col, ok = parseRef([]byte(ref)); !ok || row != w.row.N || col <= w.raw.col {
			return fault("cell-order", nil, "sheet", w.name, "row", w.row.N, "cell", ref)
		}
	}
	kind, _, err := w.attribute(e, "t")
	if err != nil {
		return err
	}
	style, ok, err := w.attribute(e, "s")
	if err != nil {
		return err
	}
	n := 0
	if ok && style != "" {
		n = natural(style)
	}
	if n < 0 || n >= len(w.formats) && n > 0 {
		return fault("bad-style", nil, "place", w.place(col))
	}
	w.raw.reset(col, kind, n)
	return nil
}

func (w *walk) place(col int) string {
	return cell.Ref{Sheet: w.name, Row: w.row.N, Col: col}.String()
}

func (w *walk) longText() error {
	return fault("text-too-long", nil, "place", w.place(w.raw.col), "limit", maxText)
}

func (w *walk) addCell() error {
	if w.raw.col > maxColumns {
		return fault("too-wide", nil, "sheet", w.name, "limit", maxColumns)
	}
	c, err := w.cell()
	if err != nil || c.Kind == Blank {
		return err
	}
	if tooLong(c.Raw) {
		return w.longText()
	}
	if c.Formula {
		c.Sums = sums(w.raw.formula, w.raw.col, w.row.N)
	}
	for len(w.row.Cells) < w.raw.col-1 {
		w.row.Cells = append(w.row.Cells, Cell{})
	}
	w.row.Cells = append(w.row.Cells, c)
	return nil
}

func (w *walk) giveRow() error {
	if w.area += len(w.row.Cells); w.area > maxArea {
		return fault("too-wide", nil, "sheet", w.name, "limit", maxColumns)
	}
	w.covered.blank(w.row.N, w.row.Cells)
	for n := len(w.row.Cells); n > 0 && w.row.Cells[n-1].Kind == Blank; n-- {
		w.row.Cells = w.row.Cells[:n-1]
	}
	if len(w.row.Cells) == 0 {
		return nil
	}
	return w.give(w.row)
}

// parseRef reads "D17"; a reference without a row number has row 0.
func parseRef(s []byte) (row, col int, ok bool) {
	i := 0
	for i < len(s) && s[i] >= 'A' && s[i] <= 'Z' && i < 4 {
		col = col*26 + int(s[i]-'A') + 1
		i++
	}
	if i == 0 || i == len(s) || len(s) > i+7 || s[i] == '0' {
		return 0, 0, false
	}
	for _, b := range s[i:] {
		if b < '0' || b > '9' {
			return 0, 0, false
		}
		row = row*10 + int(b-'0')
	}
	return row, col, row <= maxRows
}

// natural is a whole number of up to seven digits, or -1.
func natural(s string) int {
	n := 0
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' || i > 6 {
			return -1
		}
		n = n*10 + int(s[i]-'0')
	}
	if s == "" {
		return -1
	}
	return n
}
