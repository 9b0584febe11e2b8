package pdf

import (
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

func (p *costPages) costs(c *costdoc.Costs) {
	p.bars(c)
	p.table(c.Table)
	p.margins(c.Margins)
	p.table(c.Prices)
	if c.Missing != "" {
		p.space(2)
		p.paragraph(c.Missing, draw.Body)
	}
}

// leastBars is how many bars begin a chart at the foot of a page.
const leastBars = 6

// bars draws the stacked bars, as many on each page as fit; each page has its axis.
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
			p.section(c.BarsTitle, c.BarsAside, empty.Height(p.Document, p.f.Width())+leastBars*barRow)
		} else {
			p.next()
		}
		chart.Rows = p.fittingBars(chart, rest)
		rest = rest[len(chart.Rows):]
		chart.Draw(p.f.Page, p.take(p.barsHeight(chart)))
	}
}

// fittingBars is the longest start of the rows that fits the page and does not part
// a group; at least one group.
func (p *costPages) fittingBars(chart draw.StackedBars, rows []draw.StackedRow) []draw.StackedRow {
	best := 0
	for i := 1; i <= len(rows); i++ {
		if i < len(rows) && !rows[i].Group {
			continue
		}
		chart.Rows = rows[:i]
		if best > 0 && p.barsHeight(chart) > p.f.Rest() {
			break
		}
		best = i
	}
	return rows[:best]
}

// barsHeight is the height of stacked bars closer than their own.
func (p *costPages) barsHeight(c draw.StackedBars) float64 {
	return closer(c.Height(p.Document, p.f.Width()), draw.StackedBars{Parts: c.Parts}.Height(p.Document, p.f.Width()),
		draw.StackedBars{Parts: c.Parts, Rows: c.Rows[:1]}.Height(p.Document, p.f.Width()), barRow)
}

// closer is the height of a chart whose rows are each so high, from its own
// height, that without rows and that with one.
func closer(own, none, one, row float64) float64 { return none + (own-none)*row/(one-none) }

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
const marginsPerPage = 34

// Heights of a row in mm, closer than a chart's own.
const (
	marginRow = 5
	effectRow = 4.8
	rangeRow  = 5.2
	barRow    = 8
)

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
		h := 11.5 + float64(len(c.Rows))*marginRow
		p.section(title, m.Aside, h)
		c.Draw(p.f.Page, p.take(h))
	}
}
