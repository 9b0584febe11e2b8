package pdf

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/price"
	"pourbook/compute/unit"
	"pourbook/compute/unitcost"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// Price draws a price sheet. It returns the PDF and the texts that could not be
// printed whole.
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
	notes(d, r.Problems, p.money)
	cautions(d)
	return finish(d)
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

// prices is the table of prices per channel, wholesale last.
func (p *pricePages) prices() {
	t := draw.Table{Name: templates.Text("price.prices"), CapsHeads: true, Columns: []draw.Column{
		{Title: templates.Text("price.col.recipe"), Weight: 2.2}, {Title: templates.Text("price.col.finish"), Width: 18},
		{Title: templates.Text("price.col.channel"), Weight: 1.4},
		{Title: templates.Text("price.col.cost"), Width: 17, Align: draw.AlignRight}, {Title: templates.Text("price.col.exact"), Width: 17, Align: draw.AlignRight},
		{Title: templates.Text("price.col.price"), Width: 19, Align: draw.AlignRight, Bold: true}, {Title: templates.Text("price.col.margin"), Width: 21, Align: draw.AlignRight},
	}}
	for _, x := range p.r.Prices {
		t.Rows = append(t.Rows, p.priceRows(x)...)
	}
	p.f.Section("1", templates.Text("price.prices"), templates.Text("price.prices.aside", "ending", p.r.Ending), 20)
	p.f.Table(t)
}

func (p *pricePages) priceRows(x price.Price) []draw.Row {
	var rows []draw.Row
	name, finish, cost := x.Recipe, finishName(x.Finish), show.Unknown
	if x.UnitCost != nil {
		cost = p.money.Number(x.UnitCost.Total)
	}
	add := func(channel, exact, price, margin string, alarm bool) {
		rows = append(rows, draw.Row{Group: len(rows) == 0, Cells: []draw.Cell{
			{Text: name, Bold: true}, {Text: finish}, {Text: channel}, {Text: cost}, {Text: exact, Muted: true}, {Text: price}, {Text: margin, Alarm: alarm},
		}})
		name, finish, cost = "", "", ""
	}
	for _, c := range x.Channels {
		add(c.Channel, p.money.Number(c.Price), p.money.Number(c.Rounded), show.Percent(c.Margin, 1), c.Margin.Known() && c.Margin.Or(0) < p.r.Target.Or(0)-1e-9)
	}
	if w := x.Wholesale; w != nil {
		floor := p.r.Source.Settings.Num(book.WholesaleFloor).V
		add(templates.Text("price.wholesale"), "", p.money.Number(w.Price), show.Percent(w.Margin, 1), w.Margin.Known() && w.Margin.Or(0) < floor)
	}
	if len(rows) == 0 {
		add("", "", show.Unknown, show.Unknown, false)
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
		if x.Nearest != nil && p.r.Nearest != nil {
			chart.Rows = append(chart.Rows, p.bar(templates.Text("price.beside"), p.r.Nearest.Name.V, x.Nearest, false))
		}
	}
	if len(chart.Rows) == 0 {
		return
	}
	for from := 0; from < len(chart.Rows); from += barsPerPage {
		part := chart
		part.Rows = chart.Rows[from:min(from+barsPerPage, len(chart.Rows))]
		h := part.Height(p.f.Document(), p.f.Width())
		p.f.Section("2", templates.Text("price.costs"), templates.Text("price.costs.aside", "currency", p.r.Currency), h)
		part.Draw(p.f.Page, p.f.Take(h))
	}
}

// barsPerPage is how many bars fit a page below its head.
const barsPerPage = 18

func (p *pricePages) bar(label, name string, u *unitcost.Cost, strong bool) draw.StackedRow {
	return draw.StackedRow{Label: label, Strong: strong, Name: name, Values: partValues(u), Group: strong,
		Cells: []draw.Cell{{Text: p.money.Number(u.Total), Bold: strong}}}
}

// place is the place in the range: price against fill weight.
func (p *pricePages) place() {
	var with price.Price
	for _, x := range p.r.Prices {
		if x.Range != nil && x.Range.Predicted.Known() {
			with = x
			break
		}
	}
	if with.Range == nil {
		p.f.Section("3", templates.Text("price.range"), "", 8)
		p.f.Paragraph(templates.Text("price.range.few"), draw.Body)
		return
	}
	chart := p.scatter(with)
	h := chart.Height(p.f.Document(), p.f.Width())
	p.f.Section("3", templates.Text("price.range"), templates.Text("price.range.aside", "finish", finishName(with.Finish)), h)
	chart.Draw(p.f.Page, p.f.Take(h))
	for _, x := range p.r.Prices {
		if x.Range != nil && x.Range.Predicted.Known() && x.List.Known() {
			p.f.Paragraph(p.placeWords(x), draw.Plain)
		}
	}
}

