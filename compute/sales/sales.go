// Package sales turns the lines of Sales into what the sums mean: signed
// units, gross, discount, net and fees per line, orders, and sums by product,
// channel, day, season and market.
package sales

import (
	"cmp"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
)

// Line is a line of Sales as the sums take it. A refund has negative units, and
// negative net unless it was worth nothing.
type Line struct {
	Sale     *book.Sale
	Units    money.Amount
	Gross    money.Amount
	Discount money.Amount
	Net      money.Amount
	// Fees are what the channel takes of the line; NaN when a fee of the channel
	// cannot be read.
	Fees float64
	// Order tells orders apart: all lines with the same channel and order id are one.
	Order int32
	// OrderNet is the sum of the positive net of its order's lines.
	OrderNet float64
	// Season is the season of the line's day, Month its month.
	Season Season
	Month  day.Month
	// Bad tells that the line's money is unknown: an amount could not be read.
	Bad bool
}

// Ledger is the sales up to a day, in order of days.
type Ledger struct {
	Book     *book.Book
	Problems problem.List
	Lines    []Line
	Seasons  Seasons

	upTo      day.Date
	byProduct [][]int32 // indexes into Lines, in order of days
	products  map[*book.Product]int32
	orders    int32
	// rows of Markets per name of SaleMarkets, in order of days
	markets [][]int
}

// New reads the sales of a book up to a day; nothing dated after it is used.
func New(b *book.Book, upTo day.Date) *Ledger {
	l := &Ledger{Book: b, upTo: upTo, Seasons: newSeasons(b), products: map[*book.Product]int32{}}
	l.Problems.Join(l.Seasons.problems)
	for i, p := range b.Products {
		l.products[p] = int32(i)
	}
	minor := money.Minor(b.Settings.Text(book.Currency).V)
	rows := byDay(b.Sales, upTo)
	l.Lines = make([]Line, len(rows))
	for i, row := range rows {
		l.line(&l.Lines[i], &b.Sales[row], minor)
		l.date(i)
	}
	l.findOrders()
	l.charge()
	l.index()
	l.gaps()
	l.unpriced()
	return l
}

// byDay is the indexes of the sales up to a day, in order of days.
func byDay(all []book.Sale, upTo day.Date) []int32 {
	first, last, n := upTo, day.None, 0
	for i := range all {
		if d := all[i].Day; d <= upTo {
			first, last = min(first, d), max(last, d)
			n++
		}
	}
	if n == 0 {
		return nil
	}
	next := make([]int32, last-first+2)
	for i := range all {
		if d := all[i].Day; d <= upTo {
			next[d-first+1]++
		}
	}
	for d := range len(next) - 1 {
		next[d+1] += next[d]
	}
	out := make([]int32, n)
	for i := range all {
		if d := all[i].Day; d <= upTo {
			out[next[d-first]] = int32(i)
			next[d-first]++
		}
	}
	return out
}

// date gives a line the month and the season of its day.
func (l *Ledger) date(i int) {
	x := &l.Lines[i]
	if i > 0 && l.Lines[i-1].Sale.Day == x.Sale.Day {
		x.Month, x.Season = l.Lines[i-1].Month, l.Lines[i-1].Season
		return
	}
	x.Month, x.Season = x.Sale.Day.Month(), l.Seasons.Of(x.Sale.Day)
}

func (l *Ledger) index() {
	l.byProduct = make([][]int32, len(l.Book.Products))
	for i := range l.Lines {
		p := l.Lines[i].Sale.Product
		l.byProduct[p] = append(l.byProduct[p], int32(i))
	}
}

// First is the first day with a line; false without sales.
func (l *Ledger) First() (day.Date, bool) {
	if len(l.Lines) == 0 {
		return day.None, false
	}
	return l.Lines[0].Sale.Day, true
}

// Between is the lines from one day to another, both included.
func (l *Ledger) Between(from, to day.Date) []Line {
	lo := l.search(from)
	return l.Lines[lo:max(lo, l.search(to+1))]
}

func (l *Ledger) search(d day.Date) int {
	i, _ := slices.BinarySearchFunc(l.Lines, d, func(x Line, d day.Date) int { return cmp.Compare(x.Sale.Day, d) })
	return i
}

// Of is the indexes into Lines of a product's lines between two days, both
// included, in order of days.
func (l *Ledger) Of(p *book.Product, from, to day.Date) []int32 {
	i, ok := l.products[p]
	if !ok {
		return nil
	}
	rows := l.byProduct[i]
	at := func(d day.Date) int {
		n, _ := slices.BinarySearchFunc(rows, d, func(x int32, d day.Date) int { return cmp.Compare(l.Lines[x].Sale.Day, d) })
		return n
	}
	lo := at(from)
	return rows[lo:max(lo, at(to+1))]
}

// Channel is the channel of a line; nil for none.
func (l *Ledger) Channel(x *Line) *book.Channel {
	if x.Sale.Channel < 0 {
		return nil
	}
	return l.Book.Channels[x.Sale.Channel]
}

// Product is the product of a line.
func (l *Ledger) Product(x *Line) *book.Product { return l.Book.Products[x.Sale.Product] }

// Units is the units of a product sold between two days, net of refunds, as a
// sum over rows.
func (l *Ledger) Units(p *book.Product, from, to day.Date) *calc.Figure {
	var t Total
	for _, i := range l.Of(p, from, to) {
		t.Add(&l.Lines[i])
	}
	return t.Figure(Units, Where(from, to, "product", p.Code.V), p.Code.V, from.String(), to.String())
}

// UnitsPerOrder is the units of a channel's lines with positive net over its
// orders with such a line; 1 without any.
func (l *Ledger) UnitsPerOrder(c *book.Channel) *calc.Figure {
	var units money.Amount
	n := 0
	orders := map[int32]bool{}
	for i := range l.Lines {
		x := &l.Lines[i]
		if l.Channel(x) == c && x.Net.Sign() > 0 {
			units, n = units.Add(x.Units), n+1
			orders[x.Order] = true
		}
	}
	if n == 0 {
		return calc.Const(1)
	}
	where := []calc.Cond{{Field: "channel", Value: c.Name.V}}
	sum := calc.Sum(units.Float64(), string(book.TSales), n, "units", where, "sales.units-with-net", c.Name.V)
	count := calc.Sum(float64(len(orders)), string(book.TSales), n, "orders", where, "sales.orders", c.Name.V)
	return calc.Div(sum, count).Named("sales.units-per-order", c.Name.V)
}

// known is v, or NaN where it is not a number.
func known(ok bool, v float64) float64 {
	if !ok {
		return math.NaN()
	}
	return v
}
