package report

import (
	"errors"
	"slices"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
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
	{"unit cost", part(func(c *unitcost.Cost) *calc.Figure { return c.Total })},
	{"variable cost", part(func(c *unitcost.Cost) *calc.Figure { return c.Variable })},
	{"wax", part(func(c *unitcost.Cost) *calc.Figure { return c.Wax })},
	{"fragrance", part(func(c *unitcost.Cost) *calc.Figure { return c.Fragrance })},
	{"dye", part(func(c *unitcost.Cost) *calc.Figure { return c.Dye })},
	{"additive", part(func(c *unitcost.Cost) *calc.Figure { return c.Additive })},
	{"wick", part(func(c *unitcost.Cost) *calc.Figure { return c.Wick })},
	{"jar", part(func(c *unitcost.Cost) *calc.Figure { return c.Jar })},
	{"lid", part(func(c *unitcost.Cost) *calc.Figure { return c.Lid })},
	{"label", part(func(c *unitcost.Cost) *calc.Figure { return c.Label })},
	{"packaging", part(func(c *unitcost.Cost) *calc.Figure { return c.Packaging })},
	{"other", part(func(c *unitcost.Cost) *calc.Figure { return c.Other })},
	{"labor", part(func(c *unitcost.Cost) *calc.Figure { return c.Labor })},
	{"overhead", part(func(c *unitcost.Cost) *calc.Figure { return c.Overhead })},
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
	{"total fees", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Totals.Fees }},
	{"total gross margin", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Totals.GrossMargin }},
	{"total contribution", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Totals.Contribution }},
	{"colored to natural", func(r *cost.Result, _ *cost.Product) *calc.Figure { return r.Split.Overall.Ratio }},
}

// part is a part of the unit cost.
func part(of func(*unitcost.Cost) *calc.Figure) func(*cost.Result, *cost.Product) *calc.Figure {
	return func(_ *cost.Result, p *cost.Product) *calc.Figure { return of(unitCost(p)) }
}

func unitCost(p *cost.Product) *unitcost.Cost {
	if p.UnitCost == nil {
		return &unitcost.Cost{}
	}
	return p.UnitCost
}

// FigureNames are the names by which FigureOf knows its figures.
func FigureNames() []string {
	var out []string
	for _, h := range headlines {
		out = append(out, h.name)
	}
	return out
}

// wordings are the prefixes of the words by which the summary, the report, the
// workbook and the parts of a cost call a figure.
var wordings = []string{"summary.", "cost.", "xlsx.", "part."}

// called reports whether a figure goes by a name: its own, that of --json, or
// what the documents call it.
func (h headline) called(name string) bool {
	base, total := strings.CutPrefix(h.name, "total ")
	names := []string{base}
	for _, prefix := range wordings {
		if key := prefix + strings.ReplaceAll(base, " ", "-"); templates.Has(key) {
			names = append(names, templates.Text(key))
		}
	}
	return slices.ContainsFunc(names, func(n string) bool {
		if total {
			n = "total " + n
		}
		return bareName(n) == bareName(name)
	})
}

// bareName is a name without case, and with a space for marks between its words.
func bareName(s string) string {
	return cell.Fold(strings.NewReplacer("_", " ", "-", " ", ",", " ").Replace(s))
}

// ErrNoFigure is a name that no figure goes by.
var ErrNoFigure = errors.New("no such figure")

// FigureOf is a headline figure by name, "" for the unit cost. The error is for
// the user: no such figure, or one that cannot be computed.
func FigureOf(r *cost.Result, p *cost.Product, name string) (*calc.Figure, error) {
	if name == "" {
		name = headlines[0].name
	}
	i := slices.IndexFunc(headlines, func(h headline) bool { return h.called(name) })
	if i < 0 {
		return nil, ErrNoFigure
	}
	f := headlines[i].of(r, p)
	if !f.Known() {
		return nil, errors.New(templates.Text("cli.unknown-figure", "name", headlines[i].name, "product", p.Product))
	}
	if f.Kind() == calc.Literal {
		f = f.Named("nothing", headlines[i].name, p.Product, r.Period.From.String(), r.Period.To.String())
	}
	return f, nil
}
