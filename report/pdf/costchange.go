package pdf

import (
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

func (p *costPages) change(c *costdoc.Change) {
	p.effects(c.Title, c.Aside, c.Effects)
	p.table(c.Products)
	p.space(1.5)
	p.bullets(c.Remarks)
	p.table(c.Channels)
	if c.Materials != nil {
		p.table(*c.Materials)
	}
}

// effectsPerPage is how many bars a page takes below its head.
const effectsPerPage = 36

// effects draws gains to the right and losses to the left.
func (p *costPages) effects(title, aside string, rows []costdoc.Effect) {
	for _, part := range chunks(rows, effectsPerPage) {
		c := draw.Diverging{Format: p.money.Signed, Axis: amountAxis}
		for _, e := range part {
			c.Rows = append(c.Rows, draw.DivergingRow{Label: e.Label, Sub: e.Sub, Value: e.Value})
		}
		h := 6.5 + float64(len(c.Rows))*effectRow
		p.section(title, aside, h)
		c.Draw(p.f.Page, p.take(h))
	}
}

func (p *costPages) use(u *costdoc.Use) {
	if len(u.Charts) > 0 {
		p.useCharts(u.Charts)
	}
	p.table(u.Table)
	if u.Grams != nil {
		p.table(*u.Grams)
	}
}

// useCharts draws the kinds side by side, each to its own scale.
func (p *costPages) useCharts(charts []costdoc.UseChart) {
	const h, gap = 34, 8
	p.section(templates.Text("cost.use.charts"), templates.Text("cost.use.charts.aside"), h)
	r := p.take(h)
	w := (r.W - gap) / 2
	for i, c := range charts {
		at := draw.Rect{X: r.X + float64(i)*(w+gap), Y: r.Y + 5, W: w, H: h - 5}
		p.f.Text(at.X, r.Y+3.6, c.Title, draw.Strong)
		draw.Months{Labels: c.Labels, Series: []draw.Series{{Values: c.Values}}, Axis: amountAxis}.Draw(p.f.Page, at)
	}
}

func (p *costPages) stock(s *costdoc.Stock) {
	p.table(s.Table)
	p.space(1.5)
	p.bullets(s.Remarks)
}
