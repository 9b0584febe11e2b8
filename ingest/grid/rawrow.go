package grid

import (
	"bytes"

	"pourbook/ingest/grid/rows"
)

// rawRows makes raw rows of those of the scanner.
type rawRows struct {
	*walk
	give    func(*RawRow) error
	row     RawRow
	block   *rows.Block
	scanned *rows.Row // what row was made of
	shared  *texts    // nil before the first is met
	bad     error     // found when a row was made in full
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
	raw.row = RawRow{Plain: true, Since1904: s.date1904, full: raw.full, from: raw}
	err := s.scan(w, raw.take)
	return s.walkAfter(err, &last, full)
}

func (r *rawRows) take(b *rows.Block) error {
	r.block = b
	for i := range b.Rows {
		row := &b.Rows[i]
		if row.MaxStyle > 0 && int(row.MaxStyle) >= len(r.formats) {
			return rows.ErrOutside
		}
		r.walk.row.N, r.scanned = row.N, row
		n := len(row.Cells)
		if n == 0 {
			continue
		}
		if r.area += int(row.Cells[n-1].Col); r.area > maxArea {
			return rows.ErrOutside
		}
		r.row.N, r.row.Hidden = row.N, row.Hidden
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
	if r.bad = w.takeRow(r.block, r.scanned); r.bad != nil {
		return Row{N: r.scanned.N, Hidden: r.scanned.Hidden}
	}
	for n := len(w.row.Cells); n > 0 && w.row.Cells[n-1].Kind == Blank; n-- {
		w.row.Cells = w.row.Cells[:n-1]
	}
	return w.row
}

func (r *rawRows) number(c *rows.Cell, f Format) ([]byte, bool) {
	if c.Kind != rows.Number || r.format(c) != f {
		return nil, false
	}
	text := trim(r.block.Text(c.Text))
	return text, len(text) > 0
}

func (r *rawRows) format(c *rows.Cell) Format {
	if int(c.Style) < len(r.formats) {
		return r.formats[c.Style]
	}
	return PlainFormat
}

func (r *rawRows) text(c *rows.Cell) ([]byte, bool) {
	if c.Kind != rows.Str && c.Kind != rows.Inline {
		return nil, false
	}
	text := r.block.Text(c.Text)
	return text, len(text) > 0 && !hasEscape(text)
}

func (r *rawRows) blank(c *rows.Cell) bool {
	if n, ok := r.sharedNumber(c); ok {
		return r.shared.span(n).length == 0
	}
	text := r.block.Text(c.Text)
	if c.Kind != rows.Str && c.Kind != rows.Inline {
		text = trim(text)
	}
	return len(text) == 0 && !c.HasFormula
}

func (r *rawRows) sharedOf(c *rows.Cell) (int, bool) {
	n, ok := r.sharedNumber(c)
	return n, ok && r.shared.span(n).length > 0
}

// sharedNumber is the number of a shared text. Where there is no such text, the
// row in full has the fault.
func (r *rawRows) sharedNumber(c *rows.Cell) (int, bool) {
	if c.Kind != rows.Shared {
		return 0, false
	}
	if r.shared == nil {
		all, err := r.strings()
		if err != nil {
			return 0, false
		}
		r.shared = all
	}
	if n := int(c.Shared) - 1; n >= 0 {
		return n, n < r.shared.len() && !r.shared.tooLong(n)
	}
	text, n := trim(r.block.Text(c.Text)), 0
	for _, d := range text {
		if d -= '0'; d > 9 || len(text) > 7 {
			return 0, false
		}
		n = n*10 + int(d)
	}
	return n, len(text) > 0 && n < r.shared.len() && !r.shared.tooLong(n)
}

// trim drops white space around a value.
func trim(s []byte) []byte {
	if n := len(s); n > 0 && s[0] > ' ' && s[0] < 0x7f && s[n-1] > ' ' && s[n-1] < 0x7f {
		return s
	}
	return bytes.TrimSpace(s)
}
