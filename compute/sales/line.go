package sales

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/money"
	"pourbook/compute/problem"
)

// line gives a sale its signs: a negative total or price with a positive
// quantity is a refund of that quantity, and a refund's discount takes the sign
// of the quantity, whichever way it is written.
func (l *Ledger) line(s *book.Sale, minor money.Amount) Line {
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
	x := Line{Sale: s, Units: q, Discount: discount, Bad: s.Has&book.BadMoney != 0, Season: l.Seasons.Of(s.Day)}
	priced := q.Mul(price).Sub(discount)
	if !hasTotal {
		x.Net, x.Gross = priced, priced.Add(discount)
		return x
	}
	x.Net, x.Gross = total, total.Add(discount)
	if hasPrice && total.Sub(priced).Abs().Cmp(minor) > 0 {
		l.Problems.Add(problem.Problem{
			Severity: problem.Warning, Code: problem.TotalMismatch, At: l.place(s),
			Args: []any{"total", total.String(), "priced", priced.String()},
		})
	}
	return x
}

// place is the first cell of a sale's row.
func (l *Ledger) place(s *book.Sale) cell.Ref {
	return cell.Ref{Sheet: l.Book.SaleSheets[s.Sheet], Row: int(s.Row), Col: 1}
}

// findOrders numbers the orders; a line without an id is an order of its own.
func (l *Ledger) findOrders() {
	type key struct{ channel, order int32 }
	seen := map[key]int32{}
	for i := range l.Lines {
		s := l.Lines[i].Sale
		k := key{s.Channel, s.Order}
		n, ok := seen[k]
		if s.Order == 0 || !ok {
			n = l.orders
			l.orders++
			seen[k] = n
		}
		l.Lines[i].Order = n
	}
}

// charge gives every line its fees: of a line with positive net the fee share,
// the cost per unit and its share of the fee per order; a refund takes its fee
// share back and nothing else; a line of net 0 pays the cost per unit only.
func (l *Ledger) charge() {
	positive := make([]float64, l.orders)
	for i := range l.Lines {
		if x := &l.Lines[i]; x.Net.Sign() > 0 {
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
			x.Fees = fee*net + perUnit*units + perOrder*net/x.OrderNet
		case net < 0:
			x.Fees = fee * net
		case units > 0:
			x.Fees = perUnit * units
		}
	}
}

func share(n cell.Num) float64 { return known(n.State != cell.Bad, n.V) }

func amount(m book.Money) float64 { return known(m.State != cell.Bad, m.V.Float64()) }
