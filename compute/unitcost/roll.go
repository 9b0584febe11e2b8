package unitcost

import (
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/fault"
)

// roll is a material's stock by calendar month, from the month of its first
// purchase to the engine's last day, in the material's own dimension.
type roll struct {
	first  day.Month
	opened *tally // the count that the roll starts from; nil: from nothing
	months []rolled
}

// rolled is one month of a roll.
type rolled struct {
	month   day.Month
	opening *calc.Figure
	bought  *calc.Figure
	use     *calc.Figure // not below zero
	without *calc.Figure // what would be left but for a count
	closing *calc.Figure
	count   *tally       // the month's last count; nil: none
	cost    *calc.Figure // per base unit
	value   *calc.Figure // of the closing stock
}

// valuer is a way to value a month's use and what is left.
type valuer interface {
	// month prices a month of which all quantities are known.
	month(r *rolled, buys []buy) (cost, value *calc.Figure)
}

// rollOf is the roll of a material with a purchase; nil for any other.
func (e *Engine) rollOf(s *stuff) *roll {
	if s.roll == nil && len(s.buys) > 0 {
		s.roll = e.newRoll(s)
	}
	return s.roll
}

func (e *Engine) newRoll(s *stuff) *roll {
	defer fault.In(s.mat.Name.At, s.mat.Name.V)
	r := &roll{first: s.buys[0].day.Month()}
	opening := calc.Zero
	for i, c := range s.counts {
		if c.day < s.buys[0].day {
			r.opened, opening = &s.counts[i], c.qty
		}
	}
	v := e.newValuer(s, opening)
	for m := r.first; m <= e.upTo.Month(); m++ {
		x := e.quantities(s, r, m, opening)
		x.cost, x.value = v.month(&x, between(s.buys, m.First(), m.Last()))
		r.months = append(r.months, x)
		opening = x.closing
	}
	return r
}

func (e *Engine) newValuer(s *stuff, opening *calc.Figure) valuer {
	switch first := s.buys[0].price; e.Method() {
	case Average:
		return &average{of: s.mat.Name.V, cost: first}
	case FIFO:
		l := &layers{of: s.mat.Name.V, taken: calc.Zero, cost: first}
		l.add(opening, first, "")
		return l
	}
	return lastPrice{e, s}
}

// quantities are a month's without its cost.
func (e *Engine) quantities(s *stuff, r *roll, m day.Month, opening *calc.Figure) rolled {
	name, on := s.mat.Name.V, m.String()
	x := rolled{month: m, opening: opening, bought: quantity(between(s.buys, m.First(), m.Last()))}
	x.use = calc.Max(calc.Zero, e.Use(s.mat, r.usedFrom(m.First()), m.Last())).Named("stock.use", name, on)
	x.without = calc.Max(calc.Zero, calc.Sub(calc.Add(opening, x.bought), x.use))
	for i, c := range s.counts {
		if c.day.Month() == m && c.day >= s.buys[0].day {
			x.count = &s.counts[i]
		}
	}
	if x.count == nil {
		x.closing = x.without.Named("stock.closing", name, on)
		return x
	}
	x.without = x.without.Named("stock.without-count", name, on)
	x.closing = e.after(s, *x.count, m.Last()).Named("stock.closing", name, on)
	return x
}

// after is what a count leaves at the end of a day: the count + purchases
// after its day - theoretical use after its day, not below zero.
func (e *Engine) after(s *stuff, c tally, until day.Date) *calc.Figure {
	bought := quantity(between(s.buys, c.day+1, until))
	return calc.Max(calc.Zero, calc.Sub(calc.Add(c.qty, bought), e.Use(s.mat, c.day+1, until)))
}

// usedFrom is the first day from d on whose use counts: in the month of the
// opening count only the use after it does.
func (r *roll) usedFrom(d day.Date) day.Date {
	if r.opened != nil {
		return max(d, r.opened.day+1)
	}
	return d
}

// at is a month of the roll: beyond its end the last, before its start nil.
func (r *roll) at(m day.Month) *rolled {
	if r == nil || m < r.first {
		return nil
	}
	return &r.months[min(int(m-r.first), len(r.months)-1)]
}

// between are the purchases of a span of days.
func between(buys []buy, from, to day.Date) []buy {
	lo, hi := 0, len(buys)
	for lo < hi && buys[lo].day < from {
		lo++
	}
	for hi > lo && buys[hi-1].day > to {
		hi--
	}
	return buys[lo:hi]
}

func quantity(buys []buy) *calc.Figure {
	all := make([]*calc.Figure, len(buys))
	for i, b := range buys {
		all[i] = b.qty
	}
	return calc.Add(all...)
}

// average is the periodic weighted average.
type average struct {
	of   string
	cost *calc.Figure // of the month before; at first that of the first purchase
}

// month keeps the cost where nothing is bought.
func (a *average) month(r *rolled, buys []buy) (cost, value *calc.Figure) {
	if len(buys) == 0 {
		return a.cost, worth(r.closing, a.cost, a.of, r.month)
	}
	values := []*calc.Figure{calc.Mul(r.opening, a.cost)}
	if r.opening.Or(1) == 0 && !a.cost.Known() {
		values = values[:0] // nothing is worth nothing, even at an unknown price
	}
	for _, b := range buys {
		values = append(values, b.landed)
	}
	if stock := calc.Add(r.opening, r.bought); stock.Or(1) > 0 {
		a.cost = calc.Div(calc.Add(values...), stock)
	}
	a.cost = a.cost.Named("material.price", a.of, r.month.String())
	return a.cost, worth(r.closing, a.cost, a.of, r.month)
}

// lastPrice is the latest price in a month.
type lastPrice struct {
	e *Engine
	s *stuff
}

func (l lastPrice) month(r *rolled, _ []buy) (cost, value *calc.Figure) {
	cost = l.e.Price(l.s.mat, r.month)
	return cost, worth(r.closing, cost, l.s.mat.Name.V, r.month)
}

func worth(quantity, price *calc.Figure, of string, m day.Month) *calc.Figure {
	return calc.Mul(quantity, price).Named("stock.value", of, m.String())
}
