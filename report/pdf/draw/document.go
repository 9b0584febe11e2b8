package draw

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/jung-kurt/gofpdf"
)

// Paper is a sheet size, always upright.
type Paper uint8

// The two papers.
const (
	Letter Paper = iota
	A4
)

// Size is the width and height in mm.
func (p Paper) Size() (w, h float64) {
	if p == A4 {
		return 210, 297
	}
	return 215.9, 279.4
}

// Words are the only words the package sets itself.
type Words struct {
	Continued string // after the name of a page or table that goes on: "continued"
	Sheet     string // "sheet" in "sheet 3 of 14"
	Of        string // "of"
}

// Options say what is printed, where, and what the foot of each sheet says.
type Options struct {
	Paper Paper
	// The foot: Shop · Title · MadeOn · Fingerprint. Empty parts are left out.
	Shop, Title, MadeOn, Fingerprint string
	// Document properties.
	Author, Subject, Creator string
	Made                     time.Time // creation date of the file
	Words                    Words
}

// Document is a PDF in the making. Pages record what is drawn on them; nothing
// is written before Bytes, so that a page can name the number of sheets.
type Document struct {
	opt     Options
	pages   []*Page
	late    []func()
	missing []string
	runes   map[rune]bool
}

// New starts a document.
func New(o Options) *Document {
	d := &Document{opt: o, runes: map[rune]bool{}}
	for _, s := range []string{o.Shop, o.Title, o.MadeOn, o.Fingerprint} {
		d.clean(s, Small) // the foot is set last: what it misses is to be known before
	}
	return d
}

// Sheets is the number of pages so far.
func (d *Document) Sheets() int { return len(d.pages) }

// Later runs fn before the document is written, when all pages exist, for
// lists of contents and the like.
func (d *Document) Later(fn func()) { d.late = append(d.late, fn) }

// Missing lists the texts that hold letters which neither face has, as they
// came, each once and in that order.
func (d *Document) Missing() []string { return slices.Clone(d.missing) }

// MissingRunes are the letters themselves, sorted.
func (d *Document) MissingRunes() []rune {
	out := make([]rune, 0, len(d.runes))
	for r := range d.runes {
		out = append(out, r)
	}
	slices.Sort(out)
	return out
}

// clean cleans a text for a style and notes what is missing.
func (d *Document) clean(s string, st Style) string {
	out, missing := clean(s, st.Face%faceCount)
	for _, r := range missing {
		d.runes[r] = true
	}
	if len(missing) > 0 && !slices.Contains(d.missing, s) {
		d.missing = append(d.missing, s)
	}
	return out
}

// Width is the width of a text in mm.
func (d *Document) Width(s string, st Style) float64 { return width(d.clean(s, st), st) }

// Lines breaks a text into lines no wider than w mm; most > 0 limits them.
func (d *Document) Lines(s string, st Style, w float64, most int) []string {
	return wrap(d.clean(s, st), st, w, most)
}

// Bytes writes the document. The same calls give the same bytes. A document
// without a page is an error, and so is what the PDF library refuses.
func (d *Document) Bytes() ([]byte, error) {
	if len(d.pages) == 0 {
		return nil, errors.New("a document without a page")
	}
	for len(d.late) > 0 {
		late := d.late
		d.late = nil
		for _, fn := range late {
			fn()
		}
	}
	return d.write(newPen(d.opt))
}

func (d *Document) write(k *pen) ([]byte, error) {
	for i, p := range d.pages {
		p.foot(i+1, len(d.pages))
	}
	for _, p := range d.pages {
		k.page()
		for _, op := range p.ops {
			op(k)
		}
		p.ops = p.ops[:p.body]
	}
	return k.bytes()
}

func newPen(o Options) *pen {
	w, h := o.Paper.Size()
	f := gofpdf.NewCustom(&gofpdf.InitType{
		OrientationStr: "P", UnitStr: "mm", Size: gofpdf.SizeType{Wd: w, Ht: h},
	})
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCatalogSort(true)
	f.SetCreationDate(o.Made.UTC())
	f.SetModificationDate(o.Made.UTC())
	f.SetTitle(property(o.Title), true)
	f.SetAuthor(property(o.Author), true)
	f.SetSubject(property(o.Subject), true)
	f.SetCreator(property(o.Creator), true)
	return &pen{f: f}
}

// property cleans a text for the document's properties.
func property(s string) string {
	out, _ := clean(s, Regular)
	return out
}

func (k *pen) bytes() ([]byte, error) {
	var b bytes.Buffer
	if err := k.f.Output(&b); err != nil {
		return nil, fmt.Errorf("write PDF: %w", err)
	}
	return b.Bytes(), nil
}
