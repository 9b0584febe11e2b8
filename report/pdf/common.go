// Package pdf draws the documents. What is said stands in templates, what is
// drawn with in draw; a page takes its words and figures from a document model
// and decides where they stand.
//
// A document is opened with Options.open and closed with finish; notes and
// cautions add the pages that every document ends with.
package pdf

import (
	"slices"
	"time"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/unitcost"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// Options are those of a document.
type Options struct {
	Paper string // "Letter" or "A4"
	Today day.Date
	Shop  string // at the foot of every page
	Print string // fingerprint of the book, at the foot of every page
}

// document is a document in the making, with the flow of its last pages.
type document struct {
	*draw.Document
	last *draw.Flow
}

// open starts a document. Its pages are added with Flow and NewPage.
func (o Options) open(title string) *document {
	paper := draw.Letter
	if o.Paper == "A4" {
		paper = draw.A4
	}
	made, print := "", ""
	at := time.Time{}
	if o.Today != day.None {
		made, at = templates.Text("doc.made", "date", show.LongDate(o.Today)), o.Today.Time()
	}
	if o.Print != "" {
		print = templates.Text("doc.book", "print", o.Print)
	}
	return &document{Document: draw.New(draw.Options{
		Paper: paper, Shop: o.Shop, Title: title, MadeOn: made, Fingerprint: print, Author: o.Shop, Creator: "pourbook", Made: at,
		Words: draw.Words{Continued: templates.Text("doc.continued"), Sheet: templates.Text("doc.sheet"), Of: templates.Text("doc.of")},
	})}
}

// finish writes a document. It returns the PDF, and the texts that hold letters
// which could not be printed.
func finish(d *document) ([]byte, []string, error) {
	b, err := d.Bytes()
	return b, d.Missing(), err
}

// page starts a page of a document model on a flow of its own.
func (d *document) page(h costdoc.Head, name string) *draw.Flow {
	head := draw.Header{Title: h.Title, Subtitle: h.Subtitle, Finding: h.Finding, Name: name}
	for _, f := range h.Facts {
		head.Facts = append(head.Facts, draw.Fact{Label: f.Label, Value: f.Value})
	}
	return d.Flow(head)
}

// partNames and partValues are the parts of a unit cost for stacked bars.
func partNames() []string { return costdoc.PartNames() }

func partValues(u *unitcost.Cost) []float64 {
	figures := costdoc.Parts(u)
	out := make([]float64, len(figures))
	for i, f := range figures {
		out[i] = f.Or(0)
	}
	return out
}

// finishName is a finish in a text.
func finishName(f book.Finish) string { return templates.Text("word." + string(f)) }

// bullets sets sentences one below the other, each behind a small square.
func bullets(f *draw.Flow, sentences []string) {
	for _, s := range sentences {
		lines := f.Document().Lines(s, draw.Plain, f.Width()-bulletIndent, 0)
		f.Need(min(float64(len(lines)), 6) * draw.Plain.Leading())
		for i, line := range lines {
			f.Need(draw.Plain.Leading())
			f.Y = bullet(f.Page, f.Y, line, i == 0)
		}
		f.Space(1.2)
	}
}

const bulletIndent = 4

// bullet sets a line of a sentence, the first behind a square, and returns the
// y below.
func bullet(p *draw.Page, y float64, line string, first bool) float64 {
	base := y + draw.Plain.Cap() + 0.6
	if first {
		p.Fill(draw.Rect{X: p.Left(), Y: base - 1.9, W: 1.5, H: 1.5}, draw.Black)
	}
	p.Text(p.Left()+bulletIndent, base, line, draw.Plain)
	return y + draw.Plain.Leading()
}

// chunks cuts rows into runs of at most n.
func chunks[T any](rows []T, n int) [][]T {
	return slices.Collect(slices.Chunk(rows, max(n, 1)))
}
