package report

import (
	"io"

	"pourbook/compute/plan"
	"pourbook/report/plandoc"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// whatIfSummary sets a plan under changes beside that of the book as it is.
func whatIfSummary(w io.Writer, r *plan.Result) {
	money := show.In(r.Currency)
	Paragraph(w, words.Plain(plandoc.Finding(r.WhatIf, money)))
	rows := [][]string{{"", templates.Text("plan.what-if.before"), templates.Text("plan.what-if.after")}}
	for _, x := range append(plandoc.Changes(r.WhatIf), plandoc.Totals(r.WhatIf, money)...) {
		rows = append(rows, []string{x.Name, x.Before, x.After})
	}
	for _, x := range plandoc.Products(r.WhatIf) {
		arrow := func(before, after string) string {
			return templates.Text("summary.what-if.product", "before", before, "after", after)
		}
		rows = append(rows, []string{
			x.Name, templates.Text("summary.what-if.bring", "what", arrow(x.BringBefore, x.BringAfter)),
			templates.Text("summary.what-if.pour", "what", arrow(x.PourBefore, x.PourAfter)),
		})
	}
	table(w, rows)
}
