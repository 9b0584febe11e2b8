package pdf

import (
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

func (p *costPages) costs() {
	c := p.model.Costs
	p.start(c.Head)
	p.bars(c)
	p.table(c.Table)
	p.margins(c.Margins)
	p.table(c.Prices)
	for _, t := range c.Earned {
		p.table(t)
	}
	if c.Missing != "" {
		p.f.Space(2)
		p.f.Paragraph(c.Missing, draw.Body)
	}
}

// leastBars is how many bars begin a chart at the foot of a page.
const leastBars = 6

// bars draws the stacked bars, as many on each page as fit, all to one scale.
func (p *costPages) bars(c *costdoc.Costs) {
	if len(c.Bars) == 0 {
		return
	}
	chart := draw.StackedBars{Parts: c.Parts, Heads: c.Heads, Format: p.amount, Axis: amountAxis}
	for _, b := range c.Bars {
		chart.Rows = append(chart.Rows, p.bar(b))
	}
	empty := chart
	empty.Rows = nil
	rest := chart.Rows
	for first := true; len(rest) > 0; first = false {
		if first {
			p.head(c.BarsTitle, c.BarsAside, empty.Height(p.Document, p.f.Width())+leastBars*10)
		} else {
			p.f.Next()
		}
		chart.Rows = fitting(chart, rest, p.f)
		rest = rest[len(chart.Rows):]
		chart.Draw(p.f.Page, p.f.Take(chart.Height(p.Document, p.f.Width())))
	}
}

// fitting is the longest start of the rows that fits the page and does not part
// a group; at least one group.
func fitting(chart draw.StackedBars, rows []draw.StackedRow, f *draw.Flow) []draw.StackedRow {
	best := 0
	for i := 1; i <= len(rows); i++ {
		if i < len(rows) && !rows[i].Group {
			continue
		}
		chart.Rows = rows[:i]
		if best > 0 && chart.Height(f.Document(), f.Width()) > f.Rest() {
			break
		}
		best = i
	}
	return rows[:best]
}

func (p *costPages) bar(b costdoc.Bar) draw.StackedRow {
	row := draw.StackedRow{Label: b.Label, Strong: b.Strong, Group: b.Group, Name: b.Finish, Values: b.Values}
	if b.Swatch != nil {
		row.Swatch = &draw.Swatch{Natural: b.Swatch.Natural, Hex: b.Swatch.Hex, Name: b.Swatch.Name}
	}
	for _, c := range b.Cells {
		row.Cells = append(row.Cells, draw.Cell{Text: c.Text, Bold: c.Bold, Muted: c.Muted, Alarm: c.Alarm})
	}
	return row
}

// marginsPerPage is how many rows a page takes below its head.
const marginsPerPage = 28

func (p *costPages) margins(m *costdoc.Margins) {
	if m == nil {
		return
	}
	for i, rows := range chunks(m.Rows, marginsPerPage) {
		c := draw.Dumbbell{Ring: m.Natural, Disc: m.Colored, Target: m.TargetValue, TargetLabel: m.Target, Format: percentPoint, Axis: percentAxis}
		for _, r := range rows {
			c.Rows = append(c.Rows, draw.DumbbellRow{Label: r.Label, Sub: r.Sub, Ring: r.Natural, Disc: r.Colored})
		}
		title := m.Title
		if i > 0 {
			title += " (" + templates.Text("doc.continued") + ")"
		}
		h := c.Height(p.Document, p.f.Width())
		p.head(title, m.Aside, h)
		c.Draw(p.f.Page, p.f.Take(h))
	}
}
