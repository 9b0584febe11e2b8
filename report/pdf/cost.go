package pdf

import (
	"pourbook/compute/cost"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// Cost draws the costing report. It returns the PDF, and the texts that hold
// letters which could not be printed.
func Cost(r *cost.Result, o Options) ([]byte, []string, error) {
	model := costdoc.Of(r)
	p := &costPages{r: r, model: model, money: show.In(r.Currency), document: o.open(model.Title)}
	p.month()
	p.costs()
	p.change()
	p.use()
	p.split()
	p.stock()
	p.notes()
	return finish(p.document)
}

// costPages is a costing report in the making. Sections are numbered within a page.
type costPages struct {
	*document
	r     *cost.Result
	model *costdoc.Document
	money show.Currency
	f     *draw.Flow
	n     int
}

// start begins a page of the report.
func (p *costPages) start(h costdoc.Head) {
	p.f, p.n = p.page(h, h.Title), 0
}

// number is the number of the next section.
func (p *costPages) number() string {
	p.n++
	return show.Decimals(float64(p.n), 0)
}

// head begins a section; keep is the height that must follow it.
func (p *costPages) head(title, aside string, keep float64) {
	p.f.Section(p.number(), title, aside, keep)
}

func (p *costPages) table(t costdoc.Table) {
	if len(t.Rows) > 0 {
		section(p.f, p.number(), t)
	}
}

func (p *costPages) amount(v float64) string { return show.Decimals(v, p.money.Minor) }

// amountAxis writes the amounts of an axis.
func amountAxis(v float64, places int) string { return show.Decimals(v, int32(places)) }

// percentAxis writes shares as percents.
func percentAxis(v float64, places int) string { return show.Share(v, int32(max(0, places-2))) }

func percentPoint(v float64) string { return show.Share(v, 0) }

func (p *costPages) month() {
	m := p.model.Month
	p.start(m.Head)
	figures := make([]draw.Figure, len(m.Figures))
	for i, f := range m.Figures {
		figures[i] = draw.Figure{Value: f.Value, Label: f.Label}
	}
	p.f.Space(1)
	p.f.Y = p.f.Figures(p.f.Left(), p.f.Y, p.f.Width(), figures...)
	p.table(m.Table)
	p.monthChart(m)
	p.decisions(m)
	p.head(templates.Text("cost.month.remarks"), "", 10)
	bullets(p.f, m.Remarks)
}

const monthChartHeight = 48

func (p *costPages) monthChart(m *costdoc.Month) {
	c := draw.Months{Labels: m.Labels, Axis: amountAxis, Format: func(v float64) string { return show.Decimals(v, 0) }, Print: true}
	for _, s := range m.Series {
		c.Series = append(c.Series, draw.Series{Name: s.Name, Values: s.Values})
	}
	p.head(templates.Text("cost.month.chart"), p.money.Code, monthChartHeight)
	c.Draw(p.f.Page, p.f.Take(monthChartHeight))
}

// decisions are drawn with a box to tick and the amount at the right.
func (p *costPages) decisions(m *costdoc.Month) {
	p.head(templates.Text("cost.decisions"), templates.Text("cost.decisions.aside"), 14)
	if m.None != "" {
		p.f.Paragraph(m.None, draw.Body)
		p.f.Space(2)
		return
	}
	for _, d := range m.Decisions {
		p.decision(d)
	}
}

func (p *costPages) decision(d costdoc.Decision) {
	const box, amount = 5.0, 30.0
	w := p.f.Width() - box - 4
	h := 6.4 + float64(len(p.Lines(d.Text, draw.Plain, w, 3)))*draw.Plain.Leading() + 1.6
	r := p.f.Take(h)
	p.f.TickBox(r.X, r.Y+0.6, box)
	x := r.X + box + 4
	strong := draw.Strong.At(draw.SizeBody)
	p.f.Fit(x, r.Y+4.4, w-amount-4, d.Title, strong, draw.SizeSmall, draw.AlignLeft)
	p.f.Fit(r.Right(), r.Y+4.4, amount, d.Amount, strong, draw.SizeSmall, draw.AlignRight)
	p.f.Wrap(x, r.Y+9, w, d.Text, draw.Plain, 3)
}

func (p *costPages) notes() {
	n := p.model.Notes
	p.start(n.Head)
	p.last = p.f
	p.n = problems(p.f, p.r.Problems, p.money, p.n)
	if len(n.Lacks) > 0 {
		p.head(templates.Text("cost.lacks"), "", 10)
		bullets(p.f, n.Lacks)
	}
	p.head(templates.Text("cost.terms"), templates.Text("cost.terms.aside"), 20)
	bullets(p.f, n.Terms)
	cautions(p.document)
}
