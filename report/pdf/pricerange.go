package pdf

import (
	"cmp"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/price"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// PriceRange draws the list prices of the range against the target margin. It
// returns the PDF and the texts that could not be printed whole. An error is a
// fault of the program.
func PriceRange(r *price.Result, o Options) ([]byte, []string, error) {
	p := &pricePages{r: r, money: show.In(r.Currency)}
	d := o.open(templates.Text("price.all.title"))
	p.f = d.Flow(draw.Header{
		Title: templates.Text("price.all.title"), Subtitle: templates.Text("price.all.subtitle", "n", len(r.Whole)),
		Facts: []draw.Fact{
			{Label: templates.Text("price.fact.target"), Value: show.Percent(r.Target, 0)},
			{Label: templates.Text("price.fact.money"), Value: r.Currency},
			{Label: templates.Text("price.fact.products"), Value: show.Decimals(float64(len(r.Whole)), 0)},
		},
		Finding: p.verdicts(),
	})
	n := 0
	for _, v := range []price.Verdict{price.Raise, price.Room, price.Keep, ""} {
		if rows := p.judged(v); len(rows) > 0 {
			n++
			p.verdict(n, v, rows)
		}
	}
	p.f.Space(2)
	p.f.Paragraph(templates.Text("price.all.rule", "ending", r.Ending), draw.Aside)
	p.end(d, r.Problems, n)
	return finish(d)
}

// verdicts is the sentence that says how many prices are to be changed.
func (p *pricePages) verdicts() string {
	count := map[price.Verdict]int{}
	for _, x := range p.r.Whole {
		count[x.Verdict]++
	}
	key := "price.all.finding"
	if count[price.Raise] == 0 && count[""] == 0 {
		key = "price.all.finding.fine"
	}
	return templates.Text(key, "n", len(p.r.Whole), "raise", count[price.Raise], "keep", count[price.Keep], "room", count[price.Room],
		"target", show.Percent(p.r.Target, 0))
}

// judged is the products with a verdict, the greatest change first.
func (p *pricePages) judged(v price.Verdict) []price.RangePrice {
	var out []price.RangePrice
	for _, x := range p.r.Whole {
		if x.Verdict == v {
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b price.RangePrice) int {
		return cmp.Compare(math.Abs(b.Change.Or(0)), math.Abs(a.Change.Or(0)))
	})
	return out
}

// How many channels a table of the range has room for: with what they keep of
// the list price and what they need, and with what they need alone.
const (
	mostKept  = 2
	mostNeeds = 4
)

func (p *pricePages) verdict(n int, v price.Verdict, rows []price.RangePrice) {
	key := "price.all.open"
	if v != "" {
		key = "price.all." + string(v)
	}
	channels := p.rangeChannels()
	t := priceTable(templates.Text(key), p.rangeColumns(channels)...)
	for _, x := range rows {
		t.Rows = append(t.Rows, draw.Row{Cells: p.rangeRow(x, channels)})
	}
	p.f.Section(show.Decimals(float64(n), 0), templates.Text(key), templates.Text(key+".aside"), p.f.Document().TableHeight(begin(t), p.f.Width()))
	p.together(t)
}

// rangeChannels is the names of the channels that stand in the table.
func (p *pricePages) rangeChannels() []string {
	var names []string
	for _, x := range p.r.Whole {
		if len(x.Channels) > len(names) {
			names = names[:0]
			for _, c := range x.Channels {
				names = append(names, c.Channel.Channel)
			}
		}
	}
	return names
}

func (p *pricePages) rangeColumns(channels []string) []draw.Column {
	change := number(templates.Text("price.col.change"), 14)
	change.Bold = true
	cols := []draw.Column{
		{Title: templates.Text("price.col.product"), Weight: 1, Lines: 3},
		number(templates.Text("price.col.cost"), 12),
		number(templates.Text("price.col.list"), 12), number(templates.Text("price.col.target"), 12), change,
	}
	if len(channels) <= mostNeeds {
		for _, c := range channels {
			c = cmp.Or(c, templates.Text("price.col.channel.none"))
			cols = append(cols, number(templates.Text("price.col.needs", "channel", c), 15))
			if len(channels) <= mostKept {
				cols = append(cols, number(templates.Text("price.col.kept", "channel", c), 16))
			}
		}
	}
	return append(cols, number(templates.Text("price.col.wholesale"), 16))
}

func (p *pricePages) rangeRow(x price.RangePrice, channels []string) []draw.Cell {
	change := show.Nil
	if x.Change.Known() && math.Abs(x.Change.Or(0)) > 0.005 {
		change = p.money.Signed(x.Change.Or(0))
	}
	row := []draw.Cell{
		{Text: p.productName(x), Bold: true},
		{Text: p.total(x.UnitCost)},
		{Text: p.money.Number(x.List)},
		{Text: p.money.Number(x.Price)},
		{Text: change},
	}
	if len(channels) <= mostNeeds {
		for i := range channels {
			var c price.RangeChannel
			if i < len(x.Channels) {
				c = x.Channels[i]
			}
			row = append(row, draw.Cell{Text: p.money.Number(c.Rounded)})
			if len(channels) <= mostKept {
				row = append(row, draw.Cell{Text: show.Percent(c.ListMargin, 1), Alarm: p.short(c.ListMargin)})
			}
		}
	}
	whole := draw.Cell{Text: show.Unknown}
	if w := x.Wholesale; w != nil {
		floor := p.r.Source.Settings.Num(book.WholesaleFloor).V
		whole = draw.Cell{Text: show.Percent(w.Margin, 1), Alarm: w.Margin.Known() && w.Margin.Or(0) < floor}
	}
	return append(row, whole)
}

// productName is what a product is called, its code where it has no name.
func (p *pricePages) productName(x price.RangePrice) string {
	if x.Name == "" {
		return x.Product
	}
	return x.Name
}
