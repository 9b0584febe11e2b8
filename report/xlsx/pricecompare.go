package xlsx

import (
	"pourbook/compute/calc"
	"pourbook/compute/price"
	"pourbook/compute/unit"
	"pourbook/report/show"
	"pourbook/templates"
)

// PriceCompare writes two jars side by side as a workbook with live formulas:
// both rest on the same cells of the book. An error is a fault of the program.
func PriceCompare(c *price.Comparison, shop string) ([]byte, error) {
	a, b := c.Results[0], c.Results[1]
	w := &live{digits: show.In(a.Currency).Minor}
	w.pages = []page{sideBySide(a, b), bothCosts(a, b), bothChannels(a, b)}
	return w.bytes(templates.Text("price.both.subtitle", "first", a.Jar.Jar, "second", b.Jar.Jar), shop)
}

// twice are the heads of a figure of both jars.
func twice(a, b *price.Result, title string, f format) []column {
	return []column{{title + ", " + a.Jar.Jar, f, 16}, {title + ", " + b.Jar.Jar, f, 16}}
}

func sideBySide(a, b *price.Result) page {
	p := page{name: templates.Text("price.both.title"), title: templates.Text("price.both.title"), head: priceHead()}
	for _, x := range []struct {
		key    string
		format format
	}{{"cost", amount}, {"list", amount}, {"hundred", amount}, {"ounce", amount}, {"launch", amount}, {"break-even", fine}, {"batch", whole}, {"minutes", fine}} {
		p.head = append(p.head, twice(a, b, templates.Text("price.col."+x.key), x.format)...)
	}
	for i, x := range a.Prices {
		if i >= len(b.Prices) {
			break
		}
		row := []any{x.Recipe, templates.Text("word." + string(x.Finish))}
		of, with := compared(a, x), compared(b, b.Prices[i])
		for k := range of {
			row = append(row, of[k], with[k])
		}
		p.rows = append(p.rows, row)
	}
	return p
}

// compared are the figures of a jar that stand beside another's.
func compared(r *price.Result, x price.Price) []*calc.Figure {
	var cost *calc.Figure
	if x.UnitCost != nil {
		cost = x.UnitCost.Total
	}
	per := func(grams float64) *calc.Figure {
		if !x.List.Known() || !x.Fill.Known() {
			return nil
		}
		return calc.Mul(calc.Div(x.List, x.Fill), calc.Const(grams)).Named("price-per", x.Recipe, string(x.Finish), r.Jar.Jar, show.Decimals(grams, 1))
	}
	return []*calc.Figure{cost, x.List, per(100), per(unit.GramsPerOunce), x.Launch, x.BreakEven, x.UsualBatch, x.LaborMinutes}
}

func withJar() []column {
	return append([]column{{templates.Text("price.col.jar"), plain, 18}}, priceHead()...)
}

func bothCosts(a, b *price.Result) page {
	p := page{
		name: templates.Text("xlsx.price.costs"), title: templates.Text("xlsx.price.costs"),
		notes: []string{templates.Text("xlsx.price.costs.note", "currency", a.Currency)}, head: append(withJar(), costHeads()...),
	}
	for _, r := range []*price.Result{a, b} {
		for _, row := range priceCosts(r).rows {
			p.rows = append(p.rows, append([]any{r.Jar.Jar}, row...))
		}
	}
	return p
}

func bothChannels(a, b *price.Result) page {
	p := priceChannels(a)
	p.head = append([]column{{templates.Text("price.col.jar"), plain, 18}}, p.head...)
	p.rows = nil
	for _, r := range []*price.Result{a, b} {
		for _, row := range priceChannels(r).rows {
			p.rows = append(p.rows, append([]any{r.Jar.Jar}, row...))
		}
	}
	return p
}
