package sales

import (
	"iter"
	"math"

	"pourbook/compute/book"
	"pourbook/compute/money"
)

// orders tells the orders apart. An order id is the number of its order on the
// channel where it is met first; on any other channel it gets a number of its
// own, and so does every line without an id.
type orders struct {
	first book.Paged[int32] // by id, the channel where it is met first
	other map[orderKey]int32
	nets  book.Paged[float64] // by number, the positive net; 1 of none
	sold  []takings           // by channel
	// ordered: lines of an order stand together, and orders by their numbers.
	ordered bool
}

type orderKey struct{ channel, id int32 }

// notMet is the channel of an id without a line.
const notMet = math.MinInt32

// takings are what a channel sold with positive net.
type takings struct {
	units         money.Amount
	lines, orders int
}

// findOrders numbers the orders and adds up what they are charged by; the numbers
// of those with a line whose net is unknown are given.
func (l *Ledger) findOrders() (bad []int32) {
	o := &l.orders
	o.other = map[orderKey]int32{}
	o.first, o.nets = book.PagedOf[int32](l.Book.Orders+1, notMet), book.PagedOf[float64](l.Book.Orders+1, 0)
	places := l.sales.Places()
	var last, before int32 // orders: of the last line with an id, of the line before
	o.ordered = true
	for s := range l.stretches(0, l.n, book.Orders|book.Places|book.Amounts) {
		for i, id := range s.Orders {
			n := int32(0)
			if id != 0 {
				w := &l.worth[s.Amounts[i]]
				n = o.meet(orderKey{places[s.Places[i]].Channel, id})
				o.ordered, last = o.ordered && (n > last || n == before), n
				*o.nets.At(int(n)) += max(0, w.net)
				if w.Bad {
					bad = append(bad, n)
				}
			}
			before = n
		}
	}
	return bad
}

// findTakings adds up what channels sold, but for the orders with an id, and
// finds the products of the places.
func (l *Ledger) findTakings() {
	l.orders.sold = make([]takings, len(l.Book.Channels))
	places := l.sales.Places()
	l.products = make([]*book.Product, len(places))
	for s := range l.stretches(0, l.n, book.Orders|book.Places|book.Amounts) {
		for i, n := range s.Places {
			at, w := &places[n], &l.worth[s.Amounts[i]]
			l.products[n] = l.Book.Products[at.Product]
			if at.Channel < 0 || w.net <= 0 {
				continue
			}
			t := &l.orders.sold[at.Channel]
			t.units = t.units.Add(w.Units)
			t.lines++
			if s.Orders[i] == 0 {
				t.orders++
			}
		}
	}
}

// close counts the orders with positive net on each channel. The net of a bad one
// is unknown.
func (o *orders) close(bad []int32) {
	count := func(channel int32, n int) {
		if channel >= 0 && *o.nets.At(n) > 0 {
			o.sold[channel].orders++
		}
	}
	for id := range o.first.Len() {
		count(*o.first.At(id), id)
	}
	for key, n := range o.other {
		count(key.channel, int(n))
	}
	for _, n := range bad {
		*o.nets.At(int(n)) = math.NaN()
	}
	*o.nets.At(0) = 1
}

func (o *orders) meet(k orderKey) int32 {
	switch first := o.first.At(int(k.id)); *first {
	case k.channel:
		return k.id
	case notMet:
		*first = k.channel
		return k.id
	}
	n, ok := o.other[k]
	if !ok {
		n = int32(o.nets.Len())
		o.other[k] = n
		o.nets.Add(0)
	}
	return n
}

// number is the number of the order of a line, the i-th in the order of days.
func (o *orders) number(channel, id int32, i int) int32 {
	switch {
	case id == 0:
		return int32(o.nets.Len() + i)
	case *o.first.At(int(id)) == channel:
		return id
	}
	return o.other[orderKey{channel, id}]
}

// net is the positive net of the order of a number; 1 of none.
func (o *orders) net(n int32) float64 { return *o.nets.At(int(n)) }

// ColumnsByOrder gives out columns of the lines order by order; lines that are
// orders of their own come between. First counts the lines. A stretch holds until
// the next is given out.
func (s Lines) ColumnsByOrder(want book.Columns) iter.Seq[*book.Stretch] {
	if s.l.orders.ordered {
		return s.Columns(want)
	}
	lines := s.byOrder()
	if s.l.rows != nil {
		for n, i := range lines {
			lines[n] = s.l.rows[i]
		}
	}
	return s.l.sales.Picked(lines, want)
}

// byOrder is the indexes of the lines: those that are orders of their own, then
// the others by their orders' numbers, lines of an order as they stand.
func (s Lines) byOrder() []int32 {
	places := s.l.sales.Places()
	each := func(visit func(line int, number int32)) {
		for part := range s.l.stretches(s.lo, s.hi, book.Orders|book.Places) {
			for i, id := range part.Orders {
				n := int32(0)
				if id != 0 {
					n = s.l.orders.number(places[part.Places[i]].Channel, id, part.First+i)
				}
				visit(part.First+i, n)
			}
		}
	}
	next := make([]int32, s.l.orders.nets.Len()+1)
	each(func(_ int, n int32) { next[n+1]++ })
	for n := range len(next) - 1 {
		next[n+1] += next[n]
	}
	out := make([]int32, s.Len())
	each(func(i int, n int32) {
		out[next[n]] = int32(i)
		next[n]++
	})
	return out
}
