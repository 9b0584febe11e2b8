// Package xlsx writes workbooks: the costing workbook and the price workbook
// with live formulas, and books for makers to fill in. It is the only package
// that writes with excelize.
package xlsx

import (
	"archive/zip"
	"bytes"
	"cmp"
	"fmt"
	"io"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/klauspost/compress/flate"
	"github.com/xuri/excelize/v2"

	"pourbook/compute/together"
)

// pack is a zip writer that sorts its parts by name and fixes their times, so
// that the same workbook has the same bytes every time.
type pack struct {
	to    io.Writer
	parts []*part
}

type part struct {
	name string
	bytes.Buffer
}

// contentTypes is the part that lists the others' types, first as readers expect.
const contentTypes = "[Content_Types].xml"

func newPack(w io.Writer) excelize.ZipWriter { return &pack{to: w} }

// Create starts a part.
func (p *pack) Create(name string) (io.Writer, error) {
	x := &part{name: name}
	p.parts = append(p.parts, x)
	return x, nil
}

// half is a zip file of some of the parts, as they come.
type half struct {
	bytes.Buffer
	err error
}

// take compresses parts until there are no more.
func (h *half) take(parts <-chan *part) {
	z := zip.NewWriter(h)
	var packed *flate.Writer
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		if packed != nil {
			packed.Reset(w)
			return packed, nil
		}
		var err error
		packed, err = flate.NewWriter(w, flate.DefaultCompression)
		return packed, err
	})
	for x := range parts {
		to, err := z.CreateHeader(&zip.FileHeader{Name: x.name, Method: zip.Deflate, Modified: epoch})
		if err == nil {
			_, err = to.Write(x.Bytes())
		}
		h.err = cmp.Or(h.err, err)
	}
	h.err = cmp.Or(h.err, z.Close())
}

// AddFS is not used by excelize for workbooks that it made itself.
func (p *pack) AddFS(fs.FS) error {
	return fmt.Errorf("adding a file system to a workbook: %w", fs.ErrInvalid)
}

// Close writes all parts in order; two at a time are compressed, the largest first.
func (p *pack) Close() error {
	slices.SortFunc(p.parts, func(a, b *part) int { return b.Len() - a.Len() })
	next := make(chan *part, len(p.parts))
	for _, x := range p.parts {
		if x.name == contentTypes {
			x = &part{x.name, *bytes.NewBuffer(sortDefaults(x.Bytes()))}
		}
		next <- x
	}
	close(next)
	var halves [2]half
	together.Run(func() { halves[0].take(next) }, func() { halves[1].take(next) })
	var parts []*zip.File
	for i := range halves {
		r, err := zip.NewReader(bytes.NewReader(halves[i].Bytes()), int64(halves[i].Len()))
		if err := cmp.Or(halves[i].err, err); err != nil {
			return err
		}
		parts = append(parts, r.File...)
	}
	slices.SortFunc(parts, func(a, b *zip.File) int {
		if (a.Name == contentTypes) != (b.Name == contentTypes) {
			return map[bool]int{true: -1, false: 1}[a.Name == contentTypes]
		}
		return strings.Compare(a.Name, b.Name)
	})
	z := zip.NewWriter(p.to)
	for _, f := range parts {
		if err := z.Copy(f); err != nil {
			return err
		}
	}
	return z.Close()
}

var defaults = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`<Default [^>]*>\s*</Default>`) })

// sortDefaults puts the list of file types in order; with a drawing in the
// workbook, excelize writes it as it comes.
func sortDefaults(text []byte) []byte {
	sorted := defaults().FindAll(text, -1)
	slices.SortFunc(sorted, bytes.Compare)
	i := -1
	return defaults().ReplaceAllFunc(text, func([]byte) []byte {
		i++
		return sorted[i]
	})
}

// epoch is the time of every part: the earliest that a zip file can hold.
var epoch = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// save is the workbook's bytes.
func save(f *excelize.File) ([]byte, error) {
	var b bytes.Buffer
	if err := f.SetZipWriter(newPack).Write(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), f.Close()
}
