package pdf

import (
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/plan"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// pullLists is what to take to the bench, a section for each pour day.
func (p *planPages) pullLists() {
	p.start(costdoc.Head{Title: templates.Text("plan.part.pull"), Subtitle: templates.Text("plan.pull.subtitle"), Finding: p.pullFinding()}, templates.Text("plan.part.pull"))
	for i := range p.r.Days {
		p.pullList(&p.r.Days[i])
	}
}

func (p *planPages) pullFinding() string {
	if len(p.r.Buy) == 0 {
		return templates.Text("plan.found.covered")
	}
	return templates.Text("plan.found.short", "n", count(len(p.r.Buy)))
}

func (p *planPages) pullList(d *plan.Day) {
	var pours []*plan.Pour
	for i := range p.r.Pours {
		if p.r.Pours[i].Day == d.Day {
			pours = append(pours, &p.r.Pours[i])
		}
	}
	t := draw.Table{Name: show.Date(d.Day), CapsHeads: true, EveryRow: true, Height: 10.2, Columns: []draw.Column{
		{Width: 7},
		{Title: templates.Text("plan.col.item"), Weight: 1.5, Lines: 3, Bold: true},
		{Title: templates.Text("plan.col.take"), Width: 32, Bench: 17},
		{Title: templates.Text("plan.col.for"), Weight: 1, Lines: 6},
		{Title: templates.Text("plan.col.coming"), Width: 33, Lines: 2},
		{Title: templates.Text("plan.col.after"), Width: 22},
	}}
	for _, x := range d.Pull {
		t.Rows = append(t.Rows, p.pullRow(x, pours))
	}
	aside := templates.Text("plan.pull.aside", "batches", batchNames(pours))
	if d.Minutes.Known() && d.Limit.Known() {
		aside += "; " + templates.Text("plan.calendar.load", "used", show.Decimal(d.Minutes, 0), "limit", show.Decimal(d.Limit, 0))
	}
	p.head(show.Date(d.Day), aside, 40)
	p.f.Table(t)
}

func (p *planPages) pullRow(x plan.Pull, pours []*plan.Pour) draw.Row {
	number, name := p.quantity(x.Quantity, x.Unit)
	coming := draw.Cell{Text: templates.Text("plan.on-shelf"), Muted: true}
	if missing, ok := calc.Sub(x.Quantity, x.OnHand).Value(); ok && missing > 1e-6 {
		coming = draw.Cell{Text: templates.Text("plan.to-come", "amount", amount(calc.Const(missing), x.Unit)), Alarm: true}
	}
	item := draw.Cell{Text: x.Item}
	if x.Material != nil {
		item.Sub = templates.Text("plan.kind." + string(x.Material.Kind))
	}
	return draw.Row{Cells: []draw.Cell{
		{Mark: draw.Tick}, item, {Text: number, Unit: name}, {Text: p.takers(x.Material, pours)}, coming, {WriteIn: true, Unit: name},
	}}
}

// takers is how much each pour takes of a material, as its card says it.
func (p *planPages) takers(m *book.Material, pours []*plan.Pour) string {
	var out []string
	add := func(x *plan.Pour, s string) { out = append(out, unbroken(batchDigits(x)+": "+s)) }
	for _, x := range pours {
		for _, w := range x.Weigh {
			if w.Of != nil && w.Of == m {
				add(x, p.dose(w))
			}
		}
		for _, t := range x.Parts {
			if t.Of != nil && t.Of == m {
				add(x, amount(t.Quantity, t.Of.Dim.String()))
			}
		}
	}
	return strings.Join(out, ", ")
}
