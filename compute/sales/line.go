package sales

import (
	"iter"
	"math"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
)

// Line is a line of Sales as the sums take it. A refund has negative units, and
// negative net unless it was worth nothing.
type Line struct {
	book.SalePlace
	*Worth
	Day      day.Date
	Row      int32
	Customer int32
	// Season is the season of the line's day, Month its month.
	Season Season
	Month  day.Month

	l     *Ledger
	index int32 // in the order of days
	id    int32 // of its order
}

// Order tells orders apart: all lines with the same channel and order id are one.
func (x *Line) Order() int32 { return x.l.orders.number(x.Channel, x.id, int(x.index)) }

// OrderNet is the sum of the positive net of its order's lines; NaN when one's
// is unknown.
func (x *Line) OrderNet() float64 {
	switch {
	case x.id != 0:
		return x.l.orders.net(x.Order())
	case x.Bad:
		return math.NaN()
	}
	return max(0, x.net)
}

// Fees are what the channel takes of the line; NaN when a fee of the channel
// cannot be read.
func (x *Line) Fees() float64 { return x.l.feesOf(x.Channel, x.id, x.Worth) }

// feesOf is the fees of a line by its channel, its order and what its amounts
// come to: of positive net the share, the cost per unit and its part of the fee
// per order; a refund takes its share back and nothing else; a line of net 0
// pays the cost per unit only.
func (l *Ledger) feesOf(channel, order int32, x *Worth) float64 {
	if channel < 0 {
		return 0
	}
	f := &l.fees[channel]
	switch {
	case x.Bad:
		return math.NaN()
	case x.net > 0:
		fixed := f.share*x.net + f.unit*x.units
		if order == 0 {
			return fixed + f.order*x.net/x.net
		}
		// Channels take turns, so that a branch between those with and without a
		// fee per order would be slow.
		n := l.orders.number(channel, order, 0) & f.perOrder
		return fixed + f.order*x.net/l.orders.net(n)
	case x.net < 0:
		return f.share * x.net
	case x.units > 0:
		return f.unit * x.units
	}
	return 0
}

// Worth is what the amounts of a line come to.
type Worth struct {
	Typed    book.SaleAmounts
	Units    money.Amount
	Gross    money.Amount
	Discount money.Amount
	Net      money.Amount
	// Bad tells that the line's money is unknown: an amount could not be read.
	Bad bool

	units, net float64
	priced     money.Amount
	mismatch   bool // the total is not quantity x price - discount
	free       bool // units went for nothing, without a discount that says so
}

// worthOf gives amounts their signs: a refund's discount takes the sign of the
// quantity, whichever way it is written.
func worthOf(s book.SaleAmounts, minor money.Amount) Worth {
	q, price, total, discount := s.Units(), s.Price, s.Total, s.Discount
	hasTotal, hasPrice := s.Has&book.HasTotal != 0, s.Has&book.HasPrice != 0
	if q.Sign() < 0 {
		price, discount = price.Abs(), discount.Abs().Neg()
		if hasTotal {
			total = total.Abs().Neg()
		}
	}
	w := Worth{Typed: s, Units: q, Discount: discount, Bad: s.Has&book.BadMoney != 0}
	w.priced = q.Mul(price).Sub(discount)
	w.Net = w.priced
	if hasTotal {
		w.Net = total
		w.mismatch = hasPrice && !w.Bad && q.Sign() != 0 && total.Sub(w.priced).Abs().Cmp(minor) > 0
	}
	w.Gross = w.Net.Add(discount)
	w.free = !w.Bad && q.Sign() > 0 && w.Gross.Sign() == 0
	w.units, w.net = q.Float64(), w.Net.Float64()
	return w
}

// fees are what a channel takes: of net, per unit and per order.
type fees struct {
	share, unit, order float64
	perOrder           int32 // all bits where there is a fee per order, else none
}

func feesOf(c *book.Channel) fees {
	f := fees{share: share(c.Fee), unit: amount(c.PerUnit), order: amount(c.PerOrder)}
	if f.order != 0 {
		f.perOrder = -1
	}
	return f
}

func share(n cell.Num) float64 { return known(n.State != cell.Bad, n.V) }

func amount(m book.Money) float64 { return known(m.State != cell.Bad, m.V.Float64()) }

// Lines is a stretch of the ledger, in order of days.
type Lines struct {
	l      *Ledger
	lo, hi int
}

// Len is the number of lines.
func (s Lines) Len() int { return s.hi - s.lo }

// Each gives the lines out; a line holds until the next is given out.
func (s Lines) Each(yield func(*Line) bool) {
	x, places := Line{l: s.l, Day: day.None}, s.l.sales.Places()
	for part := range s.l.stretches(s.lo, s.hi, book.Whole) {
		for i, d := range part.Days {
			if d := day.Date(d); d != x.Day {
				x.Day, x.Month, x.Season = d, d.Month(), s.l.Seasons.Of(d)
			}
			x.SalePlace, x.Worth = places[part.Places[i]], &s.l.worth[part.Amounts[i]]
			x.Row, x.Customer, x.id, x.index = part.Rows[i], part.Customers[i], part.Orders[i], int32(part.First+i)
			if !yield(&x) {
				return
			}
		}
	}
}

// Columns gives out columns of the lines; First is a place in the order of days.
// A stretch holds until the next is given out.
func (s Lines) Columns(want book.Columns) iter.Seq[*book.Stretch] {
	return s.l.stretches(s.lo, s.hi, want)
}

// Worths are what the amounts of lines come to, by their numbers.
func (l *Ledger) Worths() []Worth { return l.worth }

// PlaceProducts are the products of the places of lines, by their numbers; nil
// for a place without a line.
func (l *Ledger) PlaceProducts() []*book.Product { return l.products }

// FeesOf is what [Line.Fees] is, of a line of a stretch with its order, its
// place and its amounts.
func (l *Ledger) FeesOf(s *book.Stretch, i int) float64 {
	return l.feesOf(l.sales.Places()[s.Places[i]].Channel, s.Orders[i], &l.worth[s.Amounts[i]])
}

// List is the lines themselves.
func (s Lines) List() []Line {
	out := make([]Line, 0, s.Len())
	for x := range s.Each {
		out = append(out, *x)
	}
	return out
}

// fill makes x the line of an index in the order of days. Where x was a line of
// the same day, its season and month hold.
func (l *Ledger) fill(x *Line, i int, p *book.PackedSale) {
	if x.Worth == nil || x.Day != p.Day {
		x.Day, x.Month, x.Season = p.Day, p.Day.Month(), l.Seasons.Of(p.Day)
	}
	x.SalePlace, x.Worth = l.sales.Places()[p.Place], &l.worth[p.Amounts]
	x.Row, x.Customer, x.id = p.Row, p.Customer, p.Order
	x.l, x.index = l, int32(i)
}

// Above reports whether a line stands above another in the book.
func (x *Line) Above(y *Line) bool {
	if x.Sheet != y.Sheet {
		return x.Sheet < y.Sheet
	}
	return x.Row < y.Row
}

// Place is the first cell of a line's row.
func (l *Ledger) Place(x *Line) cell.Ref {
	if int(x.Sheet) >= len(l.Book.SaleSheets) {
		return cell.Ref{}
	}
	return cell.Ref{Sheet: l.Book.SaleSheets[x.Sheet], Row: int(x.Row), Col: 1}
}
