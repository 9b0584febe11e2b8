package grid

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"

	"pourbook/compute/cell"
)

const (
	maxMerges = 100_000
	maxTall   = 1_000 // merged areas that are higher than as many rows
	maxTail   = 64 << 20
)

// latePart is the size from which a sheet's merged areas are not looked for
// before its rows are read: that would unzip it twice. It is less in tests.
var latePart uint64 = 8 << 20

// ErrMerged is a large sheet that turned out to have merged areas after its
// rows were given out as though it had none. The book has to be read again, in
// a context from MergesFirst.
var ErrMerged = errors.New("merged areas behind rows that were given out")

// mergesFirst is the key of a context in which no sheet is large.
type mergesFirst struct{}

// MergesFirst is a context in which the merged areas of every sheet are known
// before its rows are given out.
func MergesFirst(ctx context.Context) context.Context {
	return context.WithValue(ctx, mergesFirst{}, true)
}

// late reports whether a part is checked, and searched for merged areas, only
// while it is read.
func (p *pack) late(name string) bool {
	return p.parts[partKey(name)].UncompressedSize64 > latePart && p.ctx.Value(mergesFirst{}) == nil
}

// scanMerges reads a sheet's part to its end, checks its size and checksum,
// and takes the merged areas from what stands behind the rows: they have to be
// known before the first row is given out, but for a late part. That the XML is whole is checked
// when the rows are read, and so is that these are all merged areas.
func (s *sheetPart) scanMerges() error {
	if s.late(s.target) {
		return nil
	}
	r, err := s.open(s.target)
	if err != nil {
		return err
	}
	defer r.Close()
	var t tail
	if _, err := io.Copy(&t, unicodeReader(r)); err != nil {
		return err
	}
	if len(t.kept) > maxTail {
		return fault("too-much", nil, "limit", maxTail>>20)
	}
	for d := xml.NewDecoder(bytes.NewReader(t.kept)); ; {
		tok, err := d.RawToken()
		if err != nil {
			return nil // the end, or damage that reading the rows reports
		}
		if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "mergeCell" {
			if err := s.merge(e); err != nil {
				return err
			}
		}
	}
}

func (s *sheetPart) merge(e xml.StartElement) error {
	area, ok := parseArea(attr(e, "ref"))
	switch {
	case !ok:
		return fault("bad-merge", nil, "sheet", s.name)
	case len(s.merged) == maxMerges, s.tall == maxTall:
		return fault("too-many-merges", nil, "sheet", s.name, "limit", maxMerges)
	}
	if area[1].Row-area[0].Row > maxTall {
		s.tall++
	}
	area[0].Sheet, area[1].Sheet = s.name, s.name
	s.merged = append(s.merged, area)
	return nil
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func parseArea(s string) (area [2]cell.Ref, ok bool) {
	from, to, two := strings.Cut(s, ":")
	if !two {
		to = from
	}
	for i, ref := range []string{from, to} {
		row, col, ok := parseRef([]byte(ref))
		if !ok || row == 0 {
			return area, false
		}
		area[i] = cell.Ref{Row: row, Col: col}
	}
	return area, area[0].Row <= area[1].Row && area[0].Col <= area[1].Col
}

// tail keeps what was written after the last end of sheetData.
type tail struct {
	kept  []byte
	found bool
	carry []byte
}

// endOfRows is how the end tag of the rows ends, whatever its prefix.
var endOfRows = []byte("sheetData>")

// longestTag is more than the end tag of the rows can measure.
const longestTag = 64

func (t *tail) Write(p []byte) (int, error) {
	cut := min(longestTag, len(p))
	t.carry = append(t.carry, p[:cut]...) // a tag may stand across
	if i := lastEnd(p); i >= 0 {
		t.found, t.kept = true, append(t.kept[:0], p[i:]...)
	} else if i := lastEnd(t.carry); i >= 0 {
		t.found, t.kept = true, append(append(t.kept[:0], t.carry[i:]...), p[cut:]...)
	} else if t.found && len(t.kept) <= maxTail {
		t.kept = append(t.kept, p...)
	}
	t.carry = append(t.carry, p[max(cut, len(p)-longestTag):]...)
	t.carry = slices.Delete(t.carry, 0, max(0, len(t.carry)-longestTag))
	return len(p), nil
}

// lastEnd is where the text behind the last end tag of the rows starts, or -1.
func lastEnd(b []byte) int {
	if !bytes.Contains(b, endOfRows) {
		return -1
	}
	for end := len(b); ; {
		i := bytes.LastIndex(b[:end], endOfRows)
		if i < 0 {
			return -1
		}
		if open := bytes.LastIndexByte(b[max(0, i-longestTag/2):i], '<'); open >= 0 {
			if tag := b[max(0, i-longestTag/2):i][open:]; bytes.HasPrefix(tag, []byte("</")) && !bytes.ContainsAny(tag, " >") {
				return i + len(endOfRows)
			}
		}
		end = i
	}
}

// covered reports which cells of a row are hidden under a merged area. Rows
// have to be asked in order.
type covered struct {
	areas  [][2]cell.Ref // by first row
	active [][2]cell.Ref
}

func newCovered(areas [][2]cell.Ref) *covered {
	sorted := slices.Clone(areas)
	slices.SortFunc(sorted, func(a, b [2]cell.Ref) int { return a[0].Row - b[0].Row })
	return &covered{areas: sorted}
}

// blank empties the cells of a row that are no anchor of their area.
func (c *covered) blank(row int, cells []Cell) {
	c.active = slices.DeleteFunc(c.active, func(a [2]cell.Ref) bool { return a[1].Row < row })
	for len(c.areas) > 0 && c.areas[0][0].Row <= row {
		if c.areas[0][1].Row >= row {
			c.active = append(c.active, c.areas[0])
		}
		c.areas = c.areas[1:]
	}
	for _, a := range c.active {
		for col := a[0].Col; col <= min(a[1].Col, len(cells)); col++ {
			if row != a[0].Row || col != a[0].Col {
				cells[col-1] = Cell{}
			}
		}
	}
}
