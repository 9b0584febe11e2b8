package rows

import (
	"bytes"
	"fmt"
	"io"
)

// maxAround bounds what stands before and behind the rows.
const maxAround = 1 << 20

// Where a pass over a sheet's part is.
const (
	beforeRows = iota
	inRows
	behindRows
)

// sheetScan is one pass over a sheet's part.
type sheetScan struct {
	scanner
	rowScan
	carry  []byte
	place  int
	around []byte
}

// Sheet reads a sheet's part to its end and gives out its rows in order, in
// blocks that are reused after give returns. The bytes around the rows, with an
// empty sheetData between them, are returned for a reader that checks them: the
// scanner knows only that the rows stand where they should. Errors of r and give
// are returned as they are; ErrOutside is wrapped.
func Sheet(r io.Reader, give func(*Block) error) (around []byte, err error) {
	s := &sheetScan{}
	err = run(r, s.block, func(b *block) error {
		if len(b.Rows) == 0 {
			return nil
		}
		return give(&b.Block)
	})
	if err != nil {
		return nil, err
	}
	return s.around, nil
}

func (s *sheetScan) block(b *block) (err error) {
	if s.b, s.hi, err = b.join(s.carry); err != nil {
		return fmt.Errorf("%w at offset %d: %w", err, s.base, ErrOutside)
	}
	s.final = b.err != nil
	s.arena, s.cells, s.rows = b.arena, b.cells, b.Rows
	done := s.content(0)
	b.window, b.arena, b.cells, b.Rows = s.b, s.arena, s.cells, s.rows
	if s.err != nil {
		if s.final && b.err != io.EOF {
			return b.err
		}
		return s.err
	}
	s.carry = append(s.carry[:0], s.b[done:s.hi]...)
	s.base += int64(done)
	return nil
}

// content reads as many rows as are whole; done is where the last one ends.
func (s *sheetScan) content(i int) (done int) {
	if s.place == beforeRows {
		if i = s.head(i); i < 0 {
			return 0
		}
	}
	for done = i; s.place == inRows; done = i {
		if i = s.space(i); s.b[i] == '<' && s.b[i+1] == 'r' && s.opens(i, "row") {
			i = s.row(&s.scanner, i+len("<row"))
		} else if s.has(i, "</sheetData>") {
			s.place, i = behindRows, i+len("</sheetData>")
		} else {
			i = s.out(i, "element among rows")
		}
		if i < 0 {
			return done
		}
	}
	if len(s.around)+s.hi-done > maxAround {
		s.final = true
		s.out(done, "much behind the rows")
		return done
	}
	s.around = append(s.around, s.b[done:s.hi]...)
	return s.hi
}

// head reads up to the first row.
func (s *sheetScan) head(i int) int {
	i, empty := s.root(i, "worksheet")
	if i < 0 {
		return -1
	}
	for i = s.space(i); !empty; i = s.space(i) {
		switch {
		case s.b[i] != '<' || s.b[i+1] == '/':
			return s.out(i, "no rows")
		case s.opens(i, "sheetData"):
			return s.startRows(i)
		}
		if i = s.pass(i, "sheetData"); i < 0 {
			return -1
		}
	}
	return s.out(i, "no rows")
}

func (s *sheetScan) startRows(i int) int {
	next, empty := s.tag(i + len("<sheetData"))
	if next < 0 {
		return -1
	}
	if i > maxAround {
		return s.out(i, "much before the rows")
	}
	s.around = append(append(s.around, bytes.TrimPrefix(s.b[:i], []byte("\xef\xbb\xbf"))...), "<sheetData/>"...)
	if s.place = inRows; empty {
		s.place = behindRows
	}
	return next
}
