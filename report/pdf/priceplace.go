package pdf

import (
	"math"

	"pourbook/compute/calc"
	"pourbook/compute/price"
	"pourbook/compute/unit"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

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
		p.units()
		return
	}
	chart := p.scatter(with)
	const h = 66
	p.f.Section("3", templates.Text("price.range"), templates.Text("price.range.aside", "finish", finishName(with.Finish)), h)
	chart.Draw(p.f.Page, p.f.Take(h))
	p.units()
}

// units is what the list prices come to per ounce and per 100 g, and where the
// range would put them.
func (p *pricePages) units() {
	cols := append(recipeColumns(), number(templates.Text("price.col.list"), 17), number(templates.Text("price.col.low"), 15),
		number(templates.Text("price.col.middle"), 15), number(templates.Text("price.col.high"), 15),
		draw.Column{Title: templates.Text("price.col.place"), Width: 15},
		number(templates.Text("price.col.ounce"), 15), number(templates.Text("price.col.hundred"), 18))
	t := priceTable(templates.Text("price.range"), cols...)
	for _, x := range p.r.Prices {
		if !x.List.Known() {
			continue
		}
		in := x.Range
		if in == nil {
			in = &price.Range{}
		}
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{
			{Text: x.Recipe, Bold: true},
			{Text: finishName(x.Finish)},
			{Text: p.money.Number(x.List), Bold: true},
			{Text: p.money.Number(in.Low)},
			{Text: p.money.Number(in.Predicted)},
			{Text: p.money.Number(in.High)},
			{Text: placeWord(x.List, in)},
			{Text: p.per(x, unit.GramsPerOunce)},
			{Text: p.per(x, 100)},
		}})
	}
	if len(t.Rows) > 0 {
		p.f.Space(2)
		p.together(t)
	}
}

// placeWord says where a price lies in its range.
func placeWord(list *calc.Figure, in *price.Range) string {
	switch {
	case !in.Predicted.Known():
		return show.Nil
	case list.Or(0) > in.High.Or(0):
		return templates.Text("price.place.above")
	case list.Or(0) < in.Low.Or(0):
		return templates.Text("price.place.below")
	}
	return templates.Text("price.place.within")
}

// per is the list price of some grams.
func (p *pricePages) per(x price.Price, grams float64) string {
	fill := x.Fill.Or(0)
	if !x.List.Known() || fill <= 0 {
		return show.Unknown
	}
	return show.Decimals(x.List.Or(0)/fill*grams, p.money.Minor)
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
	if fill, ok := x.Fill.Value(); ok && x.List.Known() {
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
