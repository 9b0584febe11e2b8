package pdf

import (
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

func (p *costPages) change() {
	c := p.model.Change
	if c == nil {
		return
	}
	p.start(c.Head)
	p.effects(c.Title, c.Aside, c.Effects)
	bullets(p.f, c.Remarks)
	if c.Table != nil {
		p.table(*c.Table)
	}
	if c.Materials != nil {
		p.table(*c.Materials)
	}
}

// effectsPerPage is how many bars a page takes below its head.
const effectsPerPage = 27

// effects draws gains to the right and losses to the left.
func (p *costPages) effects(title, aside string, rows []costdoc.Effect) {
	for _, part := range chunks(rows, effectsPerPage) {
		c := draw.Diverging{Format: p.money.Signed, Axis: amountAxis}
		for _, e := range part {
			c.Rows = append(c.Rows, draw.DivergingRow{Label: e.Label, Sub: e.Sub, Value: e.Value})
		}
		h := c.Height(p.Document, p.f.Width())
		p.head(title, aside, h)
		c.Draw(p.f.Page, p.f.Take(h))
	}
}

func (p *costPages) use() {
	u := p.model.Use
	if u == nil {
		return
	}
	p.start(u.Head)
	if len(u.Charts) > 0 {
		p.useCharts(u.Charts)
	}
	p.table(u.Table)
	if u.Earlier != nil {
		p.table(*u.Earlier)
	}
}

// useCharts draws the kinds side by side, each to its own scale.
func (p *costPages) useCharts(charts []costdoc.UseChart) {
	const h, gap = 50, 8
	p.head(templates.Text("cost.use.charts"), templates.Text("cost.use.charts.aside"), h)
	r := p.f.Take(h)
	w := (r.W - gap) / 2
	for i, c := range charts {
		at := draw.Rect{X: r.X + float64(i)*(w+gap), Y: r.Y + 5, W: w, H: h - 5}
		p.f.Text(at.X, r.Y+3.6, c.Title, draw.Strong)
		draw.Months{Labels: c.Labels, Series: []draw.Series{{Values: c.Values}}, Axis: amountAxis}.Draw(p.f.Page, at)
	}
}

func (p *costPages) stock() {
	s := p.model.Stock
	if s == nil {
		return
	}
	p.start(s.Head)
	if s.Variances != nil {
		p.table(*s.Variances)
	}
	p.table(s.Table)
	p.f.Space(3)
	bullets(p.f, s.Remarks)
}
