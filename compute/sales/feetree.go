package sales

import (
	"strconv"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
)

// charged is what a channel's fees are charged by: the net of refunds too, the
// units that pay the cost per unit, and the orders, each by the lines' share of it.
type charged struct {
	net, units           money.Amount
	shares               float64
	lines, paying, inNet int // lines: all, that pay per unit, with positive net
	orders               map[int32]bool
}

func (c *charged) add(x *Line) {
	c.lines++
	c.net = c.net.Add(x.Net)
	if x.net > 0 {
		c.inNet++
		c.shares += x.net / x.OrderNet()
		c.orders[x.Order()] = true
	}
	if x.net > 0 || x.net == 0 && x.units > 0 {
		c.paying++
		c.units = c.units.Add(x.Units)
	}
}

// FeeTree is the fees of the rows that Where tells by days, product and channel,
// in money: for every channel its rates, and what they are charged by. It is nil
// for rows told otherwise, and unknown where the fees are.
func (l *Ledger) FeeTree(where []calc.Cond) *calc.Figure {
	s, ok := rowsOf(where)
	if !ok {
		return nil
	}
	by := make([]*charged, len(l.Book.Channels))
	for x := range l.Between(s.From, s.To).Each {
		switch {
		case x.Channel < 0 || s.product != "" && l.Product(x).Code.V != s.product:
			continue
		case s.channel != "" && l.Book.Channels[x.Channel].Name.V != s.channel:
			continue
		case x.Bad:
			return calc.Unknown(feesOn, s.product, s.From.String(), s.To.String(), l.Book.Channels[x.Channel].Name.V)
		}
		if by[x.Channel] == nil {
			by[x.Channel] = &charged{orders: map[int32]bool{}}
		}
		by[x.Channel].add(x)
	}
	var sum []*calc.Figure
	for i, c := range by {
		if c != nil {
			sum = append(sum, c.fees(l.Book.Channels[i], s))
		}
	}
	return calc.Add(sum...)
}

const feesOn = "fees.on"

// asked are the rows of a fee tree.
type asked struct {
	From, To         day.Date
	product, channel string
}

// rowsOf is what conditions say; false where they do not name a product, or say
// more than days, product and channel.
func rowsOf(where []calc.Cond) (asked, bool) {
	var s asked
	for _, c := range where {
		switch c.Field {
		case "product":
			s.product = c.Value
		case "channel":
			s.channel = c.Value
		case "from", "to":
			d, err := day.Parse(c.Value)
			if err != nil {
				return s, false
			}
			if c.Field == "from" {
				s.From = d
			} else {
				s.To = d
			}
		default:
			return s, false
		}
	}
	return s, s.product != "" && s.From != day.None && s.To != day.None
}

// fees are what a channel takes of the lines added up.
func (c *charged) fees(of *book.Channel, s asked) *calc.Figure {
	name := of.Name.V
	rows := Rows{From: s.From, To: s.To, Field: "product", Value: s.product, Further: &Further{More: []string{"channel", name}}}
	sum := func(v float64, field Field, count int, key string, of ...string) *calc.Figure {
		return calc.Sum(v, string(book.TSales), count, string(field), rows.Where(), key, append(rows.Of(), of...)...)
	}
	var parts []*calc.Figure
	if of.Fee.State != cell.Blank {
		parts = append(parts, calc.Mul(calc.In(of.Fee, "fee-share", name), sum(c.net.Float64(), Net, c.lines, "fees.net")))
	}
	if f, ok := rate(of.PerUnit, "cost-per-unit", name); ok {
		parts = append(parts, calc.Mul(f, sum(c.units.Float64(), Units, c.paying, "fees.units")))
	}
	if f, ok := rate(of.PerOrder, "fee-per-order", name); ok {
		parts = append(parts, calc.Mul(f, sum(c.shares, "orders", c.inNet, "fees.orders", strconv.Itoa(len(c.orders)))))
	}
	return calc.Add(parts...).Named(feesOn, rows.Of()...)
}

// rate is an amount of money that a channel asks for; false where none is given.
func rate(m book.Money, key, of string) (*calc.Figure, bool) {
	return calc.In(cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State}, key, of), m.State != cell.Blank
}