func (p *pricePages) placeWords(x price.Price) string {
	list, fill := x.List.Or(0), p.r.Jar.Fill.Or(0)
	key := "price.range.within"
	switch {
	case list > x.Range.High.Or(0):
		key = "price.range.above"
	case list < x.Range.Low.Or(0):
		key = "price.range.below"
	}
	s := templates.Text(key, "recipe", x.Recipe, "finish", finishName(x.Finish), "price", p.money.Of(list),
		"predicted", p.money.Amount(x.Range.Predicted), "low", p.money.Amount(x.Range.Low), "high", p.money.Amount(x.Range.High))
	if fill > 0 {
		s += " " + templates.Text("price.per", "ounce", p.money.Of(list/fill*unit.GramsPerOunce), "hundred", p.money.Of(list/fill*100))
	}
	return s
}

func (p *pricePages) scatter(x price.Price) draw.Scatter {
	chart := draw.Scatter{XTitle: templates.Text("price.axis.fill"), YTitle: templates.Text("price.axis.price", "currency", p.r.Currency)}
	low, high := math.Inf(1), 0.0
	for _, q := range p.r.Range {
		if q.Finish == x.Finish {
			chart.Points = append(chart.Points, draw.ScatterPoint{X: q.Fill.Or(0), Y: q.Price.Or(0), Mark: draw.Ring})
			low, high = min(low, q.Fill.Or(0)), max(high, q.Fill.Or(0))
		}
	}
	if fill, ok := p.r.Jar.Fill.Value(); ok {
		low, high = min(low, fill), max(high, fill)
		chart.Points = append(chart.Points, draw.ScatterPoint{X: fill, Y: x.List.Or(0), Label: p.r.Jar.Jar, Mark: draw.Disc})
	}
	const steps = 24
	for i := range steps + 1 {
		at := low * math.Pow(high/low, float64(i)/steps)
		mid, down, up := p.r.Curve(x.Finish, at)
		chart.X, chart.Curve, chart.Low, chart.High = append(chart.X, at), append(chart.Curve, mid), append(chart.Low, down), append(chart.High, up)
	}
	return chart
}

// launch is what bringing the jar out costs, and what its dials would change.
func (p *pricePages) launch() {
	t := draw.Table{Name: templates.Text("price.launch"), CapsHeads: true, Columns: []draw.Column{
		{Title: templates.Text("price.col.recipe"), Weight: 2}, {Title: templates.Text("price.col.finish"), Width: 18},
		{Title: templates.Text("price.col.launch"), Width: 16, Align: draw.AlignRight}, {Title: templates.Text("price.col.break-even"), Width: 19, Align: draw.AlignRight},
		{Title: templates.Text("price.col.batch"), Width: 15, Align: draw.AlignRight}, {Title: templates.Text("price.col.first"), Width: 16, Align: draw.AlignRight},
		{Title: templates.Text("price.col.load"), Width: 16, Align: draw.AlignRight}, {Title: templates.Text("price.col.drop"), Width: 19, Align: draw.AlignRight},
	}}
	for _, x := range p.r.Prices {
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{
			{Text: x.Recipe, Bold: true}, {Text: finishName(x.Finish)}, {Text: p.money.Number(x.Launch)}, {Text: breakEven(x.BreakEven)},
			{Text: show.Units(x.UsualBatch)}, {Text: show.Units(x.FirstRun)}, {Text: step(x.LoadStep)}, {Text: step(x.DropStep)},
		}})
	}
	p.f.Section("4", templates.Text("price.launch"), templates.Text("price.launch.aside", "currency", p.r.Currency), 20)
	p.f.Table(t)
}

// breakEven is the whole number of candles that pays for the launch.
func breakEven(f *calc.Figure) string {
	if v, ok := f.Value(); ok {
		return show.Decimals(calc.CeilOf(v), 0)
	}
	return show.Unknown
}

// step is a small amount of money, to a tenth of a cent.
func step(f *calc.Figure) string {
	if !f.Known() {
		return show.Nil
	}
	return show.Decimal(f, 3)
}

// burn is the list of burn tests to do before selling.
func (p *pricePages) burn() {
	t := draw.Table{Name: templates.Text("price.burn"), CapsHeads: true, Height: 7.5, EveryRow: true, Columns: []draw.Column{
		{Title: "", Width: 8}, {Title: templates.Text("price.col.recipe"), Weight: 2}, {Title: templates.Text("price.col.finish"), Width: 20},
		{Title: templates.Text("price.col.jars"), Width: 24, Align: draw.AlignRight}, {Title: templates.Text("price.col.result"), Width: 40},
	}}
	for _, x := range p.r.Prices {
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{
			{Mark: draw.Tick}, {Text: x.Recipe, Bold: true}, {Text: finishName(x.Finish)}, {Text: show.Units(x.TestJars)}, {WriteIn: true},
		}})
	}
	p.f.Section("5", templates.Text("price.burn"), templates.Text("price.burn.aside"), 30)
	p.f.Table(t)
	p.f.Space(3)
	p.f.Warning(templates.Text("price.burn.title"), templates.Text("price.burn.text"))
}
