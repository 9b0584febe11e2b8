package draw

import "math"

// StackedBars are level bars stacked of parts, natural above colored, with
// figures at the right.
type StackedBars struct {
	Parts  []string // in the order of the chart fills, at most eight
	Heads  []string // of the figures at the right
	Rows   []StackedRow
	Format Format // of the values in the bars
	Axis   AxisFormat
}

// StackedRow is a bar.
type StackedRow struct {
	Label  string
	Strong bool // label in bold
	Swatch *Swatch
	Name   string // beside the swatch
	Values []float64
	Cells  []Cell // at the right, under Heads
	Group  bool   // starts a group: more room above
}

const (
	stackedPitch = 9.2
	stackedGroup = 3.4
	stackedHeads = 5
	leastPrinted = 7.6 // mm: a narrower segment has no number in it
)

// Height is the natural height in a width of w.
func (c StackedBars) Height(d *Document, w float64) float64 {
	return d.LegendHeight(w, c.Parts) + stackedHeads + c.units()*stackedPitch + axisHeight
}

// units is the height of all bars in pitches.
func (c StackedBars) units() float64 {
	u := 0.0
	for i, r := range c.Rows {
		u++
		if i > 0 && r.Group {
			u += stackedGroup / stackedPitch
		}
	}
	return u
}

// Draw draws the bars into a rectangle.
func (c StackedBars) Draw(p *Page, r Rect) {
	y := p.Legend(r.X, r.Y, r.W, c.Parts)
	cells := c.cells(p, r)
	plot := Rect{X: r.X + r.W*0.31, Y: y + stackedHeads}
	plot.W = r.X + r.W - cells.width - 4 - plot.X
	plot.H = r.Bottom() - axisHeight - plot.Y
	ticks, s := linear(c.totals(), true, plot.X, plot.Right(), int(max(2, plot.W/14)))
	cells.heads(p, y+stackedHeads-2)
	p.levelAxis(s, ticks, plot.Y, plot.Bottom(), c.Axis.texts(ticks))
	pitch := min(plot.H/max(c.units(), 1), stackedPitch*1.15)
	at := plot.Y
	for i, row := range c.Rows {
		if i > 0 && row.Group {
			at += stackedGroup / stackedPitch * pitch
		}
		c.label(p, r, plot, at+pitch/2, row)
		c.bar(p, s, Rect{0, at + pitch*0.08, 0, pitch * 0.84}, row)
		cells.draw(p, at+pitch/2, row.Cells)
		at += pitch
	}
	p.Line(s.at(0), plot.Y-0.6, s.at(0), plot.Bottom(), 0.5, Black)
}

func (c StackedBars) totals() []float64 {
	out := make([]float64, len(c.Rows))
	for i, row := range c.Rows {
		for _, v := range row.Values {
			if usableValue(v) {
				out[i] += math.Max(v, 0)
			}
		}
	}
	return out
}

func (c StackedBars) label(p *Page, r, plot Rect, y float64, row StackedRow) {
	room := plot.X - r.X
	st := Aside
	if row.Strong {
		st = Strong.At(SizeBody)
	}
	left := room * 0.58
	if row.Swatch == nil && row.Name == "" {
		left = room - 3
	}
	p.Fit(r.X, st.Middle(y), left-2, row.Label, st, SizeSmall, AlignLeft)
	x := r.X + left
	if row.Swatch != nil {
		p.Swatch(Rect{x, y - swatchHeight/2, swatchWidth, swatchHeight}, *row.Swatch)
		x += swatchWidth + 1.4
	}
	p.Fit(x, Plain.Middle(y), plot.X-2-x, row.Name, Plain, SizeLabel, AlignLeft)
}

// bar draws the segments. Negative parts cannot be stacked and are left out.
func (c StackedBars) bar(p *Page, s scale, r Rect, row StackedRow) {
	sum := 0.0
	for i, v := range row.Values {
		if !usableValue(v) || v <= 0 {
			continue
		}
		r.X = s.at(sum)
		sum += v
		r.W = s.at(sum) - r.X
		p.ChartFill(r, i)
		c.print(p, r, i, v)
	}
}

// print sets the value in a segment that is wide enough.
func (c StackedBars) print(p *Page, r Rect, fill int, v float64) {
	text := c.Format.text(v)
	k, ground := onFill(fill)
	st := Style{Face: MonoBold, Size: SizeSmall, Ink: k}
	w := p.doc.Width(text, st)
	if r.W < leastPrinted || r.W < w+1 || r.H < 3 {
		return
	}
	cx, cy := r.X+r.W/2, r.Y+r.H/2
	if ground {
		h := min(3.6, r.H-0.6)
		p.Fill(Rect{cx - w/2 - 0.5, cy - h/2, w + 1, h}, White)
	}
	p.TextCenter(cx, st.Middle(cy), text, st)
}

func (c StackedBars) cells(p *Page, r Rect) cells {
	rows := make([][]Cell, len(c.Rows))
	for i, row := range c.Rows {
		rows[i] = row.Cells
	}
	return cellColumns(p.doc, r, c.Heads, rows)
}
