package pdf

import (
	"cmp"
	"math"

	"pourbook/compute/price"
	"pourbook/compute/unit"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// pairPages are two jars side by side at work.
type pairPages struct {
	pricePages
	both [2]*pricePages
}

// PriceCompare draws two jars side by side. It returns the PDF and the texts
// that could not be printed whole. An error is a fault of the program.
func PriceCompare(c *price.Comparison, o Options) ([]byte, []string, error) {
	a := c.Results[0]
	p := &pairPages{pricePages: pricePages{r: a, money: show.In(a.Currency)}}
	for i, r := range c.Results {
		p.both[i] = &pricePages{r: r, money: p.money}
	}
	d := o.open(templates.Text("price.both.title"))
	p.f = d.Flow(draw.Header{
		Title:    templates.Text("price.both.title"),
		Subtitle: templates.Text("price.both.subtitle", "first", p.both[0].r.Jar.Jar, "second", p.both[1].r.Jar.Jar),
		Facts:    p.facts(), Finding: p.found(),
	})
	p.asks()
	p.perChannel()
	p.pairBars()
	p.launches()
	p.end(d, c.Problems, 4)
	return finish(d)
}

// found is how much dearer the dearer of the two is, over the recipes that both
// have a price in.
func (p *pairPages) found() string {
	var list, cost, fill [2]float64
	for i, x := range p.both[0].r.Prices {
		y := p.both[1].r.Prices[i]
		if !x.List.Known() || !y.List.Known() || !x.Fill.Known() || !y.Fill.Known() {
			continue
		}
		for k, z := range []price.Price{x, y} {
			list[k], cost[k], fill[k] = list[k]+z.List.Or(0), cost[k]+z.UnitCost.Total.Or(0), fill[k]+z.Fill.Or(0)
		}
	}
	big, small := 0, 1
	if cost[1] > cost[0] {
		big, small = 1, 0
	}
	if cost[small] <= 0 || fill[small] <= 0 {
		return templates.Text("price.both.finding.none")
	}
	per := func(k int) string { return p.money.Of(list[k] / fill[k] * 100) }
	return templates.Text("price.both.finding", "dear", p.both[big].r.Jar.Jar, "cheap", p.both[small].r.Jar.Jar,
		"times", show.Decimals(cost[big]/cost[small], 1), "fill", show.Decimals(fill[big]/fill[small], 1), "dearper", per(big), "cheapper", per(small))
}

// rows adds a row for every recipe and finish in both jars, one below the other.
func (p *pairPages) rows(t *draw.Table, cells func(*pricePages, price.Price) []draw.Cell) {
	for i, x := range p.both[0].r.Prices {
		for k, z := range []price.Price{x, p.both[1].r.Prices[i]} {
			row := []draw.Cell{{}, {}, {Text: p.both[k].r.Jar.Jar}}
			if k == 0 {
				row[0], row[1] = draw.Cell{Text: x.Recipe, Bold: true}, draw.Cell{Text: finishName(x.Finish)}
			}
			t.Rows = append(t.Rows, draw.Row{Group: k == 0, Cells: append(row, cells(p.both[k], z)...)})
		}
	}
}

func withJar(columns ...draw.Column) []draw.Column {
	head := append(recipeColumns(), draw.Column{Title: templates.Text("price.col.jar"), Weight: 0.8, Lines: 2})
	return append(head, columns...)
}

// asks is cost, list price, unit prices and wholesale of both.
func (p *pairPages) asks() {
	list := number(templates.Text("price.col.list"), 16)
	list.Bold = true
	t := priceTable(templates.Text("price.both.lists"), withJar(number(templates.Text("price.col.cost"), 15), list,
		number(templates.Text("price.col.ounce"), 14), number(templates.Text("price.col.hundred"), 17),
		number(templates.Text("price.wholesale"), 17), number(templates.Text("price.col.margin"), 17))...)
	p.rows(&t, func(q *pricePages, x price.Price) []draw.Cell {
		return append([]draw.Cell{{Text: q.total(x.UnitCost)}, {Text: p.money.Number(x.List)}, {Text: q.per(x, unit.GramsPerOunce)}, {Text: q.per(x, 100)}},
			q.wholesale(x.Wholesale)...)
	})
	p.section("1", "price.both.lists", t)
}

func (p *pairPages) section(n, key string, t draw.Table) {
	p.f.Section(n, templates.Text(key), templates.Text(key+".aside", "currency", p.r.Currency, "ending", p.r.Ending),
		p.f.Document().TableHeight(begin(t), p.f.Width()))
	p.together(t)
}

// perChannel is the price on every channel and the margin that it gives.
func (p *pairPages) perChannel() {
	n := p.channels()
	if n == 0 || n > mostSideBySide {
		return
	}
	var cols []draw.Column
	for _, x := range p.r.Prices {
		if len(x.Channels) == n {
			for _, c := range x.Channels {
				price := number(cmp.Or(c.Channel, templates.Text("price.col.price")), 19)
				price.Bold = true
				cols = append(cols, price, number(templates.Text("price.col.margin"), 14))
			}
			break
		}
	}
	t := priceTable(templates.Text("price.both.channels"), withJar(cols...)...)
	p.rows(&t, func(q *pricePages, x price.Price) []draw.Cell {
		var row []draw.Cell
		for i := range n {
			var c price.Channel
			if i < len(x.Channels) {
				c = x.Channels[i]
			}
			row = append(row, draw.Cell{Text: p.money.Number(c.Rounded)}, draw.Cell{Text: show.Percent(c.Margin, 1), Muted: true, Alarm: q.short(c.Margin)})
		}
		return row
	})
	p.section("2", "price.both.channels", t)
}

// pairBars are the costs by part of the two, one below the other.
func (p *pairPages) pairBars() {
	chart := draw.StackedBars{Parts: partNames(), Heads: []string{templates.Text("price.col.cost")}}
	for i, x := range p.both[0].r.Prices {
		y := p.both[1].r.Prices[i]
		if x.UnitCost == nil || y.UnitCost == nil {
			continue
		}
		chart.Rows = append(chart.Rows, p.bar(x.Recipe+", "+finishName(x.Finish), p.both[0].r.Jar.Jar, x.UnitCost, true),
			p.bar("", p.both[1].r.Jar.Jar, y.UnitCost, false))
	}
	if len(chart.Rows) > 0 {
		p.bars("3", templates.Text("price.costs"), templates.Text("price.costs.aside", "currency", p.r.Currency), chart)
	}
}

// launches is what bringing either of them out takes.
func (p *pairPages) launches() {
	t := priceTable(templates.Text("price.both.launch"), withJar(number(templates.Text("price.col.launch"), 18),
		number(templates.Text("price.col.break-even"), 20), number(templates.Text("price.col.batch"), 16), number(templates.Text("price.col.minutes"), 18))...)
	p.rows(&t, func(_ *pricePages, x price.Price) []draw.Cell {
		return []draw.Cell{{Text: p.money.Number(x.Launch)}, {Text: breakEven(x.BreakEven)}, {Text: show.Units(x.UsualBatch)}, {Text: minutes(x)}}
	})
	p.section("4", "price.both.launch", t)
}

func minutes(x price.Price) string {
	if v, ok := x.LaborMinutes.Value(); ok && !math.IsNaN(v) {
		return show.Decimals(v, 1)
	}
	return show.Unknown
}
