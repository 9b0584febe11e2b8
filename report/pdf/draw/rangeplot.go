package draw

import (
	"math"
	"strconv"
)

// RangePlot shows ratios with their ranges on a log axis around level, 1.
type RangePlot struct {
	Heads      []string // of the figures at the right
	Less, More string   // what lies left and right of level
	Rows       []RangeRow
}

// RangeRow is one ratio.
type RangeRow struct {
	Group          string // bold, at the first row of a group
	Spark          []float64
	SparkLabel     string // beside the line's end
	Label          string
	Low, Mid, High float64
	Thin           bool // too little data to call: open ring, thin line
	Cells          []Cell
}

const (
	rangePitch = 7
	rangeGroup = 4
	rangeHeads = 7
)

// Height is the natural height.
func (c RangePlot) Height(*Document, float64) float64 {
	return rangeHeads + c.units()*rangePitch + axisHeight
}

func (c RangePlot) units() float64 {
	u := 0.0
	for i, r := range c.Rows {
		u++
		if i > 0 && r.Group != "" {
			u += float64(rangeGroup) / rangePitch
		}
	}
	return u
}

// Draw draws the plot into a rectangle.
func (c RangePlot) Draw(p *Page, r Rect) {
	cells := c.cells(p, r)
	left := r.X + r.W*0.25
	plot := Rect{left, r.Y + rangeHeads, r.Right() - cells.width - 5 - left, r.H - rangeHeads - axisHeight}
	s, ticks := c.scale(plot)
	cells.heads(p, plot.Y-2.5)
	p.levelAxis(s, ticks, plot.Y, plot.Bottom(), ratios(ticks))
	level := s.at(1)
	p.Line(level, plot.Y-4.6, level, plot.Bottom(), 0.5, Black)
	st := Style{Face: Italic, Size: SizeTable, Ink: Secondary}
	p.aim(level-1.6, plot.Y-2.5, level-r.X-2, c.Less, st, -1)
	p.aim(level+1.6, plot.Y-2.5, plot.Right()-level, c.More, st, 1)
	pitch := plot.H / max(c.units(), 1)
	at := plot.Y
	for i, row := range c.Rows {
		if i > 0 && row.Group != "" {
			gap := float64(rangeGroup) / rangePitch * pitch
			p.Hair(r.X, r.Right(), at+gap/2)
			at += gap
		}
		c.row(p, r, plot, s, at, pitch, i)
		cells.draw(p, at+pitch/2, row.Cells)
		at += pitch
	}
}

// aim writes what lies on a side of the level line, with an arrow away from it.
func (p *Page) aim(x, y, w float64, s string, st Style, way float64) {
	if s == "" {
		return
	}
	align := AlignLeft
	if way < 0 {
		align = AlignRight
	}
	set := p.Fit(x, y, w-6, s, st, SizeLabel, align)
	from := x + way*(set+1.2)
	p.arrow(from, y-1, from+way*3.6, st.Ink)
}

// arrow draws a level arrow.
func (p *Page) arrow(from, y, to float64, k Ink) {
	d := math.Copysign(1.1, to-from)
	p.Line(from, y, to-d/2, y, 0.25, k)
	p.Polygon(k, Point{to, y}, Point{to - d, y - 0.7}, Point{to - d, y + 0.7})
}

// scale is a log scale from a power of two to a power of two that holds every
// ratio, never wider than 1/16 to 16: ranges beyond get arrows.
func (c RangePlot) scale(plot Rect) (scale, []float64) {
	reach := 1.0
	for _, r := range c.Rows {
		mids := []float64{r.Mid}
		if !r.Thin {
			mids = append(mids, r.Low, r.High)
		}
		for _, v := range mids {
			if v > 0 && !math.IsInf(v, 0) {
				reach = max(reach, math.Abs(math.Log2(v)))
			}
		}
	}
	n := min(math.Ceil(reach-0.15), 4)
	s := scale{low: math.Pow(2, -n-0.3), high: math.Pow(2, n+0.3), from: plot.X, to: plot.Right(), log: true}
	var ticks []float64
	for i := -n; i <= n; i++ {
		ticks = append(ticks, math.Pow(2, i))
	}
	return s, ticks
}

func (c RangePlot) row(p *Page, r, plot Rect, s scale, y, pitch float64, i int) {
	row := c.Rows[i]
	mid := y + pitch/2
	split := r.X + (plot.X-r.X)*0.62
	st := Plain
	if row.Thin {
		st = st.With(Secondary)
	}
	if row.Group != "" {
		p.Fit(r.X, Strong.Middle(mid), split-r.X, row.Group, Strong.At(SizeBody), SizeSmall, AlignLeft)
	}
	if len(row.Spark) > 1 {
		box := Rect{r.X, y + pitch*1.05, (split - r.X) * 0.6, pitch * 1.1}
		Sparkline{Values: row.Spark, Label: row.SparkLabel}.Draw(p, box)
	}
	p.Fit(plot.X-3, st.Middle(mid), plot.X-3-split, row.Label, st, SizeSmall, AlignRight)
	if !(row.Mid >= 0) {
		return
	}
	p.interval(s, mid, row)
}

// interval draws the range and the ratio, with arrows where the range goes on.
func (p *Page) interval(s scale, y float64, row RangeRow) {
	weight, mark := 0.9, Disc
	if row.Thin {
		weight, mark = 0.3, OpenRing
	}
	from, a := s.clip(row.Low)
	to, b := s.clip(row.High)
	if math.IsNaN(row.High) {
		to, b = s.to, 1
	}
	p.Line(from, y, to, y, weight, Black)
	p.end(from, y, a, -1)
	p.end(to, y, b, 1)
	at, _ := s.clip(row.Mid)
	p.Mark(mark, at, y, 3.4, Black)
}

// end draws a stop at the end of a range, or an arrow when it was clipped.
func (p *Page) end(x, y float64, clipped int, way float64) {
	if clipped == 0 {
		p.Line(x, y-1.1, x, y+1.1, 0.35, Black)
		return
	}
	p.Polygon(Black, Point{x, y}, Point{x - way*1.7, y - 1.2}, Point{x - way*1.7, y + 1.2})
}

func ratios(ticks []float64) []string {
	out := make([]string, len(ticks))
	for i, t := range ticks {
		out[i] = ratio(t)
	}
	return out
}

func (c RangePlot) cells(p *Page, r Rect) cells {
	rows := make([][]Cell, len(c.Rows))
	for i, row := range c.Rows {
		rows[i] = row.Cells
	}
	return cellColumns(p.doc, r, c.Heads, rows)
}

// ratio writes a power of two as people do: ¼, ½, 1, 2.
func ratio(v float64) string {
	switch v {
	case 0.5:
		return "½"
	case 0.25:
		return "¼"
	}
	if v < 1 {
		return "1/" + strconv.Itoa(int(math.Round(1/v)))
	}
	return strconv.Itoa(int(math.Round(v)))
}
