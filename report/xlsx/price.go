package xlsx

import (
	"github.com/xuri/excelize/v2"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/price"
	"pourbook/compute/unitcost"
	"pourbook/report/show"
	"pourbook/templates"
)

// Price writes a price sheet as a workbook with live formulas: change a load, a
// part's cost, the fill or the target margin and the prices follow. An error is
// a fault of the program.
func Price(r *price.Result, shop string) ([]byte, error) {
	w := &live{digits: show.In(r.Currency).Minor}
	w.pages = []page{priceCosts(r), priceChannels(r), priceRange(r)}
	return w.bytes(templates.Text("xlsx.price.title", "jar", r.Jar.Jar), shop)
}

// costParts are the parts of a unit cost in the order in which they are shown.
func costParts(u *unitcost.Cost) []any {
	out := make([]any, 0, len(book.Kinds)+4)
	for _, k := range book.Kinds {
		out = append(out, *u.Kind(k))
	}
	return append(out, u.Labor, u.Overhead, u.Total, u.Variable)
}

func costHeads() []column {
	var out []column
	for _, k := range book.Kinds {
		out = append(out, column{templates.Text("part." + string(k)), amount, 11})
	}
	for _, k := range []string{"labor", "overhead", "total", "variable"} {
		out = append(out, column{templates.Text("part." + k), amount, 11})
	}
	return out
}

func priceHead() []column {
	return []column{{templates.Text("xlsx.recipe"), plain, 26}, {templates.Text("xlsx.finish"), plain, 11}}
}

func priceCosts(r *price.Result) page {
	p := page{
		name: templates.Text("xlsx.price.costs"), title: templates.Text("xlsx.price.title", "jar", r.Jar.Jar),
		notes: []string{templates.Text("xlsx.price.costs.note", "currency", r.Currency)},
		head:  append(priceHead(), costHeads()...),
	}
	for _, x := range r.Prices {
		if x.UnitCost != nil {
			p.rows = append(p.rows, append([]any{x.Recipe, templates.Text("word." + string(x.Finish))}, costParts(x.UnitCost)...))
		}
	}
	return p
}

func priceChannels(r *price.Result) page {
	p := page{
		name: templates.Text("xlsx.price.prices"), title: templates.Text("xlsx.price.prices.title", "target", show.Percent(r.Target, 0)),
		head: append(priceHead(),
			column{templates.Text("xlsx.channel"), plain, 20}, column{templates.Text("xlsx.price"), amount, 12},
			column{templates.Text("xlsx.rounded"), amount, 12}, column{templates.Text("xlsx.margin"), share, 12}),
	}
	add := func(x price.Price, channel string, figures ...any) {
		p.rows = append(p.rows, append([]any{x.Recipe, templates.Text("word." + string(x.Finish)), channel}, figures...))
	}
	for _, x := range r.Prices {
		for _, c := range x.Channels {
			add(x, c.Channel, c.Price, c.Rounded, c.Margin)
		}
		if x.List.Known() {
			add(x, templates.Text("xlsx.list"), x.List)
		}
		if x.Wholesale != nil {
			add(x, templates.Text("xlsx.wholesale"), x.Wholesale.Price, nil, x.Wholesale.Margin)
		}
		if x.Launch.Known() {
			add(x, templates.Text("xlsx.launch"), x.Launch)
		}
		if x.BreakEven.Known() {
			add(x, templates.Text("xlsx.break-even"), nil, x.BreakEven)
		}
	}
	return p
}

func priceRange(r *price.Result) page {
	p := page{
		name: templates.Text("xlsx.price.range"), title: templates.Text("xlsx.price.range.title"),
		head: []column{
			{templates.Text("xlsx.product"), plain, 30},
			{templates.Text("xlsx.finish"), plain, 11},
			{templates.Text("xlsx.fill"), grams, 12},
			{templates.Text("xlsx.price"), amount, 12},
			{templates.Text("xlsx.low"), amount, 12},
			{templates.Text("xlsx.high"), amount, 12},
		},
	}
	var groups []int // rows of a finish, then those of the new jar
	for _, f := range []book.Finish{book.Colored, book.Natural} {
		for _, x := range r.Range {
			if x.Finish == f {
				p.rows = append(p.rows, []any{x.Product, templates.Text("word." + string(x.Finish)), x.Fill, x.Price})
			}
		}
		groups = append(groups, len(p.rows))
	}
	p.chart = func(f *excelize.File, sheet string, first, last int) error {
		return rangeChart(f, sheet, first, last, groups)
	}
	done := map[book.Finish]bool{}
	for _, x := range r.Prices {
		if x.Range != nil && x.Range.Predicted.Known() && !done[x.Finish] {
			done[x.Finish] = true
			var fill any = (*calc.Figure)(nil)
			if r.Jar.Fill.Known() {
				fill = r.Jar.Fill
			}
			p.rows = append(p.rows, []any{r.Jar.Jar, templates.Text("word." + string(x.Finish)), fill, x.Range.Predicted, x.Range.Low, x.Range.High})
		}
	}
	return p
}
