package check

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/problem"
)

// fees warns of channels that take a large part of a sale, by their fee % or by
// all of their fees on the sales so far.
func (u *unusual) fees() {
	for i, c := range u.book.Channels {
		if c.Fee.OK() && c.Fee.V > highFee*(1+slack) {
			u.say([]finding{warning(problem.UnusualFigure, "fee", c.Fee.At, "channel", c.Name.V, "percent", tenths(c.Fee.V*100))})
			continue
		}
		t := u.lines.channels[i]
		if t.net <= 0 || t.fees <= highFee*t.net*(1+slack) {
			continue
		}
		at := c.PerOrder.At
		if c.PerUnit.V.Float64()*t.units > t.fees/2 {
			at = c.PerUnit.At
		}
		u.say([]finding{warning(problem.UnusualFigure, "fees", at, "channel", c.Name.V, "percent", tenths(t.fees/t.net*100))})
	}
}

// nowhere warns of lines that bring money and name no channel, when others do
// and there are fees to take of them.
func (u *unusual) nowhere() {
	g := &u.lines.nowhere
	named := slices.ContainsFunc(u.lines.channels, func(t taking) bool { return t.net > 0 })
	fees := slices.ContainsFunc(u.book.Channels, func(c *book.Channel) bool { return c.Listed })
	if g.n == 0 || !named || !fees {
		return
	}
	at := u.place(book.TSales, u.lines.place(g.first), "channel")
	f := warning(problem.MissingField, "no-channel", at, "amount", u.amount(g.net))
	f.n = g.n
	u.say([]finding{f})
}

// losses warns of active products that cost more than they bring: at the list
// price, after a channel's fees, or wholesale.
func (u *unusual) losses() {
	for _, p := range u.book.Products {
		if !p.Active.V {
			continue
		}
		c := u.engine.Cost(u.engine.Of(p), u.upTo.Month())
		if c == nil {
			continue
		}
		if f, lost := u.loss(p, c.Total.Or(0)); lost {
			u.say([]finding{f})
		}
	}
}

func (u *unusual) loss(p *book.Product, cost float64) (finding, bool) {
	list := p.List.V.Float64()
	if p.List.OK() && list > 0 {
		if cost > list*(1+slack) {
			return warning(problem.ZeroPrice, "below-cost", p.List.At, "product", p.Code.V, "cost", u.amount(cost), "price", u.amount(list)), true
		}
		if c, left := u.least(list); c != nil && cost > left+list*slack {
			return warning(problem.ZeroPrice, "below-cost-fees", p.List.At, "product", p.Code.V, "cost", u.amount(cost), "price", u.amount(list),
				"channel", c.Name.V, "left", u.amount(left)), true
		}
	}
	if w := p.Wholesale.V.Float64(); p.Wholesale.OK() && w > 0 && cost > w*(1+slack) {
		return warning(problem.ZeroPrice, "below-cost-wholesale", p.Wholesale.At, "product", p.Code.V, "cost", u.amount(cost), "price", u.amount(w)), true
	}
	return finding{}, false
}

// least is the channel, wholesale apart, that leaves the least of a price after
// its fees, and what it leaves.
func (u *unusual) least(price float64) (*book.Channel, float64) {
	var worst *book.Channel
	least := price
	for i, c := range u.book.Channels {
		if c.Wholesale {
			continue
		}
		if left := price*(1-c.Fee.V) - c.PerUnit.V.Float64() - u.perUnit(i); left < least {
			worst, least = c, left
		}
	}
	return worst, least
}

// perUnit is a channel's fee per order on a unit, by its orders so far; all of
// it without any.
func (u *unusual) perUnit(channel int) float64 {
	c, t := u.book.Channels[channel], u.lines.channels[channel]
	if t.units <= 0 {
		return c.PerOrder.V.Float64()
	}
	return max(0, t.fees-c.Fee.V*t.net-c.PerUnit.V.Float64()*t.units) / t.units
}
