package unitcost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
)

// StockRow is a material's stock over a period, quantities in the base unit of
// its own dimension, money in currency. ActualUse and UsageVariance are unknown
// without a count before the period and one within it; unfavorable is positive.
type StockRow struct {
	Of            *book.Material
	Opening       *calc.Figure
	Purchased     *calc.Figure
	Used          *calc.Figure
	Closing       *calc.Figure
	Value         *calc.Figure
	ActualUse     *calc.Figure
	UsageVariance *calc.Figure
	PriceVariance *calc.Figure
	// Price and PriceBefore are the cost per base unit of the period's last
	// month and of the month before the period.
	Price       *calc.Figure
	PriceBefore *calc.Figure
}

// Stock is a row for every material with a purchase up to to, in the order of
// the Materials table. A period need not be whole months: opening is what there
// was at the start of from, closing at the end of to, purchased and used what lies
// between; a period that begins before the roll opens with it.
//
// Nothing dated after to is used, whatever the engine's own last day.
func (e *Engine) Stock(from, to day.Date) []StockRow {
	if to != e.upTo {
		at := New(e.Book, e.sold, to)
		rows := at.Stock(from, to)
		e.Problems.Join(at.Problems)
		return rows
	}
	var out []StockRow
	for _, m := range e.Book.Materials {
		s := e.stuff(m)
		if r := e.rollOf(s); r != nil {
			out = append(out, e.stockRow(s, r, from, to))
			e.shortage(s, r)
		}
	}
	return out
}

func (e *Engine) stockRow(s *stuff, r *roll, from, to day.Date) StockRow {
	defer fault.In(s.mat.Name.At, s.mat.Name.V)
	name, since, until := s.mat.Name.V, from.String(), to.String()
	last := r.at(to.Month())
	x := StockRow{
		Of: s.mat, Opening: e.opening(s, r, from), Closing: last.closing, Value: last.value,
		Purchased: quantity(between(s.buys, from, to)).Named("stock.purchased", name, since, until),
		Used:      e.used(s, r, from, to).Named("stock.used", name, since, until),
		Price:     e.Price(s.mat, to.Month()), PriceBefore: e.Price(s.mat, from.Month()-1),
	}
	x.ActualUse, x.UsageVariance = e.usage(s, from, to)
	var paid []*calc.Figure
	for _, b := range between(s.buys, from, to) {
		paid = append(paid, calc.Sub(b.landed, calc.Mul(b.qty, e.Price(s.mat, b.day.Month()-1))))
	}
	x.PriceVariance = calc.Add(paid...).Named("stock.price-variance", name, since, until)
	return x
}

// opening is the stock at the start of a day: the month's opening, or its last
// count before the day, rolled forward.
func (e *Engine) opening(s *stuff, r *roll, from day.Date) *calc.Figure {
	m := r.at(max(from.Month(), r.first))
	if from <= m.month.First() {
		return m.opening
	}
	for i := len(s.counts) - 1; i >= 0; i-- {
		if c := s.counts[i]; c.day < from && c.day >= s.buys[0].day && c.day.Month() == m.month {
			return e.after(s, c, from-1).Named("stock.opening", s.mat.Name.V, from.String())
		}
	}
	start := m.month.First()
	used := calc.Max(calc.Zero, e.Use(s.mat, r.usedFrom(start), from-1))
	left := calc.Sub(calc.Add(m.opening, quantity(between(s.buys, start, from-1))), used)
	return calc.Max(calc.Zero, left).Named("stock.opening", s.mat.Name.V, from.String())
}

// used is the roll's use over a period: month by month not below zero.
func (e *Engine) used(s *stuff, r *roll, from, to day.Date) *calc.Figure {
	var sum []*calc.Figure
	for i := range r.months {
		m := &r.months[i]
		switch {
		case m.month < from.Month() || m.month > to.Month():
		case from <= m.month.First():
			sum = append(sum, m.use)
		default:
			sum = append(sum, calc.Max(calc.Zero, e.Use(s.mat, r.usedFrom(from), m.month.Last())))
		}
	}
	return calc.Add(sum...)
}

// usage is the actual use between the last count before a period and the last
// within it, and its variance at the cost of the month in which the period ends.
func (e *Engine) usage(s *stuff, from, to day.Date) (actual, variance *calc.Figure) {
	var first, last *tally
	for i, c := range s.counts {
		switch {
		case c.day < from:
			first = &s.counts[i]
		case c.day <= to:
			last = &s.counts[i]
		}
	}
	if first == nil || last == nil {
		return nil, nil
	}
	name, since, until := s.mat.Name.V, first.day.String(), last.day.String()
	bought := quantity(between(s.buys, first.day+1, last.day))
	actual = calc.Sub(calc.Add(first.qty, bought), last.qty).Named("stock.actual-use", name, since, until)
	theory := e.Use(s.mat, first.day+1, last.day).Named("stock.theoretical-use", name, since, until)
	variance = calc.Mul(calc.Sub(actual, theory), e.Price(s.mat, to.Month())).Named("stock.usage-variance", name, since, until)
	return actual, variance
}

// StockDifferences is what counts found missing in a period, in currency, found
// surplus being negative: by the last count of each month, at the month's cost.
func (e *Engine) StockDifferences(from, to day.Date) *calc.Figure {
	var sum []*calc.Figure
	for _, mat := range e.Book.Materials {
		r := e.rollOf(e.stuff(mat))
		if r == nil {
			continue
		}
		for i := range r.months {
			m := &r.months[i]
			if m.count == nil || m.count.day < from || m.count.day > to {
				continue
			}
			missing := calc.Mul(calc.Sub(m.without, m.closing), m.cost)
			sum = append(sum, missing.Named("stock.difference", mat.Name.V, m.count.day.String()))
		}
	}
	return calc.Add(sum...).Named("stock.differences", from.String(), to.String())
}

// Uncovered is the share of a material's use, from its first purchase to the
// engine's last day, that recorded stock does not cover.
func (e *Engine) Uncovered(m *book.Material) float64 {
	if r := e.rollOf(e.stuff(m)); r != nil {
		return r.uncovered()
	}
	return 0
}

func (r *roll) uncovered() float64 {
	short, all := 0.0, 0.0
	for _, m := range r.months {
		use := m.use.Or(0)
		all += use
		short += max(0, use-m.opening.Or(0)-m.bought.Or(0))
	}
	if short <= 1e-9*all {
		return 0
	}
	return short / all
}

func (e *Engine) shortage(s *stuff, r *roll) {
	share := r.uncovered()
	if share == 0 {
		return
	}
	e.raise(problem.Problem{
		Severity: problem.Warning, Code: problem.PurchaseShortage, At: s.mat.Name.At,
		Args: []any{"material", s.mat.Name.V, "share", percent(share), "since", r.first.String()},
	}, s.mat.Name.V)
}
