package grid

import (
	"bytes"

	"pourbook/ingest/grid/rows"
)

// rawRows makes raw rows of those of the scanner.
type rawRows struct {
	*walk
	give func(*RawRow) error
	row  RawRow
	from *rows.Row // what row was made of
	bad  error     // found when a row was made in full
}

// eachRaw gives out the rows raw as long as the scanner can read them. Merged
// areas hide cells, so that a sheet with any is read in full.
func (s *sheetPart) eachRaw(f func(*RawRow) error) error {
	if len(s.merged) > 0 {
		return s.each(fullOnly(f))
	}
	last := 0
	full := fullOnly(f)
	w := s.newWalk(func(r Row) error {
		last = r.N
		return stop(full(r))
	})
	raw := &rawRows{walk: w, give: func(r *RawRow) error {
		last = r.N
		return stop(f(r))
	}}
	raw.row = RawRow{Plain: true, Since1904: s.date1904, full: raw.full}
	err := s.scan(w, raw.take)
	return s.walkAfter(err, &last, full)
}

func (r *rawRows) take(block []rows.Row) error {
	for i := range block {
		row := &block[i]
		if row.MaxStyle > 0 && int(row.MaxStyle) >= len(r.formats) {
			return rows.ErrOutside
		}
		r.walk.row.N, r.from = row.N, row
		r.row.N, r.row.Hidden, r.row.Cells = row.N, row.Hidden, r.row.Cells[:0]
		for j := range row.Cells {
			if err := r.add(&row.Cells[j]); err != nil {
				return err
			}
		}
		n := len(r.row.Cells)
		if n == 0 {
			continue
		}
		if r.area += r.row.Cells[n-1].Col; r.area > maxArea {
			return rows.ErrOutside
		}
		if err := r.give(&r.row); err != nil {
			return err
		}
		if r.bad != nil {
			return r.bad
		}
	}
	return nil
}

// full is the row in hand as the walk would give it. A fault in it ends the
// reading after the row.
func (r *rawRows) full() Row {
	w := r.walk
	if r.bad = w.takeRow(r.from); r.bad != nil {
		return Row{N: r.from.N, Hidden: r.from.Hidden}
	}
	for n := len(w.row.Cells); n > 0 && w.row.Cells[n-1].Kind == Blank; n-- {
		w.row.Cells = w.row.Cells[:n-1]
	}
	return w.row
}

// add makes a raw cell, unless the cell is blank.
func (r *rawRows) add(c *rows.Cell) error {
	raw := RawCell{Col: int(c.Col), Formula: c.HasFormula, Shared: -1}
	if int(c.Style) < len(r.formats) {
		raw.Format = r.formats[c.Style]
	}
	text := c.Text
	if c.Kind != rows.Str && c.Kind != rows.Inline {
		text = trim(text)
	}
	switch {
	case len(text) == 0 && !c.HasFormula:
		return nil
	case len(text) == 0:
		// Never calculated, or a formula whose value is an empty text.
	case c.Kind == rows.Number:
		raw.Kind, raw.Text = RawNumber, text
	case c.Kind == rows.Shared:
		return r.addShared(raw, text)
	case (c.Kind == rows.Str || c.Kind == rows.Inline) && !hasEscape(text):
		raw.Kind, raw.Text = RawText, text
	}
	r.row.Cells = append(r.row.Cells, raw)
	return nil
}

func (r *rawRows) addShared(raw RawCell, number []byte) error {
	all, err := r.strings()
	if err != nil {
		return err
	}
	n := 0
	for _, d := range number {
		if d -= '0'; d > 9 || len(number) > 7 {
			return rows.ErrOutside
		}
		n = n*10 + int(d)
	}
	switch {
	case n >= all.len() || all.tooLong(n):
		return rows.ErrOutside
	case all.spans[n].length > 0:
		raw.Kind, raw.Shared = RawShared, n
		r.row.Cells = append(r.row.Cells, raw)
	}
	return nil
}

// trim drops white space around a value.
func trim(s []byte) []byte {
	if n := len(s); n > 0 && s[0] > ' ' && s[0] < 0x7f && s[n-1] > ' ' && s[n-1] < 0x7f {
		return s
	}
	return bytes.TrimSpace(s)
}
