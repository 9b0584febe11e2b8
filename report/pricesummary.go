package report

import (
	"fmt"
	"io"
	"math"

	"pourbook/compute/price"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// PriceSummary is the headline figures of a price sheet.
func PriceSummary(w io.Writer, r *price.Result) {
	if r.Whole != nil {
		rangeSummary(w, r)
		return
	}
	c := show.In(r.Currency)
	fmt.Fprintln(w, words.Plain(templates.Text("summary.price", "jar", r.Jar.Jar, "fill", show.Weight(r.Jar.Fill), "target", show.Percent(r.Target, 0))))
	rows := [][]string{}
	for _, p := range r.Prices {
		if p.UnitCost == nil {
			continue
		}
		rows = append(rows, []string{
			p.Recipe + ", " + templates.Text("word."+string(p.Finish)),
			templates.Text("summary.price.cost", "amount", c.Amount(p.UnitCost.Total)),
			templates.Text("summary.price.list", "amount", c.Amount(p.List)),
		})
	}
	table(w, rows)
}

// rangeSummary is every active product's list price and what to do with it.
func rangeSummary(w io.Writer, r *price.Result) {
	c := show.In(r.Currency)
	fmt.Fprintln(w, templates.Text("summary.price.all", "n", len(r.Whole), "target", show.Percent(r.Target, 0)))
	rows := [][]string{}
	for _, p := range r.Whole {
		verdict := string(p.Verdict)
		if verdict == "" {
			verdict = "open"
		}
		rows = append(rows, []string{
			p.Product, templates.Text("summary.price.now", "amount", c.Amount(p.List)),
			templates.Text("summary.price.at", "amount", c.Amount(p.Price)),
			templates.Text("summary.price.verdict."+verdict, "amount", c.Of(math.Abs(p.Change.Or(0)))),
		})
	}
	table(w, rows)
}
