// Package sales turns the lines of Sales into what the sums mean: signed
// units, gross, discount, net and fees per line, orders, and sums by product,
// channel, day, season and market.
package sales

import (
	"iter"
	"math"
	"slices"
	"sort"
	"sync"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/together"
)

// Ledger is the sales up to a day, in order of days.
type Ledger struct {
	Book     *book.Book
	Problems problem.List
	Seasons  Seasons

	sales  *book.Sales
	rows   []int32 // indexes of the lines in order of days; nil for all as they stand
	n      int
	worth  []Worth // by number of amounts
	fees   []fees  // by channel
	orders orders
	// by number of places, nil for those without a line
	products []*book.Product

	indexed sync.Once
	// of the lines by product: where each product's begin, and the lines
	starts, byProduct []int32

	// rows of Markets per name of SaleMarkets, in order of days
	markets [][]int
}

// New reads the sales of a book up to a day; nothing dated after it is used.
func New(b *book.Book, upTo day.Date) *Ledger {
	l := &Ledger{Book: b, sales: &b.Sales, Seasons: newSeasons(b)}
	l.Problems.Join(l.Seasons.problems)
	l.rows, l.n = byDay(&b.Sales, upTo)
	minor := money.Minor(b.Settings.Text(book.Currency).V)
	for _, x := range b.Sales.Amounts() {
		l.worth = append(l.worth, worthOf(x, minor))
	}
	for _, c := range b.Channels {
		l.fees = append(l.fees, feesOf(c))
	}
	var bad []int32
	together.Run(func() { bad = l.findOrders() }, l.findTakings, l.look)
	l.orders.close(bad)
	return l
}

// byDay is the indexes of the sales up to a day, in order of days, and their
// number; nil where all stand in order.
func byDay(all *book.Sales, upTo day.Date) ([]int32, int) {
	first, last, n := upTo, day.None, 0
	before, ordered := day.None, true
	for s := range all.Stretches(0, all.Len(), book.Days) {
		for _, d := range s.Days {
			d := day.Date(d)
			if d > upTo {
				continue
			}
			ordered = ordered && d >= before
			first, last, before = min(first, d), max(last, d), d
			n++
		}
	}
	if n == 0 || ordered && n == all.Len() {
		return nil, n
	}
	next := make([]int32, last-first+2)
	for s := range all.Stretches(0, all.Len(), book.Days) {
		for _, d := range s.Days {
			if d := day.Date(d); d <= upTo {
				next[d-first+1]++
			}
		}
	}
	for d := range len(next) - 1 {
		next[d+1] += next[d]
	}
	out := make([]int32, n)
	for s := range all.Stretches(0, all.Len(), book.Days) {
		for i, d := range s.Days {
			if d := day.Date(d); d <= upTo {
				out[next[d-first]] = int32(s.First + i)
				next[d-first]++
			}
		}
	}
	return out, n
}

// packed is a line by its place in the order of days.
func (l *Ledger) packed(i int) book.PackedSale {
	if l.rows != nil {
		i = int(l.rows[i])
	}
	return l.sales.Packed(i)
}

// stretches gives out columns of the lines from one to another in the order of
// days; First is a place in that order.
func (l *Ledger) stretches(lo, hi int, want book.Columns) iter.Seq[*book.Stretch] {
	if l.rows == nil {
		return l.sales.Stretches(lo, hi, want)
	}
	return func(yield func(*book.Stretch) bool) {
		for s := range l.sales.Picked(l.rows[lo:hi], want) {
			if s.First += lo; !yield(s) {
				return
			}
			s.First -= lo
		}
	}
}

// index makes starts and byProduct, which few ask for.
func (l *Ledger) index() {
	l.starts, l.byProduct = make([]int32, len(l.Book.Products)+1), make([]int32, l.n)
	places := l.sales.Places()
	for s := range l.stretches(0, l.n, book.Places) {
		for _, p := range s.Places {
			l.starts[places[p].Product+1]++
		}
	}
	for p := range l.Book.Products {
		l.starts[p+1] += l.starts[p]
	}
	next := slices.Clone(l.starts)
	for s := range l.stretches(0, l.n, book.Places) {
		for i, p := range s.Places {
			p := places[p].Product
			l.byProduct[next[p]] = int32(s.First + i)
			next[p]++
		}
	}
}

// First is the first day with a line; false without sales.
func (l *Ledger) First() (day.Date, bool) {
	if l.n == 0 {
		return day.None, false
	}
	return l.packed(0).Day, true
}

// All is every line.
func (l *Ledger) All() Lines { return Lines{l, 0, l.n} }

// Between is the lines from one day to another, both included.
func (l *Ledger) Between(from, to day.Date) Lines {
	at := func(d day.Date) int { return sort.Search(l.n, func(i int) bool { return l.packed(i).Day >= d }) }
	lo := at(from)
	return Lines{l, lo, max(lo, at(to+1))}
}

// Channel is the channel of a line; nil for none.
func (l *Ledger) Channel(x *Line) *book.Channel {
	if x.Channel < 0 {
		return nil
	}
	return l.Book.Channels[x.Channel]
}

// Product is the product of a line.
func (l *Ledger) Product(x *Line) *book.Product { return l.Book.Products[x.Product] }

// Units is the units of a product sold between two days, net of refunds, as a
// sum over rows.
func (l *Ledger) Units(p *book.Product, from, to day.Date) *calc.Figure {
	l.indexed.Do(l.index)
	var t Total
	if at := slices.Index(l.Book.Products, p); at >= 0 {
		rows := l.byProduct[l.starts[at]:l.starts[at+1]]
		for _, i := range rows[sort.Search(len(rows), func(i int) bool { return l.packed(int(rows[i])).Day >= from }):] {
			x := l.packed(int(i))
			if x.Day > to {
				break
			}
			t.Count++
			t.Units = t.Units.Add(l.worth[x.Amounts].Units)
		}
	}
	return t.Figure(Units, &Rows{From: from, To: to, Field: "product", Value: p.Code.V})
}

// UnitsPerOrder is the units of a channel's lines with positive net over its
// orders with such a line; 1 without any.
func (l *Ledger) UnitsPerOrder(c *book.Channel) *calc.Figure {
	at := slices.Index(l.Book.Channels, c)
	if at < 0 || l.orders.sold[at].lines == 0 {
		return calc.Const(1)
	}
	x := &l.orders.sold[at]
	where := []calc.Cond{{Field: "channel", Value: c.Name.V}}
	sum := calc.Sum(x.units.Float64(), string(book.TSales), x.lines, "units", where, "sales.units-with-net", c.Name.V)
	count := calc.Sum(float64(x.orders), string(book.TSales), x.lines, "orders", where, "sales.orders", c.Name.V)
	return calc.Div(sum, count).Named("sales.units-per-order", c.Name.V)
}

// known is v, or NaN where it is not a number.
func known(ok bool, v float64) float64 {
	if !ok {
		return math.NaN()
	}
	return v
}
