package draw

import "math"

// Scatter shows points with a fitted curve and its band.
type Scatter struct {
	XTitle, YTitle   string
	Points           []ScatterPoint
	X                []float64 // of the curve and the band, ascending
	Curve, Low, High []float64 // at X; Low and High may be empty
	XAxis, YAxis     AxisFormat
}

// ScatterPoint is a point; Mark is Disc, Ring, OpenRing or Square.
type ScatterPoint struct {
	X, Y  float64
	Label string
	Mark  Mark // NoMark is Disc
	Ink   Ink
	Range *[2]float64 // an upright range through the point
}

// frame is the plot with its two scales.
type frame struct {
	Rect
	x, y scale
}

// Draw draws the plot into a rectangle.
func (c Scatter) Draw(p *Page, r Rect) {
	xs, ys := c.values()
	plot := Rect{r.X + 13, r.Y + 6, r.W - 17, r.H - 6 - axisHeight - 4}
	xt, sx := linear(xs, false, plot.X, plot.Right(), int(max(2, plot.W/22)))
	yt, sy := linear(ys, false, plot.Bottom(), plot.Y, int(max(2, plot.H/12)))
	f := frame{plot, sx, sy}
	c.band(p, f)
	p.levelAxis(sx, xt, plot.Y, plot.Bottom(), c.XAxis.texts(xt))
	for i, t := range yt {
		p.Hair(plot.X, plot.Right(), sy.at(t))
		st := Small.With(Secondary)
		p.Fit(plot.X-1.5, st.Middle(sy.at(t)), 12, c.YAxis.texts(yt)[i], st, 5, AlignRight)
	}
	p.Line(plot.X, plot.Bottom(), plot.Right(), plot.Bottom(), 0.4, Black)
	p.Fit(r.X, r.Y+2.6, r.W, c.YTitle, Small.With(Secondary), SizeLabel, AlignLeft)
	p.Fit(plot.Right(), r.Bottom()-0.6, plot.W, c.XTitle, Small.With(Secondary), SizeLabel, AlignRight)
	c.line(p, f, c.Low, 0.25, Secondary)
	c.line(p, f, c.High, 0.25, Secondary)
	c.line(p, f, c.Curve, 0.7, Petrol)
	c.points(p, f, yt)
}

func (c Scatter) values() (xs, ys []float64) {
	for _, q := range c.Points {
		xs, ys = append(xs, q.X), append(ys, q.Y)
		if q.Range != nil {
			ys = append(ys, q.Range[0], q.Range[1])
		}
	}
	xs = append(xs, c.X...)
	return xs, append(ys, c.Curve...)
}

