package grid

import (
	"io"
	"sync/atomic"
)

// Far is how many of a sheet's bytes have been read and how many there are. It
// may be asked while Each or EachRaw is at work.
func (s *Sheet) Far() (read, all int64) { return s.rows.far() }

func (s *sheetPart) far() (read, all int64) {
	if f := s.parts[partKey(s.target)]; f != nil {
		all = int64(f.UncompressedSize64)
	}
	return s.counted.Load(), all
}

// openRows opens the sheet's part and counts its bytes as they are read.
func (s *sheetPart) openRows() (io.ReadCloser, error) {
	r, err := s.open(s.target)
	if err != nil {
		return nil, err
	}
	s.counted.Store(0)
	return &countedReader{r, &s.counted}, nil
}

type countedReader struct {
	io.ReadCloser
	n *atomic.Int64
}

func (r *countedReader) Read(b []byte) (int, error) {
	n, err := r.ReadCloser.Read(b)
	r.n.Add(int64(n))
	return n, err
}

func (t *textSheet) far() (read, all int64) {
	return int64(len(t.text) - t.left), int64(len(t.text))
}
