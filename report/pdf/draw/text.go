package draw

import (
	"strconv"
	"strings"
)

// Align says which edge of a text stands at x.
type Align uint8

// Alignments. AlignDecimal is for table columns of numbers: right, with the
// points below one another.
const (
	AlignLeft Align = iota
	AlignRight
	AlignCenter
	AlignDecimal
)

// Text sets one line from x on and returns its width.
func (p *Page) Text(x, y float64, s string, st Style) float64 {
	return p.set(x, y, p.doc.clean(s, st), st, AlignLeft)
}

// TextRight sets one line that ends at x and returns its width.
func (p *Page) TextRight(x, y float64, s string, st Style) float64 {
	return p.set(x, y, p.doc.clean(s, st), st, AlignRight)
}

// TextCenter sets one line centered on x and returns its width.
func (p *Page) TextCenter(x, y float64, s string, st Style) float64 {
	return p.set(x, y, p.doc.clean(s, st), st, AlignCenter)
}

// Fit sets one line in a width of w: smaller if needed, down to least points,
// then cut with "…". x is the edge that align names. It returns the width set.
func (p *Page) Fit(x, y, w float64, s string, st Style, least float64, align Align) float64 {
	if !usable(w, least) {
		return 0
	}
	s, st = fit(p.doc.clean(s, st), st, w, least)
	return p.set(x, y, s, st, align)
}

// Wrap sets a text in lines of width w, the first base line at y, and returns
// the base line after the last. most > 0 limits the lines.
func (p *Page) Wrap(x, y, w float64, s string, st Style, most int) float64 {
	if !usable(w) {
		return y
	}
	for _, line := range p.doc.Lines(s, st, w, most) {
		p.set(x, y, line, st, AlignLeft)
		y += st.Leading()
	}
	return y
}

// Leader sets a text, a dotted line and a text at the right end, as in a list
// of contents.
func (p *Page) Leader(x, y, w float64, s, end string, st Style) {
	ew := p.TextRight(x+w, y, end, st.In(Bold))
	sw := p.Fit(x, y, w-ew-6, s, st, SizeSmall, AlignLeft)
	p.Dotted(x+sw+1.6, y-0.3, x+w-ew-1.6, y-0.3, Hairline)
}

// set records a cleaned text.
func (p *Page) set(x, y float64, s string, st Style, align Align) float64 {
	if !usable(x, y, st.Track) || s == "" {
		return 0
	}
	w := width(s, st)
	switch align {
	case AlignRight, AlignDecimal:
		x -= w
	case AlignCenter:
		x -= w / 2
	}
	st.Size = st.size()
	st.Face %= faceCount
	p.op(func(k *pen) { k.text(x, y, s, st) })
	return w
}

// joinWords joins the parts that are not empty.
func joinWords(sep string, parts ...string) string {
	var out []string
	for _, s := range parts {
		if s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, sep)
}

func itoa(n int) string { return strconv.Itoa(n) }
