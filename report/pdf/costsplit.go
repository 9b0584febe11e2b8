package pdf

import (
	"math"

	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

func (p *costPages) split(s *costdoc.Split) {
	p.ranges(s, s.Ranges)
	p.space(1.5)
	p.bullets(s.Tests)
	p.tens(s.Tens)
	if s.Customers != nil {
		p.table(*s.Customers)
		p.space(1.5)
	} else if len(s.Dropping) > 0 {
		p.section(templates.Text("cost.drop"), templates.Text("cost.drop.aside"), 12)
	}
	p.bullets(s.Dropping)
	if s.Twins != nil {
		p.table(*s.Twins)
		p.space(1.5)
		p.paragraph(s.TwinsNote, draw.Plain)
	}
}

// ranges draws ratios with their ranges, on as many pages as they need.
func (p *costPages) ranges(s *costdoc.Split, r costdoc.Ranges) {
	rest := r.Rows
	c := draw.RangePlot{Heads: s.Heads, Less: s.Less, More: s.More, Rows: rangeRows(rest[:min(len(rest), leastBars)])}
	p.section(r.Title, r.Aside, p.rangeHeight(c))
	for len(rest) > 0 {
		n := p.fittingRanges(c, rest)
		c.Rows = rangeRows(rest[:n])
		c.Draw(p.f.Page, p.take(p.rangeHeight(c)))
		if rest = rest[n:]; len(rest) > 0 {
			p.next()
		}
	}
}

// fittingRanges is how many rows fit the page, at least one; a group is parted
// only when it is the first.
func (p *costPages) fittingRanges(c draw.RangePlot, rows []costdoc.Range) int {
	n := len(rows)
	for c.Rows = rangeRows(rows); n > 1 && p.rangeHeight(c) > p.f.Rest(); c.Rows = rangeRows(rows[:n]) {
		n--
	}
	for k := n; k > 0 && n < len(rows); k-- {
		if rows[k].Group != "" {
			return k
		}
	}
	return n
}

// rangeHeight is the height of a plot with rows closer than its own.
func (p *costPages) rangeHeight(c draw.RangePlot) float64 {
	d, w := p.Document, p.f.Width()
	return closer(c.Height(d, w), draw.RangePlot{}.Height(d, w), draw.RangePlot{Rows: c.Rows[:1]}.Height(d, w), rangeRow)
}

func rangeRows(rows []costdoc.Range) []draw.RangeRow {
	out := make([]draw.RangeRow, len(rows))
	for i, r := range rows {
		out[i] = draw.RangeRow{Group: r.Group, Label: r.Label, Low: r.Low, Mid: r.Mid, High: r.High, Thin: r.Thin}
		for _, c := range r.Cells {
			out[i].Cells = append(out[i].Cells, draw.Cell{Text: c.Text, Bold: c.Bold, Muted: c.Muted})
		}
	}
	return out
}

// tensAcross is how many jars stand side by side.
const tensAcross = 3

func (p *costPages) tens(t *costdoc.Tens) {
	if t == nil {
		return
	}
	for i, line := range chunks(t.Blocks, tensAcross) {
		const gap = 6
		w := (p.f.Width() - gap*(tensAcross-1)) / tensAcross
		h := 0.0
		var charts []draw.Tens
		for _, b := range line {
			c := draw.Tens{Title: b.Title}
			for _, r := range b.Rows {
				c.Rows = append(c.Rows, draw.TensRow{Label: r.Label, Solid: r.Solid, Either: r.Either})
			}
			charts = append(charts, c)
			h = math.Max(h, c.Height(p.Document, w))
		}
		if i == 0 {
			p.section(t.Title, t.Aside, h)
		}
		at := p.take(h + 2)
		for j, c := range charts {
			c.Draw(p.f.Page, draw.Rect{X: at.X + float64(j)*(w+gap), Y: at.Y, W: w, H: c.Height(p.Document, w)})
		}
	}
	if t.Note != "" {
		p.paragraph(t.Note, draw.Aside)
	}
}
