package pdf

import (
	"cmp"
	"math"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/price"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/compute/unitcost"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// Price draws a price sheet. It returns the PDF and the texts that could not be
// printed whole. An error is a fault of the program.
func Price(r *price.Result, o Options) ([]byte, []string, error) {
	p := &pricePages{r: r, money: show.In(r.Currency)}
	d := o.open(templates.Text("price.title"))
	p.f = d.Flow(draw.Header{
		Title: templates.Text("price.title"), Subtitle: p.subtitle(), Facts: p.facts(), Finding: p.finding(),
	})
	p.prices()
	p.costs()
	p.place()
	p.launch()
	p.burn()
	p.end(d, r.Problems, 5)
	return finish(d)
}

// end sets the notes below where they have room to begin, else on a page of
// their own, and the cautions.
func (p *pricePages) end(d *document, l problem.List, sections int) {
	const begins = 45
	room := cautionsHeight(p.f) + draw.SectionHeight + 5
	if len(l.Sorted()) > 0 {
		room = begins
	}
	if p.f.Rest() < room {
		notes(d, l, p.money)
	} else {
		d.last = p.f
		problems(p.f, l, p.money, sections)
	}
	cautions(d)
}

// pricePages is a price sheet at work.
type pricePages struct {
	r     *price.Result
	f     *draw.Flow
	money show.Currency
}

func (p *pricePages) subtitle() string {
	if p.r.Jar.Fill.Known() {
		return templates.Text("price.subtitle", "jar", p.r.Jar.Jar, "grams", show.Weight(p.r.Jar.Fill),
			"ounces", show.Decimals(p.r.Jar.Fill.Or(0)/unit.GramsPerOunce, 1))
	}
	return p.r.Jar.Jar
}

func (p *pricePages) facts() []draw.Fact {
	return []draw.Fact{
		{Label: templates.Text("price.fact.target"), Value: show.Percent(p.r.Target, 0)},
		{Label: templates.Text("price.fact.money"), Value: p.r.Currency},
		{Label: templates.Text("price.fact.recipes"), Value: show.Decimals(float64(len(p.r.Prices)), 0)},
	}
}

// extremes are the least and the greatest of a figure over the prices; false
// when none is known.
func (p *pricePages) extremes(of func(price.Price) *calc.Figure) (low, high float64, ok bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, x := range p.r.Prices {
		if v, known := of(x).Value(); known {
			low, high, ok = min(low, v), max(high, v), true
		}
	}
	return low, high, ok
}

func (p *pricePages) finding() string {
	low, high, ok := p.extremes(func(x price.Price) *calc.Figure { return x.List })
	costLow, costHigh, known := p.extremes(func(x price.Price) *calc.Figure {
		if x.UnitCost == nil {
			return nil
		}
		return x.UnitCost.Total
	})
	switch {
	case !known:
		return templates.Text("price.finding.unknown")
	case !ok:
		return templates.Text("price.finding.none", "low", p.money.Of(costLow), "high", p.money.Of(costHigh), "target", show.Percent(p.r.Target, 0))
	case low == high:
		return templates.Text("price.finding.one", "price", p.money.Of(low), "target", show.Percent(p.r.Target, 0),
			"cost", p.span(costLow, costHigh))
	}
	return templates.Text("price.finding.range", "low", p.money.Of(low), "high", p.money.Of(high), "target", show.Percent(p.r.Target, 0),
		"cost", p.span(costLow, costHigh))
}

func (p *pricePages) span(low, high float64) string {
	if a, b := p.money.Of(low), p.money.Of(high); a != b {
		return templates.Text("price.span", "low", a, "high", b)
	}
	return p.money.Of(low)
}

// mostSideBySide is how many channels stand beside each other in a table.
const mostSideBySide = 2

// prices is the table of prices per channel, wholesale last: a row per recipe
// and finish, or with many channels a row for each.
func (p *pricePages) prices() {
	t := p.longPrices()
	if n := p.channels(); n > 0 && n <= mostSideBySide {
		t = p.widePrices()
	}
	p.f.Section("1", templates.Text("price.prices"), templates.Text("price.prices.aside", "ending", p.r.Ending), 20)
	p.together(t)
}

func (p *pricePages) channels() int {
	most := 0
	for _, x := range p.r.Prices {
		most = max(most, len(x.Channels))
	}
	return most
}

// priceTable is a table of the sheet's figures without rows.
func priceTable(name string, columns ...draw.Column) draw.Table {
	return draw.Table{Name: name, CapsHeads: true, Height: 4.6, Size: tableSize, Columns: columns}
}

func recipeColumns() []draw.Column {
	return []draw.Column{{Title: templates.Text("price.col.recipe"), Weight: 1, Lines: 2}, {Title: templates.Text("price.col.finish"), Width: 14}}
}

// number is a column of right-aligned figures.
func number(title string, width float64) draw.Column {
	return draw.Column{Title: title, Width: width, Align: draw.AlignRight, Lines: 1}
}

func (p *pricePages) widePrices() draw.Table {
	cols := append(recipeColumns(), number(templates.Text("price.col.cost"), 13))
	names := p.r.Prices[0]
	for _, x := range p.r.Prices {
		if len(x.Channels) > len(names.Channels) {
			names = x
		}
	}
	for _, c := range names.Channels {
		price := number(cmp.Or(c.Channel, templates.Text("price.col.price")), 18)
		price.Bold = true
		cols = append(cols, price, number(templates.Text("price.col.margin"), 13))
	}
	cols = append(cols, number(templates.Text("price.wholesale"), 17), number(templates.Text("price.col.margin"), 17))
	t := priceTable(templates.Text("price.prices"), cols...)
	for _, x := range p.r.Prices {
		row := []draw.Cell{{Text: x.Recipe, Bold: true}, {Text: finishName(x.Finish)}, {Text: p.total(x.UnitCost)}}
		for i := range names.Channels {
			var c price.Channel
			if i < len(x.Channels) {
				c = x.Channels[i]
			}
			row = append(row, draw.Cell{Text: p.money.Number(c.Rounded)}, draw.Cell{Text: show.Percent(c.Margin, 1), Muted: true, Alarm: p.short(c.Margin)})
		}
		t.Rows = append(t.Rows, draw.Row{Cells: append(row, p.wholesale(x.Wholesale)...)})
	}
	return t
}

func (p *pricePages) total(u *unitcost.Cost) string {
	if u == nil {
		return show.Unknown
	}
	return p.money.Number(u.Total)
}

func (p *pricePages) short(margin *calc.Figure) bool {
	return margin.Known() && margin.Or(0) < p.r.Target.Or(0)-1e-9
}

// wholesale is the wholesale price and its margin, marked below the floor.
func (p *pricePages) wholesale(w *price.Wholesale) []draw.Cell {
	if w == nil {
		return []draw.Cell{{Text: show.Unknown}, {Text: show.Unknown}}
	}
	floor := p.r.Source.Settings.Num(book.WholesaleFloor).V
	return []draw.Cell{{Text: p.money.Number(w.Price)}, {Text: show.Percent(w.Margin, 1), Alarm: w.Margin.Known() && w.Margin.Or(0) < floor}}
}

func (p *pricePages) longPrices() draw.Table {
	t := priceTable(templates.Text("price.prices"), append(recipeColumns(), draw.Column{Title: templates.Text("price.col.channel"), Weight: 1},
		number(templates.Text("price.col.cost"), 17), number(templates.Text("price.col.exact"), 17),
		number(templates.Text("price.col.price"), 19), number(templates.Text("price.col.margin"), 21))...)
	for _, x := range p.r.Prices {
		t.Rows = append(t.Rows, p.priceRows(x)...)
	}
	return t
}

func (p *pricePages) priceRows(x price.Price) []draw.Row {
	var rows []draw.Row
	name, finish, cost := x.Recipe, finishName(x.Finish), p.total(x.UnitCost)
	add := func(cells ...draw.Cell) {
		row := append([]draw.Cell{{Text: name, Bold: true}, {Text: finish}, cells[0], {Text: cost}}, cells[1:]...)
		rows = append(rows, draw.Row{Group: len(rows) == 0, Cells: row})
		name, finish, cost = "", "", ""
	}
	for _, c := range x.Channels {
		add(draw.Cell{Text: c.Channel}, draw.Cell{Text: p.money.Number(c.Price), Muted: true},
			draw.Cell{Text: p.money.Number(c.Rounded), Bold: true}, draw.Cell{Text: show.Percent(c.Margin, 1), Alarm: p.short(c.Margin)})
	}
	if x.Wholesale != nil || len(rows) == 0 {
		w := p.wholesale(x.Wholesale)
		add(draw.Cell{Text: templates.Text("price.wholesale")}, draw.Cell{}, w[0], w[1])
	}
	return rows
}

// costs are the bars of the cost by part beside the nearest existing jar.
func (p *pricePages) costs() {
	chart := draw.StackedBars{Parts: partNames(), Heads: []string{templates.Text("price.col.cost")}}
	for _, x := range p.r.Prices {
		if x.UnitCost == nil {
			continue
		}
		chart.Rows = append(chart.Rows, p.bar(x.Recipe, finishName(x.Finish), x.UnitCost, true))
		if x.Nearest != nil {
			chart.Rows = append(chart.Rows, p.bar(templates.Text("price.beside"), x.NearestJar, x.Nearest, false))
		}
	}
	if len(chart.Rows) > 0 {
		p.bars("2", templates.Text("price.costs"), templates.Text("price.costs.aside", "currency", p.r.Currency), chart)
	}
}

// tight is how much lower than natural the bars of a sheet are drawn.
const tight = 0.78

// bars draws a chart whose groups are pairs of bars, on to as many pages as it
// takes; no page begins with fewer than four bars where there are more.
func (p *pricePages) bars(number, title, aside string, chart draw.StackedBars) {
	height := func(rows []draw.StackedRow) float64 {
		c := chart
		c.Rows = rows
		return c.Height(p.f.Document(), p.f.Width()) * tight
	}
	rest := chart.Rows
	for len(rest) > 0 {
		part := p.fittingBars(rest, height)
		p.f.Section(number, title, aside, height(part))
		c := chart
		c.Rows = part
		c.Draw(p.f.Page, p.f.Take(height(part)))
		rest = rest[len(part):]
		title, number = templates.Text("price.costs.more"), ""
	}
}

// fittingBars is the bars that fit the page, or a new one, cut between groups.
func (p *pricePages) fittingBars(rows []draw.StackedRow, height func([]draw.StackedRow) float64) []draw.StackedRow {
	const least, head = 4, draw.SectionHeight + 5
	for _, room := range []float64{p.f.Rest(), p.f.Bottom() - p.f.Top()} {
		n := len(rows)
		for n > 0 && (height(rows[:n])+head > room || n < len(rows) && !rows[n].Group) {
			n--
		}
		if n == len(rows) || n >= least {
			return rows[:n]
		}
	}
	return rows[:min(2, len(rows))]
}

func (p *pricePages) bar(label, name string, u *unitcost.Cost, strong bool) draw.StackedRow {
	return draw.StackedRow{
		Label: label, Strong: strong, Name: name, Values: partValues(u), Group: strong,
		Cells: []draw.Cell{{Text: p.money.Number(u.Total), Bold: strong}},
	}
}
