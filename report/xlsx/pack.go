// Package xlsx writes workbooks: the costing workbook and the price workbook
// with live formulas, and books for makers to fill in. It is the only package
// that writes with excelize.
package xlsx

import (
	"archive/zip"
	"bytes"
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
)

// pack is a zip writer that sorts its parts by name and fixes their times, so
// that the same workbook has the same bytes every time.
type pack struct {
	to    io.Writer
	zip   *zip.Writer  // into unsorted
	types bytes.Buffer // the list of content types
	// unsorted is a zip file of the parts as they come.
	unsorted bytes.Buffer
}

// contentTypes is the part that lists the others' types, first as readers expect.
const contentTypes = "[Content_Types].xml"

func newPack(w io.Writer) excelize.ZipWriter {
	p := &pack{to: w}
	p.zip = zip.NewWriter(&p.unsorted)
	var packed *flate.Writer
	p.zip.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		if packed != nil {
			packed.Reset(w)
			return packed, nil
		}
		var err error
		packed, err = flate.NewWriter(w, flate.DefaultCompression)
		return packed, err
	})
	return p
}

// Create starts a part; the one before is complete.
func (p *pack) Create(name string) (io.Writer, error) {
	if name == contentTypes {
		return &p.types, nil
	}
	return p.create(name)
}

func (p *pack) create(name string) (io.Writer, error) {
	return p.zip.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: epoch})
}

// AddFS is not used by excelize for workbooks that it made itself.
func (p *pack) AddFS(fs.FS) error {
	return fmt.Errorf("adding a file system to a workbook: %w", fs.ErrInvalid)
}

// Close writes all parts in order.
func (p *pack) Close() error {
	w, err := p.create(contentTypes)
	if err != nil {
		return err
	}
	if _, err := w.Write(sortDefaults(p.types.Bytes())); err != nil {
		return err
	}
	if err := p.zip.Close(); err != nil {
		return err
	}
	parts, err := zip.NewReader(bytes.NewReader(p.unsorted.Bytes()), int64(p.unsorted.Len()))
	if err != nil {
		return err
	}
	slices.SortFunc(parts.File, func(a, b *zip.File) int {
		if (a.Name == contentTypes) != (b.Name == contentTypes) {
			return map[bool]int{true: -1, false: 1}[a.Name == contentTypes]
		}
		return strings.Compare(a.Name, b.Name)
	})
	z := zip.NewWriter(p.to)
	for _, f := range parts.File {
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
