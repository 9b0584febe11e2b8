package unitcost

import (
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
)

// changes are the months as of which something costs something else, in order:
// between two of them it is one figure.
type changes []day.Month

// always stands for the time before the first change.
const always day.Month = math.MinInt32

// since is the last change up to a month.
func (c changes) since(m day.Month) day.Month {
	if n := c.upTo(m); n > 0 {
		return c[n-1]
	}
	return always
}

// upTo is how many changes there are up to a month.
func (c changes) upTo(m day.Month) int {
	n, found := slices.BinarySearch(c, m)
	if found {
		n++
	}
	return n
}

// and are the changes of either.
func (c changes) and(more changes) changes {
	all := slices.Concat(c, more)
	slices.Sort(all)
	return slices.Compact(all)
}

// asOf names a figure by the change as of which it holds.
func asOf(f *calc.Figure, since day.Month, key string, of ...string) *calc.Figure {
	if since == always {
		return f.Named(key, of...)
	}
	return f.Named(key+".as-of", append(of, since.String())...)
}

// priceChanges are a material's: the months of its purchases; first in, first
// out every month from the first of them on.
func (e *Engine) priceChanges(s *stuff) changes {
	if s.changes != nil || len(s.buys) == 0 {
		return s.changes
	}
	if e.Method() == FIFO {
		for m := s.buys[0].day.Month(); m <= e.upTo.Month(); m++ {
			s.changes = append(s.changes, m)
		}
		return s.changes
	}
	for _, b := range s.buys {
		s.changes = append(s.changes, b.day.Month())
	}
	s.changes = slices.Compact(s.changes)
	return s.changes
}

// overheadChanges are the months in which an overhead begins, and those after
// which one ends.
func overheadChanges(b *book.Book) changes {
	var all changes
	for _, o := range b.Overheads {
		if o.From.OK() {
			all = append(all, o.From.V.Month())
		}
		if o.To.OK() {
			all = append(all, o.To.V.Month()+1)
		}
	}
	return all.and(nil)
}

// Prices is what a base unit of a material costs from a month on.
type Prices struct {
	changes changes // after that month
	figures []*calc.Figure
}

// Prices is the price of a material in every month from one on. Unlike the
// engine it is safe for concurrent use.
func (e *Engine) Prices(m *book.Material, from day.Month) *Prices {
	all := e.priceChanges(e.stuff(m))
	p := &Prices{all[all.upTo(from):], []*calc.Figure{e.Price(m, from)}}
	for _, month := range p.changes {
		p.figures = append(p.figures, e.Price(m, month))
	}
	return p
}

// In is the price in a month, in currency.
func (p *Prices) In(month day.Month) *calc.Figure { return p.figures[p.changes.upTo(month)] }

// Costs is what one good unit costs over the months.
type Costs struct {
	engine  *Engine
	of      Make
	changes changes
	known   map[day.Month]*Cost
}

// Costs is the cost of one good unit of m in every month.
func (e *Engine) Costs(m Make) *Costs {
	if m.Parts != nil {
		return e.newCosts(m)
	}
	k := minutesKey{m.key(), m.Minutes}
	c, ok := e.costs[k]
	if !ok {
		c = e.newCosts(m)
		e.costs[k] = c
	}
	return c
}

func (e *Engine) newCosts(m Make) *Costs {
	c := &Costs{engine: e, of: m, changes: e.changes, known: map[day.Month]*Cost{}}
	for _, i := range e.Issued(m) {
		if more := e.priceChanges(e.stuff(i.Material)); len(more) > 0 {
			c.changes = c.changes.and(more)
		}
	}
	return c
}

// Since is the last month up to a month in which the cost may have changed.
func (c *Costs) Since(month day.Month) day.Month { return c.changes.since(month) }

// In is the cost in a month, in currency, every part of it given; nil where any
// part is unknown, and then a problem says why. It is one and the same between
// two changes of a price or an overhead.
func (c *Costs) In(month day.Month) *Cost {
	since := c.changes.since(month)
	x, ok := c.known[since]
	if !ok {
		x = c.engine.cost(c.of, month, since)
		c.known[since] = x
	}
	return x
}

// Cost is the cost of one good unit of m in a month, as Costs gives it.
func (e *Engine) Cost(m Make, month day.Month) *Cost { return e.Costs(m).In(month) }
