package grid

import (
	"bufio"
	"io"
	"sync"

	"github.com/klauspost/compress/flate"
)

// inflaters are kept because each has large tables.
var inflaters sync.Pool

// zipped is how many bytes are read from the file at a time.
const zipped = 64 << 10

// inflate unzips a part, in about two thirds of the standard library's time.
func inflate(r io.Reader) io.ReadCloser {
	if f, ok := inflaters.Get().(*inflater); ok {
		f.in.Reset(r)
		if f.ReadCloser.(flate.Resetter).Reset(f.in, nil) == nil {
			return f
		}
	}
	in := bufio.NewReaderSize(r, zipped)
	return &inflater{flate.NewReader(in), in}
}

type inflater struct {
	io.ReadCloser
	in *bufio.Reader
}

// Close gives the tables back; the inflater may not be read afterwards.
func (f *inflater) Close() error {
	if f.ReadCloser == nil {
		return nil
	}
	err := f.ReadCloser.Close()
	f.in.Reset(nil)
	inflaters.Put(&inflater{f.ReadCloser, f.in})
	f.ReadCloser = nil
	return err
}
