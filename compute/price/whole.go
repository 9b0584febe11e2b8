package price

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
)

// targetSlack is how far below the target a margin may lie for rounding's sake;
// it is that of the price ending.
const targetSlack = 1e-9

// whole holds the list price of every active product of the recipes against
// the target.
func (r *run) whole(recipes []*book.Recipe) error {
	if err := r.needTables(book.TProducts); err != nil {
		return err
	}
	r.warnOf(recipes)
	costs, prices := false, false
	for _, p := range r.book.Products {
		if p.Active.V && slices.Contains(recipes, p.Recipe) {
			x := r.rangePrice(p)
			costs, prices = costs || x.UnitCost != nil, prices || x.Price.Known()
			r.res.Whole = append(r.res.Whole, x)
		}
	}
	if len(r.res.Whole) == 0 {
		r.res.Problems.Add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "active"})
		return ErrBook
	}
	if costs && !prices && len(r.channels) > 0 {
		return ErrMargin
	}
	return nil
}

func (r *run) rangePrice(p *book.Product) RangePrice {
	defer fault.In(p.Code.At, p.Code.V)
	m, label := r.engine.Of(p), p.Code.V
	x := RangePrice{
		Product: label, Name: p.Name.V, Recipe: p.Recipe.Name.V, Jar: p.Jar.Name.V, Finish: p.Finish,
		UnitCost: r.engine.Cost(m, r.month), Fill: r.engine.Fill(m), Channels: []RangeChannel{},
	}
	priced := p.List.State == cell.Typed && p.List.V.Sign() > 0
	if priced {
		x.List = amount(p.List, "list-price", label)
	} else if p.List.State == cell.Blank || p.List.State == cell.Typed {
		r.warn(problem.NoListPrice, "", p.Code.At, "product", label)
	}
	if x.UnitCost == nil {
		r.warn(problem.MissingField, "not-priced", p.Code.At, "product", label)
		return x
	}
	for _, c := range r.channels {
		y := RangeChannel{Channel: r.onChannel(c, x.UnitCost.Total, label)}
		if v, ok := y.Rounded.Value(); ok && (x.Price == nil || v > x.Price.Or(0)) {
			x.Price = y.Rounded
		}
		if priced {
			y.ListMargin = r.marginAt(c, x.List, x.UnitCost.Total).Named("list-margin", label, c.Name.V)
		}
		if priced && y.Rounded.Known() {
			y.Change = calc.Sub(y.Rounded, x.List).Named("price-change", label, c.Name.V)
		}
		x.Channels = append(x.Channels, y)
	}
	if priced {
		r.judge(&x, p)
	}
	return x
}

// judge says what to do with a list price, by how much, and what wholesale
// keeps of it. A channel that cannot carry the target at any price has no say.
func (r *run) judge(x *RangePrice, p *book.Product) {
	label, cost := x.Product, x.UnitCost.Total
	whole := calc.Mul(x.List, calc.Sub(calc.Const(1), r.engine.Setting(book.WholesaleDisc)))
	if p.Wholesale.State == cell.Typed {
		whole = amount(p.Wholesale, "own-wholesale", label)
	} else {
		whole = whole.Named("wholesale-price", label)
	}
	x.Wholesale = &Wholesale{Price: whole, Margin: calc.Div(calc.Sub(whole, cost), whole).Named("wholesale-margin", label)}
	if !x.Price.Known() {
		return
	}
	x.Price = x.Price.Named("target-price", label)
	x.Change = calc.Sub(x.Price, x.List).Named("price-change", label)
	lower := calc.Sub(calc.Call(roundUp, x.List, r.engine.Setting(book.PriceEnding)), calc.Const(1))
	x.Verdict = Keep
	room := lower.Or(0) > 0
	for i, c := range r.channels {
		if !x.Channels[i].Rounded.Known() {
			continue
		}
		if r.short(x.Channels[i].ListMargin) {
			x.Verdict = Raise
			return
		}
		room = room && !r.short(r.marginAt(c, lower, cost))
	}
	if room {
		x.Verdict = Room
	}
}

// short reports whether a margin is below the target.
func (r *run) short(margin *calc.Figure) bool { return margin.Or(0) < r.res.Target.Or(0)-targetSlack }
