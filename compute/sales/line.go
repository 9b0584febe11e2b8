package sales

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/money"
	"pourbook/compute/problem"
)

// line reads a sale and gives it its signs: a negative total or price with a positive
// quantity is a refund of that quantity, and a refund's discount takes the sign
// of the quantity, whichever way it is written.
func (l *Ledger) line(x *Line, s *book.Sale, minor money.Amount) {
	q, price, total, discount := s.Qty, s.Price, s.Total, s.Discount
	hasTotal, hasPrice := s.Has&book.HasTotal != 0, s.Has&book.HasPrice != 0
	if q.Sign() > 0 && (hasTotal && total.Sign() < 0 || hasPrice && price.Sign() < 0) {
		q = q.Neg()
	}
	if q.Sign() < 0 {
		price, discount = price.Abs(), discount.Abs().Neg()
		if hasTotal {
			total = total.Abs().Neg()
		}
	}
	*x = Line{Sale: s, Units: q, Discount: discount, Bad: s.Has&book.BadMoney != 0}
	priced := q.Mul(price).Sub(discount)
	if !hasTotal {
		x.Net, x.Gross = priced, priced.Add(discount)
		return
	}
	x.Net, x.Gross = total, total.Add(discount)
	if hasPrice && !x.Bad && q.Sign() != 0 && total.Sub(priced).Abs().Cmp(minor) > 0 {
		l.Problems.Add(problem.Problem{
			Severity: problem.Warning, Code: problem.TotalMismatch, At: l.place(s),
			Args: []any{"total", total.String(), "priced", priced.String()},
		})
	}
}

func (l *Ledger) place(s *book.Sale) cell.Ref { return place(l.Book, s) }

// findOrders numbers the orders; a line without an id is an order of its own.
func (l *Ledger) findOrders() {
	type key struct{ channel, order int32 }
	type met struct{ channel, number int32 }
	// most ids are met on one channel only
	first := make([]met, max(1, len(l.Book.Orders)))
	other := map[key]int32{}
	for i := range l.Lines {
		s := l.Lines[i].Sale
		switch f, k := &first[s.Order], (key{s.Channel, s.Order}); {
		case s.Order == 0:
			l.orders++
			l.Lines[i].Order = l.orders
		case f.number == 0:
			l.orders++
			*f = met{s.Channel, l.orders}
			l.Lines[i].Order = l.orders
		case f.channel == s.Channel:
			l.Lines[i].Order = f.number
		default:
			if other[k] == 0 {
				l.orders++
				other[k] = l.orders
			}
			l.Lines[i].Order = other[k]
		}
	}
}

// charge gives every line its fees: of a line with positive net the fee share,
// the cost per unit and its share of the fee per order; a refund takes its fee
// share back and nothing else; a line of net 0 pays the cost per unit only.
func (l *Ledger) charge() {
	positive := make([]float64, l.orders+1)
	for i := range l.Lines {
		switch x := &l.Lines[i]; {
		case x.Bad:
			positive[x.Order] = math.NaN()
		case x.Net.Sign() > 0:
			positive[x.Order] += x.Net.Float64()
		}
	}
	for i := range l.Lines {
		x := &l.Lines[i]
		x.OrderNet = positive[x.Order]
		c := l.Channel(x)
		if c == nil {
			continue
		}
		fee, perUnit, perOrder := share(c.Fee), amount(c.PerUnit), amount(c.PerOrder)
		net, units := x.Net.Float64(), x.Units.Float64()
		switch {
		case x.Bad:
			x.Fees = math.NaN()
		case net > 0:
			x.Fees = fee*net + perUnit*units
			if perOrder != 0 {
				x.Fees += perOrder * net / x.OrderNet
			}
		case net < 0:
			x.Fees = fee * net
		case units > 0:
			x.Fees = perUnit * units
		}
	}
}

func share(n cell.Num) float64 { return known(n.State != cell.Bad, n.V) }

func amount(m book.Money) float64 { return known(m.State != cell.Bad, m.V.Float64()) }