// band fills between Low and High, cut to the plot.
func (c Scatter) band(p *Page, f frame) {
	n := min(len(c.X), len(c.Low), len(c.High))
	var upper, lower []Point
	for i := range n {
		if !usableValue(c.X[i]) || !usableValue(c.Low[i]) || !usableValue(c.High[i]) {
			continue
		}
		lo, _ := f.y.clip(c.Low[i])
		hi, _ := f.y.clip(c.High[i])
		upper = append(upper, Point{f.x.at(c.X[i]), hi})
		lower = append(lower, Point{f.x.at(c.X[i]), lo})
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	p.Polygon(Panel, upper...)
}

// line draws a curve, cut to the plot.
func (c Scatter) line(p *Page, f frame, ys []float64, weight float64, k Ink) {
	for i := 1; i < min(len(c.X), len(ys)); i++ {
		a := Point{f.x.at(c.X[i-1]), f.y.at(ys[i-1])}
		b := Point{f.x.at(c.X[i]), f.y.at(ys[i])}
		if a, b, ok := f.segment(a, b); ok {
			p.Line(a.X, a.Y, b.X, b.Y, weight, k)
		}
	}
}

// segment is the part of a line from a to b inside the rectangle.
func (r Rect) segment(a, b Point) (Point, Point, bool) {
	from, to := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, e := range [...][2]float64{{-dx, a.X - r.X}, {dx, r.Right() - a.X}, {-dy, a.Y - r.Y}, {dy, r.Bottom() - a.Y}} {
		switch {
		case e[0] == 0:
			if e[1] < 0 {
				return a, b, false
			}
		case e[0] < 0:
			from = math.Max(from, e[1]/e[0])
		default:
			to = math.Min(to, e[1]/e[0])
		}
	}
	if !(from < to) {
		return a, b, false
	}
	return Point{a.X + from*dx, a.Y + from*dy}, Point{a.X + to*dx, a.Y + to*dy}, true
}

func (c Scatter) points(p *Page, f frame, grid []float64) {
	taken, lines := []Rect(nil), c.lines(f, grid)
	for _, q := range c.Points {
		x, y := f.x.at(q.X), f.y.at(q.Y)
		if !usable(x, y) {
			continue
		}
		if q.Range != nil {
			low, _ := f.y.clip(q.Range[0])
			high, _ := f.y.clip(q.Range[1])
			p.Line(x, low, x, high, 0.5, q.Ink)
			p.Line(x-1.2, low, x+1.2, low, 0.35, q.Ink)
			p.Line(x-1.2, high, x+1.2, high, 0.35, q.Ink)
		}
		m := q.Mark
		if m == NoMark {
			m = Disc
		}
		p.Mark(m, x, y, 2.8, q.Ink)
		taken = append(taken, Rect{x - 1.5, y - 1.5, 3, 3})
	}
	for _, q := range c.Points {
		if x, y := f.x.at(q.X), f.y.at(q.Y); usable(x, y) && q.Label != "" {
			taken = p.place(f.Rect, x, y, q.Label, Small.With(q.Ink), taken, lines)
		}
	}
}

// lines are small boxes on the curves and level grid lines, for labels to keep
// clear of.
func (c Scatter) lines(f frame, grid []float64) []Rect {
	out := append(f.along(c.X, c.Curve), append(f.along(c.X, c.Low), f.along(c.X, c.High)...)...)
	for _, t := range grid {
		out = append(out, Rect{f.X, f.y.at(t) - 0.2, f.W, 0.4})
	}
	return out
}

// along are small boxes on a curve.
func (f frame) along(xs, ys []float64) []Rect {
	var out []Rect
	for i := 1; i < min(len(xs), len(ys)); i++ {
		a := Point{f.x.at(xs[i-1]), f.y.at(ys[i-1])}
		b := Point{f.x.at(xs[i]), f.y.at(ys[i])}
		if !usable(a.X, a.Y, b.X, b.Y) {
			continue
		}
		n := min(math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y)), 400)
		for t := 0.0; t < n; t++ {
			x, y := a.X+(b.X-a.X)*t/n, a.Y+(b.Y-a.Y)*t/n
			out = append(out, Rect{x - 0.4, y - 0.4, 0.8, 0.8})
		}
	}
	return out
}

// place sets a label beside a point where it touches no point and no other
// label, and lines only when there is no other way; or leaves it out.
func (p *Page) place(plot Rect, x, y float64, s string, st Style, taken, lines []Rect) []Rect {
	w, h := p.doc.Width(s, st), st.Cap()+1
	for _, avoid := range [][]Rect{lines, nil} {
		for _, at := range [...]Point{
			{x + 2.2, y},
			{x - 2.2 - w, y},
			{x + 2, y + 1.4},
			{x + 2, y - 1.4},
			{x - 2 - w, y + 1.4},
			{x - 2 - w, y - 1.4},
			{x + 1.2, y + 3},
			{x - 1.2 - w, y - 3},
			{x + 1.2, y - 3},
			{x - 1.2 - w, y + 3},
			{x - w/2, y - 3.4},
			{x - w/2, y + 3.4},
			{x + 1.2, y + 4.6},
			{x - 1.2 - w, y - 4.6},
			{x - w/2, y - 6},
			{x - w/2, y + 6},
		} {
			b := Rect{at.X, at.Y - h/2, w, h}
			if b.X < plot.X || b.Right() > plot.Right()+4 || b.Y < plot.Y || b.Bottom() > plot.Bottom() {
				continue
			}
			if b.meets(taken) || b.meets(avoid) {
				continue
			}
			if avoid == nil {
				p.onGround(at.X, at.Y, s, st, AlignLeft)
			} else {
				p.Text(at.X, st.Middle(at.Y), s, st)
			}
			return append(taken, b)
		}
	}
	return taken
}

func (r Rect) meets(others []Rect) bool {
	for _, o := range others {
		if r.X < o.Right() && o.X < r.Right() && r.Y < o.Bottom() && o.Y < r.Bottom() {
			return true
		}
	}
	return false
}
