package draw

import (
	"math"

	"github.com/jung-kurt/gofpdf"
)

// Rect is a rectangle in mm, from its upper left corner.
type Rect struct{ X, Y, W, H float64 }

// Right is the right edge.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

func (r Rect) usable() bool { return usable(r.X, r.Y, r.W, r.H) && r.W > 0 && r.H > 0 }

// Line draws a straight line of a weight in mm.
func (p *Page) Line(x1, y1, x2, y2, weight float64, k Ink) {
	p.dashed(x1, y1, x2, y2, weight, k, nil)
}

// Hair draws a gray hairline across, at y.
func (p *Page) Hair(x1, x2, y float64) { p.Line(x1, y, x2, y, WeightHair, Hairline) }

// Dotted draws a dotted line.
func (p *Page) Dotted(x1, y1, x2, y2 float64, k Ink) {
	p.dashed(x1, y1, x2, y2, 0.3, k, dots)
}

var dots = []float64{0, 1.1}

func (p *Page) dashed(x1, y1, x2, y2, weight float64, k Ink, dash []float64) {
	if !usable(x1, y1, x2, y2, weight) {
		return
	}
	p.op(func(pen *pen) {
		pen.stroke(k, weight, dash)
		pen.f.Line(x1, y1, x2, y2)
	})
}

// Fill paints a rectangle.
func (p *Page) Fill(r Rect, k Ink) {
	if !r.usable() {
		return
	}
	p.op(func(pen *pen) {
		pen.paint(k)
		pen.f.Rect(r.X, r.Y, r.W, r.H, "F")
	})
}

// Outline draws the edge of a rectangle.
func (p *Page) Outline(r Rect, weight float64, k Ink) {
	if !r.usable() || !usable(weight) {
		return
	}
	p.op(func(pen *pen) {
		pen.stroke(k, weight, nil)
		pen.f.Rect(r.X, r.Y, r.W, r.H, "D")
	})
}

// Disc paints a circle.
func (p *Page) Disc(x, y, radius float64, k Ink) {
	if !usable(x, y, radius) || radius <= 0 {
		return
	}
	p.op(func(pen *pen) {
		pen.paint(k)
		pen.f.Circle(x, y, radius, "F")
	})
}

// Ring draws a circle, filled white, so that lines do not run through it.
func (p *Page) Ring(x, y, radius, weight float64, k Ink) {
	if !usable(x, y, radius, weight) || radius <= 0 {
		return
	}
	p.op(func(pen *pen) {
		pen.paint(White)
		pen.stroke(k, weight, nil)
		pen.f.Circle(x, y, radius, "FD")
	})
}

// Polygon paints a closed shape.
func (p *Page) Polygon(k Ink, pts ...Point) { p.polygon(pts, "F", k, 0) }

// PolygonLine draws the edge of a closed shape, white inside.
func (p *Page) PolygonLine(k Ink, weight float64, pts ...Point) { p.polygon(pts, "FD", k, weight) }

func (p *Page) polygon(pts []Point, how string, k Ink, weight float64) {
	g := make([]gofpdf.PointType, len(pts))
	for i, q := range pts {
		if !usable(q.X, q.Y, weight) {
			return
		}
		g[i] = gofpdf.PointType{X: q.X, Y: q.Y}
	}
	if len(g) < 3 {
		return
	}
	p.op(func(pen *pen) {
		if how == "F" {
			pen.paint(k)
		} else {
			pen.paint(White)
			pen.stroke(k, weight, nil)
		}
		pen.f.Polygon(g, how)
	})
}

// Hatch fills a rectangle with parallel lines: degrees counted
// counterclockwise from a level line, gap between lines in mm.
func (p *Page) Hatch(r Rect, degrees, gap, weight float64, k Ink) {
	if !r.usable() || !usable(degrees, gap, weight) || gap < 0.2 {
		return
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	cx, cy := r.X+r.W/2, r.Y+r.H/2
	reach := math.Hypot(r.W, r.H) / 2
	for n := -math.Floor(reach / gap); n <= reach/gap; n++ {
		x, y := cx+n*gap*sin, cy+n*gap*cos
		if a, b, ok := r.cut(Point{x, y}, cos, -sin); ok {
			p.Line(a.X, a.Y, b.X, b.Y, weight, k)
		}
	}
}

// cut is the part inside the rectangle of the line through q along dx, dy.
func (r Rect) cut(q Point, dx, dy float64) (a, b Point, ok bool) {
	low, high := math.Inf(-1), math.Inf(1)
	for _, side := range [...][4]float64{{q.X, dx, r.X, r.Right()}, {q.Y, dy, r.Y, r.Bottom()}} {
		at, d, from, to := side[0], side[1], side[2], side[3]
		if math.Abs(d) < 1e-9 {
			if at <= from || at >= to {
				return a, b, false
			}
			continue
		}
		t1, t2 := (from-at)/d, (to-at)/d
		low, high = max(low, min(t1, t2)), min(high, max(t1, t2))
	}
	if low >= high {
		return a, b, false
	}
	return Point{q.X + low*dx, q.Y + low*dy}, Point{q.X + high*dx, q.Y + high*dy}, true
}

// Dots fills a rectangle with dots.
func (p *Page) Dots(r Rect, gap, radius float64, k Ink) {
	if !r.usable() || !usable(gap, radius) || gap < 0.3 {
		return
	}
	rows, cols := math.Floor(r.H/gap), math.Floor(r.W/gap)
	x0, y0 := r.X+(r.W-cols*gap)/2+gap/2, r.Y+(r.H-rows*gap)/2+gap/2
	for i := range int(rows) {
		for j := range int(cols) {
			if (i+j)%2 == 0 {
				p.Disc(x0+float64(j)*gap, y0+float64(i)*gap, radius, k)
			}
		}
	}
}
