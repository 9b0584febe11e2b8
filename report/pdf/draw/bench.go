package draw

import "math"

// Drop rings, in mm.
const (
	dropRadius = 2.05
	dropPitch  = 4.45
	dropFive   = 1.6 // more between fives
	dropTen    = 1.9 // and more between tens
	dropLine   = 6
)

// DropsHeight is the height that n drop rings need in a width.
func DropsHeight(w float64, n int) float64 {
	per := dropsPerLine(w)
	return math.Ceil(float64(max(0, min(n, maxDrops)))/float64(per)) * dropLine
}

// maxDrops is more than anybody counts by drops; the sheet stays one sheet.
const maxDrops = 400

func dropsPerLine(w float64) int {
	tens := 1
	if usable(w) {
		tens = max(1, int((w+dropFive+dropTen)/(10*dropPitch+2*dropFive+dropTen)))
	}
	return 10 * tens
}

// Drops draws a ring for each drop: fives grouped, every tenth and the last
// numbered, so that the count survives an interruption. It returns the y below.
func (p *Page) Drops(x, y, w float64, n int) float64 {
	per := dropsPerLine(w)
	n = min(n, maxDrops)
	st := Style{Face: Bold, Size: SizeLabel}
	for i := range n {
		line, at := i/per, i%per
		cx := x + dropRadius + float64(at)*dropPitch + float64(at/5)*dropFive + float64(at/10)*dropTen
		cy := y + dropLine/2 + float64(line)*dropLine
		p.Ring(cx, cy, dropRadius, 0.3, Black)
		if (i+1)%10 == 0 || i == n-1 {
			s, fitted := fit(itoa(i+1), st, 2*dropRadius-0.8, 4)
			p.set(cx, fitted.Middle(cy), s, fitted, AlignCenter)
		}
	}
	return y + DropsHeight(w, n)
}

// WriteIn draws a box to write in, with a label at the top left and a unit or
// other word at the bottom right. 8.6 mm is high enough for a stage, 11 to 14
// for a weight.
func (p *Page) WriteIn(r Rect, label, unit string) {
	p.Outline(r, WeightHair, Hairline)
	p.Line(r.X, r.Bottom(), r.Right(), r.Bottom(), WeightWriteIn, Black)
	p.Fit(r.X+1.4, r.Y+2.9, r.W-2.4, Caps(label), Label, 5, AlignLeft)
	p.Fit(r.Right()-1.6, r.Bottom()-1.8, r.W-2.6, unit, Aside, SizeLabel, AlignRight)
}

// DottedLines draws n lines to write on, pitch mm apart, the first at y+pitch,
// and returns the y of the last.
func (p *Page) DottedLines(x, y, w, pitch float64, n int) float64 {
	for range n {
		y += pitch
		p.Dotted(x, y, x+w, y, Black)
	}
	return y
}

const (
	tabWidth  = 9.5
	tabHeight = 16
	tabFirst  = 30
	tabPitch  = 18
)

// ThumbTab draws a black tab at the outer edge of the sheet; step moves it
// down and starts again at the top when the sheet is full.
func (p *Page) ThumbTab(s string, step int) {
	w, h := p.doc.opt.Paper.Size()
	steps := int((h - tabFirst - tabHeight - 30) / tabPitch)
	step = ((step % steps) + steps) % steps
	r := Rect{w - tabWidth, tabFirst + float64(step)*tabPitch, tabWidth, tabHeight}
	p.Fill(r, Black)
	st := Style{Face: MonoBold, Size: SizeBody, Ink: White}
	s, st = fit(p.doc.clean(s, st), st, tabHeight-3, SizeLabel)
	long := width(s, st)
	// Printers leave up to 6 mm white at the edge: the text stays inside of it.
	x, y := r.X+st.Cap()+0.6, r.Y+(tabHeight+long)/2
	p.op(func(k *pen) { k.turned(x, y, s, st) })
}

const panelSign = 13.5 // width of the sign's block

// WarningHeight is the height of a warning panel in a width.
func (p *Page) WarningHeight(w float64, title, text string) float64 {
	_, h := p.warning(w, title, text)
	return h
}

// Warning draws a panel: a rust block with a triangle, a title, and a text. It
// returns the y below.
func (p *Page) Warning(x, y, w float64, title, text string) float64 {
	lines, h := p.warning(w, title, text)
	r := Rect{x, y, w, h}
	if !r.usable() || w < panelSign+10 {
		return y
	}
	p.Fill(Rect{x, y, panelSign, h}, Rust) // white beside it: text stays clean in one-bit print
	p.Outline(r, 0.6, Rust)
	p.alarm(x+panelSign/2, y+h/2, 7.5, White, Rust)
	base := y + 5.4
	if title != "" {
		p.Fit(x+panelSign+3, base, w-panelSign-6, title, panelTitle, SizeTable, AlignLeft)
		base += 5
	}
	for _, line := range lines {
		p.set(x+panelSign+3, base, line, Plain, AlignLeft)
		base += Plain.Leading() + 0.2
	}
	return y + h
}

var panelTitle = Style{Face: Bold, Size: 11}

func (p *Page) warning(w float64, title, text string) ([]string, float64) {
	lines := p.doc.Lines(text, Plain, w-panelSign-6, 0)
	h := 4.2 + float64(len(lines))*(Plain.Leading()+0.2)
	if title != "" {
		h += 4.6
	}
	return lines, max(h, 11)
}
