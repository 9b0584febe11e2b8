package pdf

import (
	"pourbook/compute/cost"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// Cost draws the costing report. It returns the PDF, and the texts that hold
// letters which could not be printed. An error is a fault of the program.
func Cost(r *cost.Result, o Options) ([]byte, []string, error) {
	model := costdoc.Of(r)
	p := &costPages{paper: newPaper(o, model.Title), r: r, money: show.In(r.Currency)}
	p.start(model.Month.Head)
	p.month(model.Month)
	p.start(model.Costs.Head)
	p.costs(model.Costs)
	if c := model.Change; c != nil {
		p.begin(c.Head, func() { p.change(c) })
	}
	if u := model.Use; u != nil {
		p.begin(u.Head, func() { p.use(u) })
	}
	if c := model.Split; c != nil {
		p.begin(c.Head, func() { p.split(c) })
	}
	if s := model.Stock; s != nil {
		p.begin(s.Head, func() { p.stock(s) })
	}
	p.begin(model.Notes.Head, func() { p.notes(model.Notes) })
	return finish(p.document)
}

// costPages is a costing report in the making.
type costPages struct {
	*paper
	r     *cost.Result
	money show.Currency
}

func (p *costPages) amount(v float64) string { return show.Decimals(v, p.money.Minor) }

// amountAxis writes the amounts of an axis.
func amountAxis(v float64, places int) string { return show.Decimals(v, int32(places)) }

// percentAxis writes shares as percents.
func percentAxis(v float64, places int) string { return show.Share(v, int32(max(0, places-2))) }

func percentPoint(v float64) string { return show.Share(v, 0) }

func (p *costPages) month(m *costdoc.Month) {
	figures := make([]draw.Figure, len(m.Figures))
	for i, f := range m.Figures {
		figures[i] = draw.Figure{Value: f.Value, Label: f.Label}
	}
	p.space(1)
	p.f.Y = p.f.Figures(p.f.Left(), p.f.Y, p.f.Width(), figures...)
	p.table(m.Table)
	p.space(1.5)
	p.bullets(m.Remarks)
	p.monthChart(m)
	p.decisions(m)
}

// The chart of the month takes what the page has left, within these heights.
const (
	monthChartLeast = 28
	monthChartMost  = 42
)

func (p *costPages) monthChart(m *costdoc.Month) {
	c := draw.Months{Labels: m.Labels, Axis: amountAxis, Format: func(v float64) string { return show.Decimals(v, 0) }, Print: true}
	for _, s := range m.Series {
		c.Series = append(c.Series, draw.Series{Name: s.Name, Values: s.Values})
	}
	const headings = 2 * (draw.SectionHeight + 4)
	h := p.f.Rest() - headings - draw.Body.Leading()
	for _, d := range m.Decisions {
		h -= p.decisionHeight(d)
	}
	h = min(max(h, monthChartLeast), monthChartMost)
	p.section(templates.Text("cost.month.chart"), p.money.Code, h)
	c.Draw(p.f.Page, p.take(h))
}

// decisions are drawn with a box to tick and the amount at the right.
func (p *costPages) decisions(m *costdoc.Month) {
	p.section(templates.Text("cost.decisions"), templates.Text("cost.decisions.aside"), 14)
	if m.None != "" {
		p.paragraph(m.None, draw.Body)
		p.space(2)
		return
	}
	for _, d := range m.Decisions {
		p.decision(d)
	}
}

const decisionIndent = 9

func (p *costPages) decisionHeight(d costdoc.Decision) float64 {
	return 8 + float64(len(p.Lines(d.Text, draw.Plain, p.f.Width()-decisionIndent, 3)))*draw.Plain.Leading()
}

func (p *costPages) decision(d costdoc.Decision) {
	const amount = 30.0
	r := p.take(p.decisionHeight(d))
	p.f.TickBox(r.X, r.Y+0.6, decisionIndent-4)
	x, w := r.X+decisionIndent, r.W-decisionIndent
	strong := draw.Strong.At(draw.SizeBody)
	p.f.Fit(x, r.Y+4.4, w-amount-4, d.Title, strong, draw.SizeSmall, draw.AlignLeft)
	p.f.Fit(r.Right(), r.Y+4.4, amount, d.Amount, strong, draw.SizeSmall, draw.AlignRight)
	p.f.Wrap(x, r.Y+9, w, d.Text, draw.Plain, 3)
}

func (p *costPages) notes(n *costdoc.Notes) {
	for _, l := range problemLists(p.r.Problems, p.money) {
		p.drawTable(l.title, l.aside, l.table)
		if l.more != "" {
			p.space(2)
			p.paragraph(l.more, draw.Aside)
		}
	}
	if len(n.Lacks) > 0 {
		p.section(templates.Text("cost.lacks"), "", 10)
		p.bullets(n.Lacks)
	}
	p.section(templates.Text("cost.terms"), templates.Text("cost.terms.aside"), 20)
	p.bullets(n.Terms)
	p.cautions()
}

// cautions draws the cautions together on one page.
func (p *costPages) cautions() {
	h := cautionsHeight(p.f)
	p.section(templates.Text("doc.cautions"), templates.Text("doc.cautions.aside"), h)
	p.take(0)
	drawCautions(p.f)
}
