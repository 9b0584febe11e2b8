package pdf

import (
	"math"

	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

func (p *costPages) split() {
	s := p.model.Split
	if s == nil {
		return
	}
	p.start(s.Head)
	for _, r := range s.Ranges[:min(len(s.Ranges), 2)] {
		p.ranges(s, r)
	}
	p.tests(s)
	p.tens(s.Tens)
	for _, r := range s.Ranges[min(len(s.Ranges), 2):] {
		p.ranges(s, r)
	}
	if s.Customers != nil {
		p.table(*s.Customers)
	}
	if len(s.Dropping) > 0 {
		p.head(templates.Text("cost.drop"), templates.Text("cost.drop.aside"), 12)
		bullets(p.f, s.Dropping)
	}
	if s.Twins != nil {
		p.table(*s.Twins)
		p.f.Space(1.5)
		p.f.Paragraph(s.TwinsNote, draw.Plain)
		p.effects(s.EarnsTitle, s.EarnsAside, s.Earns)
	}
}

func (p *costPages) tests(s *costdoc.Split) {
	p.head(templates.Text("cost.split.tests"), templates.Text("cost.split.tests.aside"), 12)
	bullets(p.f, s.Tests)
}

// ranges draws ratios with their ranges, on as many pages as they need.
func (p *costPages) ranges(s *costdoc.Split, r costdoc.Ranges) {
	rest := r.Rows
	for first := true; len(rest) > 0; first = false {
		c := draw.RangePlot{Heads: s.Heads, Less: s.Less, More: s.More}
		if first {
			c.Rows = rangeRows(rest[:min(len(rest), leastBars)])
			p.head(r.Title, r.Aside, c.Height(p.Document, p.f.Width()))
		} else {
			p.f.Next()
		}
		n := len(rest)
		for c.Rows = rangeRows(rest); n > 1 && c.Height(p.Document, p.f.Width()) > p.f.Rest(); c.Rows = rangeRows(rest[:n]) {
			n--
		}
		rest = rest[n:]
		c.Draw(p.f.Page, p.f.Take(c.Height(p.Document, p.f.Width())))
	}
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
			p.head(t.Title, t.Aside, h)
		}
		at := p.f.Take(h + 2)
		for j, c := range charts {
			c.Draw(p.f.Page, draw.Rect{X: at.X + float64(j)*(w+gap), Y: at.Y, W: w, H: c.Height(p.Document, w)})
		}
	}
	if t.Note != "" {
		p.f.Paragraph(t.Note, draw.Aside)
	}
}
