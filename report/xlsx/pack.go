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

	"github.com/xuri/excelize/v2"
)

// pack is a zip writer that sorts its parts by name and fixes their times, so
// that the same workbook has the same bytes every time.
type pack struct {
	to    io.Writer
	parts map[string]*bytes.Buffer
}

func newPack(w io.Writer) excelize.ZipWriter { return &pack{to: w, parts: map[string]*bytes.Buffer{}} }

// Create starts a part.
func (p *pack) Create(name string) (io.Writer, error) {
	b := &bytes.Buffer{}
	p.parts[name] = b
	return b, nil
}

// AddFS is not used by excelize for workbooks that it made itself.
func (p *pack) AddFS(fs.FS) error {
	return fmt.Errorf("adding a file system to a workbook: %w", fs.ErrInvalid)
}

// Close writes all parts, the list of content types first as readers expect.
func (p *pack) Close() error {
	names := make([]string, 0, len(p.parts))
	for name := range p.parts {
		names = append(names, name)
	}
	const types = "[Content_Types].xml"
	slices.SortFunc(names, func(a, b string) int {
		if (a == types) != (b == types) {
			return map[bool]int{true: -1, false: 1}[a == types]
		}
		return strings.Compare(a, b)
	})
	z := zip.NewWriter(p.to)
	for _, name := range names {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: epoch})
		if err != nil {
			return err
		}
		text := p.parts[name].Bytes()
		if name == types {
			text = sortDefaults(text)
		}
		if _, err := w.Write(text); err != nil {
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
