package draw

import "math"

// Dumbbell shows two values a row, natural and colored, against a target.
type Dumbbell struct {
	Ring, Disc  string  // names of the two values
	Target      float64 // NaN: no target
	TargetLabel string
	Rows        []DumbbellRow
	Format      Format // beside the points
	Axis        AxisFormat
}

// DumbbellRow is a row; a value that is NaN is not drawn.
type DumbbellRow struct {
	Label, Sub string
	Ring, Disc float64
}

const (
	dumbbellPitch = 7.2
	dumbbellHeads = 6
)

// Draw draws the chart into a rectangle.
func (c Dumbbell) Draw(p *Page, r Rect) {
	plot := Rect{r.X + r.W*0.31, r.Y + dumbbellHeads, r.W*0.69 - 8, r.H - dumbbellHeads - axisHeight}
	ticks, s := linear(c.values(), false, plot.X, plot.Right(), 4)
	p.levelAxis(s, ticks, plot.Y, plot.Bottom(), c.Axis.texts(ticks))
	p.markLegend(r.X, r.Y+2.4, []Mark{Ring, Disc}, []string{c.Ring, c.Disc})
	if usableValue(c.Target) {
		c.target(p, plot, s.at(c.Target))
	}
	pitch := plot.H / float64(max(len(c.Rows), 1))
	for i, row := range c.Rows {
		y := plot.Y + (float64(i)+0.5)*pitch
		p.rowLabel(r.X, plot.X-3, y, row.Label, row.Sub)
		c.row(p, s, y, row)
	}
}

func (c Dumbbell) target(p *Page, plot Rect, x float64) {
	p.Line(x, plot.Y-3.6, x, plot.Bottom(), 0.5, Black)
	st := Style{Face: Bold, Size: SizeTable}
	w := p.doc.Width(c.TargetLabel, st)
	if x+1.2+w > plot.Right()+8 {
		p.TextRight(x-1.2, plot.Y-1.6, c.TargetLabel, st)
		return
	}
	p.Text(x+1.2, plot.Y-1.6, c.TargetLabel, st)
}

func (c Dumbbell) values() []float64 {
	v := []float64{c.Target}
	for _, r := range c.Rows {
		v = append(v, r.Ring, r.Disc)
	}
	return v
}

func (c Dumbbell) row(p *Page, s scale, y float64, row DumbbellRow) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range []float64{row.Ring, row.Disc} {
		if usableValue(v) {
			low, high = min(low, v), max(high, v)
		}
	}
	if low > high {
		return
	}
	p.Line(s.at(low), y, s.at(high), y, 0.7, Black)
	if usableValue(row.Disc) {
		p.Disc(s.at(row.Disc), y, 1.8, Black)
	}
	if usableValue(row.Ring) {
		p.Ring(s.at(row.Ring), y, 1.5, WeightMark, Black)
	}
	p.onGround(s.at(high)+2.8, y, c.Format.text(high), Plain, AlignLeft)
	if high > low {
		p.onGround(s.at(low)-2.8, y, c.Format.text(low), Plain, AlignRight)
	}
}

// onGround sets a text centered on y on a white ground, so that no grid line
// runs through it.
func (p *Page) onGround(x, y float64, s string, st Style, align Align) float64 {
	w := p.doc.Width(s, st)
	left := x
	switch align {
	case AlignRight, AlignDecimal:
		left -= w
	case AlignCenter:
		left -= w / 2
	}
	if s != "" {
		p.Fill(Rect{left - 0.4, y - st.Cap()/2 - 0.6, w + 0.8, st.Cap() + 1.2}, White)
	}
	return p.set(left, st.Middle(y), p.doc.clean(s, st), st, AlignLeft)
}

// rowLabel sets a row's name at the left and what it is at the right of a space.
func (p *Page) rowLabel(from, to, y float64, label, sub string) {
	room := to - from
	sw := 0.0
	if sub != "" {
		sw = p.Fit(to, Aside.Middle(y), room*0.45, sub, Aside, SizeLabel, AlignRight) + 2
	}
	p.Fit(from, Strong.Middle(y), room-sw, label, Strong.In(Medium), SizeSmall, AlignLeft)
}
