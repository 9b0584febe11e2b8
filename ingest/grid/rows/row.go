package rows

import (
	"encoding/binary"
	"strconv"
)

// rowScan reads rows into the buffers of a block.
type rowScan struct {
	rows  []Row
	cells []Cell

	n      int // of the row, or of the one before
	hidden bool
	style  int32 // the highest of the row
	col    int32 // of the cell before
	// digits is the row's number as references write it, in a little-endian
	// word, and mask the bytes of it that count.
	digits, mask uint64
	width        int
}

// row reads a row, from behind the name in its start tag.
func (r *rowScan) row(s *scanner, i int) int {
	before, first := r.n, len(r.cells)
	i, empty := r.startRow(s, i)
	if i >= 0 && !empty {
		i = r.content(s, i)
	}
	if i < 0 {
		r.n, r.cells = before, r.cells[:first]
		return -1
	}
	r.rows = append(r.rows, Row{N: r.n, Hidden: r.hidden, MaxStyle: r.style, Cells: r.cells[first:len(r.cells):len(r.cells)]})
	return i
}

func (r *rowScan) content(s *scanner, i int) int {
	for b := s.b; ; {
		if b[i] != '<' {
			if i = s.space(i); b[i] != '<' {
				return s.out(i, "text in a row")
			}
		}
		switch {
		case b[i+1] == 'c' && (b[i+2] == ' ' || s.opens(i, "c")):
			if i = r.cell(s, i+len("<c")); i < 0 {
				return -1
			}
		case s.has(i, "</row>"):
			return i + len("</row>")
		default:
			return s.out(i, "element in a row")
		}
	}
}

// startRow reads the attributes of a row.
func (r *rowScan) startRow(s *scanner, i int) (next int, empty bool) {
	n, seen, digits := r.n+1, 0, []byte(nil)
	r.hidden, r.style, r.col = false, 0, 0
	for {
		name, value, j := s.attr(i)
		if j < 0 {
			return -1, false
		}
		if i = j; name == nil {
			break
		}
		what, ok := 0, true
		switch string(local(name)) {
		case "r":
			if len(name) == 1 {
				what = 1
				n, ok = natural(value)
				digits, ok = value, ok && n > r.n
			}
		case "hidden":
			if len(name) == len("hidden") {
				what = 2
				ok = r.hide(string(value))
			}
		case "ht":
			what = 4
			r.hidden = r.hidden || string(value) == "0"
			ok = len(name) == len("ht") && isNumber(value)
		}
		if !ok || seen&what != 0 {
			return s.out(i, "attribute of a row"), false
		}
		seen |= what
	}
	if n > maxRows {
		return s.out(i, "number of a row"), false
	}
	r.n = n
	r.setDigits(digits)
	if s.b[i] == '/' {
		return i + 2, true
	}
	return i + 1, false
}

func (r *rowScan) hide(value string) bool {
	switch value {
	case "1", "true", "on":
		r.hidden = true
		return true
	}
	return value == "0" || value == "false" || value == "off"
}

// setDigits takes the row's number from as it is written, unless nothing is or zeros
// stand before it.
func (r *rowScan) setDigits(written []byte) {
	var d [8]byte
	if r.width = copy(d[:], written); r.width == 0 || d[0] == '0' {
		r.width = len(strconv.AppendInt(d[:0], int64(r.n), 10))
	}
	r.mask = 1<<(8*r.width) - 1
	r.digits = binary.LittleEndian.Uint64(d[:]) & r.mask
}

// natural is a whole number of one to seven digits.
func natural(s []byte) (n int, ok bool) {
	for _, c := range s {
		if c -= '0'; c > 9 {
			return 0, false
		}
		n = n*10 + int(c)
	}
	return n, len(s) > 0 && len(s) < 8
}

func isNumber(s []byte) bool {
	for _, c := range s {
		if (c < '0' || c > '9') && c != '.' {
			return false
		}
	}
	return len(s) > 0
}
