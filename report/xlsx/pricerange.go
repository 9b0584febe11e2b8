package xlsx

import (
	"pourbook/compute/price"
	"pourbook/report/show"
	"pourbook/templates"
)

// PriceRange writes the list prices of the range against the target margin as a
// workbook with live formulas. An error is a fault of the program.
func PriceRange(r *price.Result, shop string) ([]byte, error) {
	w := &live{digits: show.In(r.Currency).Minor}
	w.pages = []page{rangeVerdicts(r), rangeChannels(r), rangeCosts(r)}
	return w.bytes(templates.Text("price.all.title"), shop)
}

func rangeHead() []column {
	return []column{
		{templates.Text("xlsx.product"), plain, 18},
		{templates.Text("xlsx.recipe"), plain, 24},
		{templates.Text("price.col.jar"), plain, 18},
		{templates.Text("xlsx.finish"), plain, 11},
	}
}

func productCells(x price.RangePrice) []any {
	return []any{x.Product, x.Recipe, x.Jar, templates.Text("word." + string(x.Finish))}
}

// verdict is a verdict in words.
func verdict(v price.Verdict) string {
	if v == "" {
		return templates.Text("price.all.open")
	}
	return templates.Text("price.all." + string(v))
}

func rangeVerdicts(r *price.Result) page {
	p := page{
		name: templates.Text("xlsx.price.range"), title: templates.Text("xlsx.price.prices.title", "target", show.Percent(r.Target, 0)),
		notes: []string{templates.Text("price.all.rule", "ending", r.Ending)},
		head: append(rangeHead(),
			column{templates.Text("price.col.cost"), amount, 11}, column{templates.Text("price.col.list"), amount, 12},
			column{templates.Text("price.col.target"), amount, 12}, column{templates.Text("price.col.change"), amount, 12},
			column{templates.Text("price.all.verdict"), plain, 16}, column{templates.Text("xlsx.wholesale"), amount, 12},
			column{templates.Text("price.col.margin"), share, 12}),
	}
	for _, x := range r.Whole {
		row := append(productCells(x), nil, x.List, x.Price, x.Change, verdict(x.Verdict))
		if x.UnitCost != nil {
			row[4] = x.UnitCost.Total
		}
		if x.Wholesale != nil {
			row = append(row, x.Wholesale.Price, x.Wholesale.Margin)
		}
		p.rows = append(p.rows, row)
	}
	return p
}

func rangeChannels(r *price.Result) page {
	p := page{
		name: templates.Text("xlsx.price.prices"), title: templates.Text("price.both.channels"),
		head: append(rangeHead(),
			column{templates.Text("xlsx.channel"), plain, 20}, column{templates.Text("xlsx.price"), amount, 12},
			column{templates.Text("xlsx.rounded"), amount, 12}, column{templates.Text("xlsx.margin"), share, 12},
			column{templates.Text("price.col.change"), amount, 12}, column{templates.Text("price.col.list-margin"), share, 14}),
	}
	for _, x := range r.Whole {
		for _, c := range x.Channels {
			p.rows = append(p.rows, append(productCells(x), c.Channel.Channel, c.Price, c.Rounded, c.Margin, c.Change, c.ListMargin))
		}
	}
	return p
}

func rangeCosts(r *price.Result) page {
	p := page{
		name: templates.Text("xlsx.price.costs"), title: templates.Text("xlsx.price.costs"),
		notes: []string{templates.Text("xlsx.price.costs.note", "currency", r.Currency)},
		head:  append(rangeHead(), costHeads()...),
	}
	for _, x := range r.Whole {
		if x.UnitCost != nil {
			p.rows = append(p.rows, append(productCells(x), costParts(x.UnitCost)...))
		}
	}
	return p
}
