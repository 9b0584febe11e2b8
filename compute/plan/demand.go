package plan

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/stat"
)

// chance is a product's demand as numbers. uncapped is what its own chances ask
// to bring; a product without cost or price has known false and brings nothing.
type chance struct {
	stat.NegBin
	under, over float64
	critical    float64
	uncapped    int
	known       bool
}

// worth is what the k-th unit of the product earns on average, from 1.
func (c *chance) worth(k int) float64 {
	sold := c.Above(k - 1)
	return c.under*sold - c.over*(1-sold)
}

// estimate gives every active product its mean and its chances.
func (r *run) estimate(o *outing) {
	spread := r.spread(o)
	active := r.active()
	at, mix, total := r.atReferences(o, active), r.mix(o, active), calc.Zero
	for _, f := range at {
		total = calc.Add(total, f)
	}
	prior := r.setting(book.MixPrior)
	weight := calc.Add(total, prior).Named("plan.mix-weight")
	for i, p := range active {
		code := p.Code.V
		share := mix[i]
		if v, ok := weight.Value(); !ok || v > 0 {
			share = calc.Div(calc.Add(at[i], calc.Mul(prior, mix[i])), weight)
		}
		d := Demand{Product: code, Of: p, Share: share.Named("plan.share", code), R: spread}
		d.Mean = calc.Mul(o.total, d.Share).Named("plan.mean", code)
		o.demand = append(o.demand, d)
		o.chances = append(o.chances, chance{NegBin: stat.NegBin{Mean: d.Mean.Or(0), R: spread.Or(plainSpread)}})
		r.money(o, i)
	}
}

// active is the products that are sold.
func (r *run) active() []*book.Product {
	var out []*book.Product
	for _, p := range r.book.Products {
		if p.Active.V {
			out = append(out, p)
		}
	}
	return out
}

// atReferences is what each product sold at the reference markets together.
func (r *run) atReferences(o *outing, active []*book.Product) []*calc.Figure {
	out := make([]*calc.Figure, len(active))
	for i, p := range active {
		var sums []*calc.Figure
		for _, row := range o.refs {
			t := &r.totals[row]
			if x := t.byProduct[p]; x != nil && x.Units.Sign() > 0 {
				m := r.book.Markets[row]
				sums = append(sums, calc.Sum(t.units(p), string(book.TSales), x.Count, string(sales.Units),
					sales.Where(t.from, t.to, "market", m.Name.V, "product", p.Code.V), "plan.product-at-market", p.Code.V, m.Name.V, m.Day.String()))
			}
		}
		out[i] = calc.Add(sums...)
	}
	return out
}

// mix is each product's share of the sales in seasons of the market's name, on all
// channels, over the 24 months up to today.
func (r *run) mix(o *outing, active []*book.Product) []*calc.Figure {
	from, to := r.opts.Today.AddMonths(-24)+1, r.opts.Today
	if r.opts.Today == r.opts.Today.Month().Last() {
		from = (r.opts.Today.Month() - 23).First()
	}
	units := map[*book.Product]*sales.Total{}
	for _, p := range active {
		units[p] = &sales.Total{}
	}
	for x := range r.ledger.Between(from, to).Each {
		if t := units[r.ledger.Product(x)]; t != nil && r.ledger.Seasons.Name(x.Season) == o.season {
			t.Add(x)
		}
	}
	sum, count := 0.0, 0
	for _, t := range units {
		sum, count = sum+max(0, t.Units.Float64()), count+t.Count
	}
	all := calc.Sum(sum, string(book.TSales), count, string(sales.Units), sales.Where(from, to, "season", o.season), "plan.season-units", o.season)
	half := calc.Const(0.5)
	whole := calc.Add(all, calc.Mul(half, calc.Const(float64(len(active)))))
	out := make([]*calc.Figure, len(active))
	for i, p := range active {
		t := units[p]
		own := calc.Sum(max(0, t.Units.Float64()), string(book.TSales), t.Count, string(sales.Units),
			sales.Where(from, to, "season", o.season, "product", p.Code.V), "plan.product-in-season", p.Code.V, o.season)
		out[i] = calc.Div(calc.Add(own, half), whole).Named("plan.season-share", p.Code.V, o.season)
	}
	return out
}

// money gives a product's demand its price on the market's channel, and what
// one too few and one too many cost.
func (r *run) money(o *outing, i int) {
	defer fault.In(o.demand[i].Of.Code.At, o.demand[i].Product)
	d, c := &o.demand[i], &o.chances[i]
	code := d.Product
	cost := r.engine.Cost(r.engine.Of(d.Of), r.month)
	if cost == nil {
		return
	}
	c.known, d.Known = true, true
	d.Price = r.price(d.Of, o.of.Channel)
	d.Over = calc.Mul(cost.Variable, calc.Sub(calc.Const(1), r.leftover())).Named("plan.over", code)
	c.over = d.Over.Or(0)
	if !d.Price.Known() {
		r.problem(problem.Warning, problem.NoListPrice, "plan", d.Of.Code.At, "product", code)
		return
	}
	kept := d.Price
	if ch := o.of.Channel; ch != nil {
		kept = calc.Mul(d.Price, calc.Sub(calc.Const(1), optional(ch.Fee, "plan.fee", ch.Name.V)))
		order := optional(number(ch.PerOrder), "plan.fee-per-order", ch.Name.V)
		kept = calc.Sub(kept, calc.Add(optional(number(ch.PerUnit), "plan.cost-per-unit", ch.Name.V), calc.Div(order, r.ledger.UnitsPerOrder(ch))))
		kept = kept.Named("plan.net-price", code, ch.Name.V)
	}
	d.Under = calc.Sub(kept, cost.Variable).Named("plan.under", code)
	under, ok := d.Under.Value()
	if !ok {
		return
	}
	c.under = under
	if under <= 0 {
		r.problem(problem.Warning, problem.ZeroPrice, "no-gain", d.Of.List.At, "product", code)
		return
	}
	d.Critical = calc.Div(d.Under, calc.Add(d.Under, d.Over)).Named("plan.critical", code)
	c.critical = d.Critical.Or(0)
	c.uncapped = c.Quantile(c.critical)
}

// price is a product's price on a channel, which may be nil.
func (r *run) price(p *book.Product, ch *book.Channel) *calc.Figure {
	code := p.Code.V
	list := calc.In(number(p.List), "plan.list-price", code)
	switch {
	case ch == nil || !ch.Wholesale:
		return list
	case p.Wholesale.State != cell.Blank:
		return calc.In(number(p.Wholesale), "plan.own-wholesale-price", code)
	}
	return calc.Mul(list, calc.Sub(calc.Const(1), r.setting(book.WholesaleDisc))).Named("plan.wholesale-price", code)
}

// mostLeftover is the most that a candle left over can be worth of its cost;
// otherwise none would ever be too many.
const mostLeftover = 0.95

func (r *run) leftover() *calc.Figure {
	f := r.setting(book.LeftoverValue)
	if f.Or(0) > mostLeftover {
		return calc.Min(f, calc.Const(mostLeftover))
	}
	return f
}
