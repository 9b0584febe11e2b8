package draw

import "math"

// Margins in mm. The left one leaves room for punched holes.
const (
	MarginLeft  = 18
	MarginRight = 12
	MarginTop   = 12
	MarginFoot  = 13
)

// Fact is a line of the facts column at the right of a page's head.
type Fact struct{ Label, Value string }

// Header is the head of a page. Only Title is needed.
type Header struct {
	Title    string
	Subtitle string
	Facts    []Fact // up to four stand beside the title
	Finding  string // the sentence that says what the page found
	Name     string // in the foot; the title when empty
	Tab      string // short text on a thumb tab at the outer edge
	TabStep  int    // place of the tab, 0 at the top
	Bare     bool   // no title: the caller draws the head below the top rule
}

// Page is one sheet. Its drawing calls are recorded; see Document.
// All places are in mm from the upper left corner, text places are base lines.
type Page struct {
	doc    *Document
	head   Header
	number int
	ops    []func(*pen)
	body   int // ops before the foot
	start  float64
}

func (p *Page) op(f func(*pen)) { p.ops = append(p.ops, f) }

// NewPage adds a page with its top rule and head.
func (d *Document) NewPage(h Header) *Page { return d.page(h, false) }

func (d *Document) page(h Header, continued bool) *Page {
	if h.Name == "" {
		h.Name = h.Title
	}
	p := &Page{doc: d, head: h, number: len(d.pages) + 1}
	d.pages = append(d.pages, p)
	p.Fill(Rect{p.Left(), MarginTop, p.Width(), WeightTop}, Black)
	p.start = MarginTop + WeightTop
	switch {
	case h.Bare && !continued:
		p.start += 1
	case continued:
		p.shortHead()
	default:
		p.fullHead()
	}
	if h.Tab != "" {
		p.ThumbTab(h.Tab, h.TabStep)
	}
	return p
}

// Document is the document the page belongs to.
func (p *Page) Document() *Document { return p.doc }

// Number is the page's number, from 1.
func (p *Page) Number() int { return p.number }

// Left is the left edge of the text area.
func (p *Page) Left() float64 { return MarginLeft }

// Right is the right edge of the text area.
func (p *Page) Right() float64 { w, _ := p.doc.opt.Paper.Size(); return w - MarginRight }

// Width is the width of the text area.
func (p *Page) Width() float64 { return p.Right() - p.Left() }

// Top is where the content starts, below the head.
func (p *Page) Top() float64 { return p.start }

// Bottom is where the content ends, above the foot.
func (p *Page) Bottom() float64 { _, h := p.doc.opt.Paper.Size(); return h - MarginFoot - 2.5 }

const factsWidth = 64

// fullHead draws title, subtitle, facts and finding.
func (p *Page) fullHead() {
	h := p.head
	w := p.Width()
	if len(h.Facts) > 0 {
		w -= factsWidth + 6
	}
	y := p.start
	p.Fit(p.Left()-0.4, y+10.2, w, h.Title, Title, SizeLarge, AlignLeft)
	bottom := y + 13
	if h.Subtitle != "" {
		bottom = p.Wrap(p.Left(), y+16.6, w, h.Subtitle, Body.With(Secondary), 2) - Body.Leading() + 2
	}
	bottom = max(bottom, p.facts(y+5.2, h.Facts))
	if h.Finding != "" {
		bottom = p.Wrap(p.Left(), bottom+5.8, p.Width(), h.Finding, Finding, 4) - Finding.Leading() + 2
	}
	p.start = bottom + 3.4
}

// facts draws the facts column and returns the y below it.
func (p *Page) facts(y float64, facts []Fact) float64 {
	if len(facts) == 0 {
		return y
	}
	x := p.Right() - factsWidth
	pitch := 5.7
	if len(facts) > 3 {
		pitch = 4.6
	}
	last := y + pitch*float64(len(facts)-1)
	p.Line(x, y-4, x, last+1.5, WeightHair, Hairline)
	for i, f := range facts {
		base := y + pitch*float64(i)
		lw := p.Text(x+4, base, Caps(f.Label), Label)
		p.Fit(p.Right(), base, factsWidth-4-lw-3, f.Value, Body.In(Medium), SizeSmall, AlignRight)
	}
	return last + 1.5
}

// Also names in the foot what else begins on the page.
func (p *Page) Also(name string) { p.head.Name = joinWords(", ", p.head.Name, name) }

// shortHead names a page that goes on.
func (p *Page) shortHead() {
	st := Style{Face: Bold, Size: SizeLarge}
	word := p.doc.opt.Words.Continued
	room := p.Width() - p.doc.Width(word, Body) - 3
	w := p.Fit(p.Left(), p.start+8, room, p.head.Title, st, SizeSection, AlignLeft)
	p.Text(p.Left()+w+3, p.start+8, word, Body.With(Secondary))
	p.start += 13
}

// foot draws what traces a loose sheet. It is recorded last, when the number
// of sheets is known.
func (p *Page) foot(n, of int) {
	p.body = len(p.ops)
	o := p.doc.opt
	_, h := o.Paper.Size()
	y := h - 9.2
	p.Hair(p.Left(), p.Right(), h-MarginFoot)
	count := joinWords(" ", o.Words.Sheet, itoa(n), o.Words.Of, itoa(of))
	end := p.Right()
	strong := Style{Face: Bold, Size: SizeSmall}
	end -= p.TextRight(end, y, count, strong)
	if p.head.Name != "" {
		name := p.head.Name + " · "
		end -= p.Fit(end, y, p.Width()*0.36, name, Small, SizeLabel, AlignRight)
	}
	trace := joinWords(" · ", o.Shop, o.Title, o.MadeOn, o.Fingerprint)
	p.Fit(p.Left(), y, math.Max(end-p.Left()-4, 20), trace, Small.With(Secondary), SizeLabel, AlignLeft)
}
