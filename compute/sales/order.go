package sales

import (
	"math"
	"slices"
)

// orders tells the orders apart. An order id is the number of its order on the
// channel where it is met first; on any other channel it gets a number of its
// own, and so does every line without an id.
type orders struct {
	first []int32 // by id, the channel where it is met first
	other map[orderKey]int32
	nets  []float64 // by number, the positive net
}

type orderKey struct{ channel, id int32 }

// notMet is the channel of an id without a line.
const notMet = math.MinInt32

// findOrders numbers the orders and adds up what they are charged by.
func (l *Ledger) findOrders() {
	o := &l.orders
	o.first, o.other = make([]int32, l.Book.Orders.Len()), map[orderKey]int32{}
	for id := range o.first {
		o.first[id] = notMet
	}
	o.nets = make([]float64, len(o.first))
	places := l.sales.Places()
	for i := range l.n {
		p := l.packed(i)
		if p.Order == 0 {
			continue
		}
		n := o.meet(orderKey{places[p.Place].Channel, p.Order})
		switch w := &l.worth[p.Amounts]; {
		case w.Bad:
			o.nets[n] = math.NaN()
		case w.net > 0:
			o.nets[n] += w.net
		}
	}
}

func (o *orders) meet(k orderKey) int32 {
	switch o.first[k.id] {
	case k.channel:
		return k.id
	case notMet:
		o.first[k.id] = k.channel
		return k.id
	}
	n, ok := o.other[k]
	if !ok {
		n = int32(len(o.nets))
		o.other[k], o.nets = n, append(o.nets, 0)
	}
	return n
}

// number is the number of the order of a line, the i-th in the order of days.
func (o *orders) number(channel, id int32, i int) int32 {
	switch {
	case id == 0:
		return int32(len(o.nets) + i)
	case o.first[id] == channel:
		return id
	}
	return o.other[orderKey{channel, id}]
}

// net is the positive net of a line's order.
func (o *orders) net(x *Line) float64 {
	switch {
	case int(x.Order) < len(o.nets):
		return o.nets[x.Order]
	case x.Bad:
		return math.NaN()
	}
	return max(0, x.Worth.net)
}

// EachByOrder gives the lines out order by order: first those that are orders
// of their own. A line holds until the next is given out.
func (s Lines) EachByOrder(yield func(*Line) bool) {
	var x Line
	give := func(i int32) bool {
		s.l.fill(&x, int(i))
		return yield(&x)
	}
	var shared []int32
	for i := s.lo; i < s.hi; i++ {
		if s.l.packed(i).Order != 0 {
			shared = append(shared, int32(i))
		} else if !give(int32(i)) {
			return
		}
	}
	for _, i := range s.sorted(shared) {
		if !give(i) {
			return
		}
	}
}

// sorted puts lines in the order of their orders' numbers, lines of an order as
// they stand.
func (s Lines) sorted(lines []int32) []int32 {
	places := s.l.sales.Places()
	number := func(i int32) int32 {
		p := s.l.packed(int(i))
		return s.l.orders.number(places[p.Place].Channel, p.Order, int(i))
	}
	if slices.IsSortedFunc(lines, func(a, b int32) int { return int(number(a) - number(b)) }) {
		return lines
	}
	next := make([]int32, len(s.l.orders.nets)+1)
	for _, i := range lines {
		next[number(i)+1]++
	}
	for n := range len(next) - 1 {
		next[n+1] += next[n]
	}
	out := make([]int32, len(lines))
	for _, i := range lines {
		n := number(i)
		out[next[n]] = i
		next[n]++
	}
	return out
}
