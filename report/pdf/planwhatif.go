package pdf

import (
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/plandoc"
	"pourbook/templates"
)

// partWhatIf is the part that sets a plan under changes beside the book's own.
const partWhatIf = "what-if"

// changed is how many changes the plan is under.
func (p *planPages) changed() int {
	if p.r.WhatIf == nil {
		return 0
	}
	return len(p.r.WhatIf.Changes)
}

// supposing is what page one says of the changes, so that a trial is not taken
// for the plan itself.
func (p *planPages) supposing() string {
	if p.changed() == 0 {
		return ""
	}
	return "; " + templates.Text("plan.what-if.supposing", "what", plandoc.Supposing(p.r.WhatIf))
}

// whatIf is the page of the changes, what they do to the totals, and to which products.
func (p *planPages) whatIf() {
	name := templates.Text("plan.part." + partWhatIf)
	p.start(costdoc.Head{
		Title: name, Subtitle: p.subtitle(), Finding: plandoc.Finding(p.r.WhatIf, p.money),
	}, name)
	p.beside("changes", draw.AlignRight, plandoc.Changes(p.r.WhatIf))
	p.beside("totals", draw.AlignDecimal, plandoc.Totals(p.r.WhatIf, p.money))
	if p.r.WhatIf.Before == nil {
		return
	}
	products := plandoc.Products(p.r.WhatIf)
	p.head(templates.Text("plan.what-if.products"), templates.Text("plan.what-if.products.aside"), 20)
	if len(products) == 0 {
		p.f.Paragraph(templates.Text("plan.what-if.products.none"), draw.Plain)
		return
	}
	number := func(key string, bold bool) draw.Column {
		return draw.Column{Title: templates.Text("plan.what-if." + key), Width: 24, Align: draw.AlignDecimal, Bold: bold}
	}
	t := draw.Table{Name: templates.Text("plan.what-if.products"), Columns: []draw.Column{
		{Title: templates.Text("plan.col.product"), Weight: 1, Lines: 4},
		number("bring-before", false), number("bring-after", true), number("pour-before", false), number("pour-after", true),
	}}
	for _, x := range products {
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{{Text: x.Name}, {Text: x.BringBefore}, {Text: x.BringAfter}, {Text: x.PourBefore}, {Text: x.PourAfter}}})
	}
	p.f.Table(t)
}

// beside is a table of what the book says, and what the changes say.
func (p *planPages) beside(key string, align draw.Align, rows []plandoc.Row) {
	title := templates.Text("plan.what-if." + key)
	t := draw.Table{Name: title, Columns: []draw.Column{
		{Weight: 1, Lines: 3},
		{Title: templates.Text("plan.what-if.before"), Width: 44, Align: align, Lines: 3},
		{Title: templates.Text("plan.what-if.after"), Width: 44, Align: align, Lines: 3, Bold: true},
	}}
	for _, x := range rows {
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{{Text: x.Name}, {Text: x.Before, Muted: x.Same}, {Text: x.After, Muted: x.Same}}})
	}
	p.head(title, "", 20)
	p.f.Table(t)
	p.f.Space(2.5)
}
