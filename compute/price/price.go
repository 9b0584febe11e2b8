package price

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
	"pourbook/compute/unitcost"
)

// price is the pricing of one recipe and finish.
func (r *run) price(recipe *book.Recipe, finish book.Finish) Price {
	defer fault.In(recipe.Name.At, recipe.Name.V)
	m := r.make(recipe, r.jar, finish)
	p := Price{Recipe: recipe.Name.V, Finish: finish, Channels: []Channel{}}
	p.UnitCost = r.engine.Cost(m, r.month)
	p.Fill = r.engine.Fill(m)
	p.LaborMinutes, p.UsualBatch = r.engine.LaborMinutes(m), r.engine.UsualBatch(m)
	p.Range = r.placeOf(finish, r.engine.Fill(m))
	p.TestJars = r.engine.Setting(book.TestJars)
	if near := r.nearest(r.engine.Fill(m), func(q *book.Product) bool { return q.Recipe == recipe && q.Finish == finish }); near != nil {
		p.Nearest, p.NearestJar = r.engine.Cost(r.make(recipe, near, finish), r.month), near.Name.V
	}
	if p.UnitCost == nil {
		return p
	}
	r.steps(&p, recipe)
	parts := calc.Sub(p.UnitCost.Variable, p.UnitCost.Labor)
	p.Launch = calc.Add(calc.Mul(p.TestJars, parts), r.engine.Setting(book.LabelSetup)).Named("launch-cost", m.Label)
	best := -1
	for i, c := range r.channels {
		priced := r.onChannel(c, p.UnitCost.Total, m.Label)
		p.Channels = append(p.Channels, priced)
		if v, ok := priced.Rounded.Value(); ok && (best < 0 || v > p.Channels[best].Rounded.Or(0)) {
			best = i
		}
	}
	if best >= 0 {
		r.afterList(&p, best, m.Label)
	}
	return p
}

// afterList fills in what rests on the list price: wholesale and the units that
// pay the launch.
func (r *run) afterList(p *Price, best int, label string) {
	p.List = p.Channels[best].Rounded.Named("list-price", label)
	whole := calc.Mul(p.List, calc.Sub(calc.Const(1), r.engine.Setting(book.WholesaleDisc))).Named("wholesale-price", label)
	p.Wholesale = &Wholesale{
		Price:  whole,
		Margin: calc.Div(calc.Sub(whole, p.UnitCost.Total), whole).Named("wholesale-margin", label),
	}
	earns := calc.Sub(p.List, calc.Add(r.fees(r.channels[best], p.List), p.UnitCost.Variable)).Named("launch-contribution", label)
	if earns.Or(0) > 0 {
		p.BreakEven = calc.Div(p.Launch, earns).Named("break-even", label)
	}
}

// fixedFees are what a channel takes of one unit whatever its price: the cost
// per unit, and the fee per order over the units of its orders so far.
func (r *run) fixedFees(c *book.Channel) *calc.Figure {
	order := amount(c.PerOrder, "fee-per-order", c.Name.V)
	return calc.Add(amount(c.PerUnit, "cost-per-unit", c.Name.V), calc.Div(order, r.ledger.UnitsPerOrder(c))).Named("fixed-fees", c.Name.V)
}

func (r *run) fees(c *book.Channel, price *calc.Figure) *calc.Figure {
	return calc.Add(calc.Mul(share(c), price), r.fixedFees(c))
}

func share(c *book.Channel) *calc.Figure {
	if c.Fee.State == cell.Blank {
		return calc.Zero
	}
	return calc.In(c.Fee, "fee-share", c.Name.V)
}

// amount is the money of a channel; blank is none.
func amount(m book.Money, key, of string) *calc.Figure {
	if m.State == cell.Blank {
		return calc.Zero
	}
	return calc.In(cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State}, key, of)
}

// onChannel is the price that leaves the target margin after the channel's fees.
func (r *run) onChannel(c *book.Channel, cost *calc.Figure, label string) Channel {
	out := Channel{Channel: c.Name.V}
	left := calc.Sub(calc.Sub(calc.Const(1), share(c)), r.res.Target).Named("kept-share", c.Name.V)
	if v, ok := left.Value(); ok && v <= 1e-12 {
		r.res.Problems.Add(problem.Problem{
			Severity: problem.Error, Code: problem.BadNumber, Say: "margin", At: c.Fee.At,
			Args: []any{"channel", c.Name.V, "fee", percent(share(c)), "target", percent(r.res.Target)},
		})
		return out
	}
	out.Price = calc.Div(calc.Add(cost, r.fixedFees(c)), left).Named("channel-price", label, c.Name.V)
	out.Rounded = calc.Call(roundUp, out.Price, r.engine.Setting(book.PriceEnding)).Named("rounded-price", label, c.Name.V)
	out.Margin = r.marginAt(c, out.Rounded, cost).Named("margin-after-fees", label, c.Name.V)
	return out
}

// marginAt is the share of a price that is left after a channel's fees and the cost.
func (r *run) marginAt(c *book.Channel, price, cost *calc.Figure) *calc.Figure {
	return calc.Div(calc.Sub(calc.Sub(price, r.fees(c, price)), cost), price)
}

func percent(f *calc.Figure) float64 { return math.Round(f.Or(0)*1000) / 10 }

// roundUp is the least amount from v[0] on whose fraction is v[1], with a
// relative slack of 1e-9.
var roundUp = &calc.Fn{
	Eval: func(v []float64) (float64, bool) { return math.Ceil(v[0]-math.Abs(v[0])*1e-9-v[1]) + v[1], true },
	Write: func(a []string) string {
		return "(0-INT(0-(" + a[0] + "-ABS(" + a[0] + ")*1E-9-" + a[1] + "))+" + a[1] + ")"
	},
}

// defaults notes the settings that stood in for blanks and mattered to a figure.
func (r *run) defaults() {
	for _, p := range r.res.Whole {
		unitcost.NoteDefaults(&r.res.Problems, p.Price)
	}
	for _, p := range r.res.Prices {
		figures := []*calc.Figure{p.List, p.Launch, p.BreakEven}
		if p.UnitCost != nil {
			figures = append(figures, p.UnitCost.Total)
		}
		unitcost.NoteDefaults(&r.res.Problems, figures...)
	}
}
