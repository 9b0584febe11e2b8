package report

import (
	"errors"
	"slices"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/unitcost"
	"pourbook/templates"
)

// headline is a figure of a product or of the whole period that can be asked for by name.
type headline struct {
	name string
	of   func(*cost.Result, *cost.Product) *calc.Figure
}

var headlines = []headline{
	{"unit cost", func(_ *cost.Result, p *cost.Product) *calc.Figure { return unitCost(p).Total }},
	{"variable cost", func(_ *cost.Result, p *cost.Product) *calc.Figure { return unitCost(p).Variable }},
	{"labor", func(_ *cost.Result, p *cost.Product) *calc.Figure { return unitCost(p).Labor }},
	{"overhead", func(_ *cost.Result, p *cost.Product) *calc.Figure { return unitCost(p).Overhead }},
	{"labor minutes", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.LaborMinutes }},
	{"usual batch", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.UsualBatch }},
	{"drops", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.Drops }},
	{"units", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.Units }},
	{"net sales", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.NetSales }},
	{"fees", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.Fees }},
	{"cost of sales", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.CostOfSales }},
	{"gross margin", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.GrossMargin }},
	{"margin rate", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.MarginRate }},
	{"contribution", func(_ *cost.Result, p *cost.Product) *calc.Figure { return p.Contribution }},
	{"total net sales", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Totals.NetSales }},
	{"total gross margin", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Totals.GrossMargin }},
	{"total contribution", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Totals.Contribution }},
	{"colored to natural", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Split.Overall.Ratio }},
}

func unitCost(p *cost.Product) *unitcost.Cost {
	if p.UnitCost == nil {
		return &unitcost.Cost{}
	}
	return p.UnitCost
}

// FigureOf is a headline figure by name, "" for the unit cost. The error is for
// the user: no such figure, or one that cannot be computed.
func FigureOf(r *cost.Result, p *cost.Product, name string) (*calc.Figure, error) {
	if name == "" {
		name = headlines[0].name
	}
	wanted := strings.ToLower(strings.TrimSpace(name))
	i := slices.IndexFunc(headlines, func(h headline) bool { return h.name == wanted })
	if i < 0 {
		var known []string
		for _, h := range headlines {
			known = append(known, h.name)
		}
		return nil, errors.New(templates.Text("cli.no-figure", "name", name, "known", strings.Join(known, ", ")))
	}
	f := headlines[i].of(r, p)
	if !f.Known() {
		return nil, errors.New(templates.Text("cli.unknown-figure", "name", wanted, "product", p.Product))
	}
	return f, nil
}
