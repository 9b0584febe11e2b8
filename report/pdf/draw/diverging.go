package draw

// Diverging shows gains to the right of nought, solid, and losses to the left,
// hatched, with the values at the right.
type Diverging struct {
	Rows   []DivergingRow
	Format Format // of the values at the right
	Axis   AxisFormat
}

// DivergingRow is a bar.
type DivergingRow struct {
	Label, Sub string
	Value      float64
}

const divergingPitch = 7.4

// Draw draws the chart into a rectangle.
func (c Diverging) Draw(p *Page, r Rect) {
	const figures = 22
	plot := Rect{r.X + r.W*0.34, r.Y + 1, r.W*0.66 - figures, r.H - axisHeight - 1}
	values := make([]float64, len(c.Rows))
	for i, row := range c.Rows {
		values[i] = row.Value
	}
	ticks, s := linear(values, true, plot.X, plot.Right(), 4)
	p.levelAxis(s, ticks, plot.Y, plot.Bottom(), c.Axis.texts(ticks))
	pitch := min(plot.H/float64(max(len(c.Rows), 1)), divergingPitch*1.3)
	for i, row := range c.Rows {
		y := plot.Y + (float64(i)+0.5)*pitch
		p.rowLabel(r.X, plot.X-4, y, row.Label, row.Sub)
		st := Style{Face: Bold, Size: 9.5}
		text := Nil
		if usableValue(row.Value) {
			c.bar(p, s, y, pitch*0.48, row.Value)
			text = c.Format.text(row.Value)
		}
		if row.Value < 0 {
			st.Ink = Rust
		}
		p.Fit(r.Right(), st.Middle(y), figures-3, text, st, neverCut, AlignRight)
	}
	p.Line(s.at(0), plot.Y-0.6, s.at(0), plot.Bottom(), 0.5, Black)
}

func (c Diverging) bar(p *Page, s scale, y, h, v float64) {
	from, to := s.at(min(v, 0)), s.at(max(v, 0))
	b := Rect{from, y - h/2, to - from, h}
	if v >= 0 {
		p.Fill(b, Petrol)
		return
	}
	p.Fill(b, White)
	p.Hatch(b, 45, 0.8, 0.25, Rust)
	p.Hatch(b, -45, 0.8, 0.25, Rust)
	p.Outline(b, 0.35, Rust)
}
