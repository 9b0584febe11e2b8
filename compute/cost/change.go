package cost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/fault"
)

// change explains the difference of the gross margin from the month before, whose
// lines it is given, by product: volume, price and cost for those that sold in
// both months; for every other with a line in either, all of it is volume.
func (r *run) change(old tallies) {
	before := r.month() - 1
	var volumes []*calc.Figure
	sums := [2]sides{}
	for i, p := range r.book.Products {
		if old[i] == nil && r.lines[i] == nil {
			continue
		}
		was, is := r.sold(old[i], before), r.sold(r.lines[i], r.month())
		c := changeOf(p, was, is)
		r.res.Change = append(r.res.Change, c)
		if c.Total.Known() {
			volumes = append(volumes, c.Volume)
			sums[0].add(was)
			sums[1].add(is)
		}
	}
	q0, q1 := calc.Add(sums[0].units...).Named("change.units", before.String()), calc.Add(sums[1].units...).Named("change.units", r.month().String())
	if q0.Or(0) <= 0 {
		return
	}
	average := calc.Div(calc.Add(sums[0].margins...), q0).Named("change.average-margin", before.String())
	r.res.QuantityEffect = calc.Mul(calc.Sub(q1, q0), average).Named("quantity-effect", r.month().String())
	r.res.MixEffect = calc.Sub(calc.Add(volumes...), r.res.QuantityEffect).Named("mix-effect", r.month().String())
}

// sold is a product's sales of one of the two months.
func (r *run) sold(t *tally, m day.Month) Sales {
	if t == nil {
		return nothing()
	}
	return r.earned(t, scope{from: m.First(), to: m.Last()})
}

type sides struct{ units, margins []*calc.Figure }

func (s *sides) add(x Sales) {
	s.units, s.margins = append(s.units, x.Units), append(s.margins, x.GrossMargin)
}

func changeOf(p *book.Product, was, is Sales) Change {
	defer fault.In(p.Code.At, p.Code.V)
	code := p.Code.V
	c := Change{Product: code}
	if was.Units.Or(0) <= 0 || is.Units.Or(0) <= 0 {
		c.Total = calc.Sub(is.GrossMargin, was.GrossMargin).Named("change.total", code)
		if c.Total.Known() {
			c.Volume, c.Price, c.Cost = c.Total, calc.Zero, calc.Zero
		}
		return c
	}
	p0, p1 := calc.Div(was.NetSales, was.Units), calc.Div(is.NetSales, is.Units)
	c0, c1 := calc.Div(was.CostOfSales, was.Units), calc.Div(is.CostOfSales, is.Units)
	c.Volume = calc.Mul(calc.Sub(is.Units, was.Units), calc.Sub(p0, c0)).Named("change.volume", code)
	c.Price = calc.Mul(calc.Sub(p1, p0), is.Units).Named("change.price", code)
	c.Cost = calc.Mul(calc.Sub(c0, c1), is.Units).Named("change.cost", code)
	c.Total = calc.Add(c.Volume, c.Price, c.Cost).Named("change.total", code)
	return c
}
