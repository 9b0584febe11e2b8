package draw

// Mark is a small sign drawn with lines, never a letter of a font.
type Mark uint8

// The marks: pour a square, curing a hatched bar, ready an open flag, wanted a
// solid flag, natural a ring, colored a disc, thin data an open ring.
const (
	NoMark Mark = iota
	Tick        // box to tick
	Alarm       // triangle with "!"
	Ring
	Disc
	OpenRing
	Square
	OpenFlag
	SolidFlag
	HatchedBar
)

// Mark draws a mark of a height in mm centered on x, y.
func (p *Page) Mark(m Mark, x, y, size float64, k Ink) {
	if !usable(x, y, size) || size <= 0 {
		return
	}
	r := size / 2
	switch m {
	case Tick:
		p.Outline(Rect{x - r, y - r, size, size}, WeightMark, k)
	case Alarm:
		p.alarm(x, y, size, k, White)
	case Ring:
		p.Ring(x, y, r-WeightMark/2, WeightMark, k)
	case OpenRing:
		p.Ring(x, y, r-0.175, 0.35, k)
	case Disc:
		p.Disc(x, y, r, k)
	case Square:
		p.Fill(Rect{x - r, y - r, size, size}, k)
	case OpenFlag, SolidFlag:
		p.flag(x-size*0.36, y, size, k, m == SolidFlag)
	case HatchedBar:
		p.HatchedBar(Rect{x - size, y - r*0.6, 2 * size, size * 0.6}, k)
	}
}

// TickBox draws a box to tick with its upper left corner at x, y.
func (p *Page) TickBox(x, y, size float64) {
	p.Mark(Tick, x+size/2, y+size/2, size, Black)
}

// alarm draws a triangle with an exclamation mark cut out in another ink.
func (p *Page) alarm(x, y, h float64, k, inside Ink) {
	top, base, half := y-h/2, y+h/2, h*0.57
	p.Polygon(k, Point{x, top}, Point{x + half, base}, Point{x - half, base})
	w := h * 0.075
	p.Polygon(inside,
		Point{x - w*1.15, top + h*0.34}, Point{x + w*1.15, top + h*0.34},
		Point{x + w*0.75, top + h*0.68}, Point{x - w*0.75, top + h*0.68})
	p.Disc(x, top+h*0.82, w*1.25, inside)
}

// flag draws a flag whose pole stands on x and reaches from top to bottom.
func (p *Page) flag(x, y, h float64, k Ink, solid bool) {
	top, foot := y-h/2, y+h/2
	a, b, c := Point{x, top}, Point{x + h*0.78, top + h*0.3}, Point{x, top + h*0.6}
	if solid {
		p.Polygon(k, a, b, c)
	} else {
		p.PolygonLine(k, 0.35, a, b, c)
	}
	p.Line(x, top-0.15, x, foot, 0.45, k)
}

// HatchedBar draws the bar of a curing time.
func (p *Page) HatchedBar(r Rect, k Ink) {
	p.Fill(r, White)
	p.Hatch(r, 45, 0.75, 0.22, k)
	p.Outline(r, 0.25, k)
}
