package cost

import (
	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/sales"
)

// placed is what the place of a line says; nothing where no line has it.
type placed struct {
	row       int32 // of Products
	side      int
	jar       int // row of Jars, -1 for none
	wholesale bool
}

// places are what places say, by their numbers.
func (r *run) places() []placed {
	jars := map[*book.Jar]int{}
	for i, j := range r.book.Jars {
		jars[j] = i
	}
	out := make([]placed, len(r.ledger.PlaceProducts()))
	for i, p := range r.ledger.PlaceProducts() {
		if p == nil {
			continue
		}
		at := r.book.Sales.Places()[i]
		out[i] = placed{row: at.Product, side: side(p.Finish), jar: -1, wholesale: at.Channel >= 0 && r.book.Channels[at.Channel].Wholesale}
		if j, ok := jars[p.Jar]; ok {
			out[i].jar = j
		}
	}
	return out
}

// adder adds the lines of stretches up by product and month, in several tallies.
// Lines come in order of days, so a month is added up where its products stand
// side by side, and then goes to the tallies.
type adder struct {
	*run
	places []placed
	worths []sales.Worth
	to     []tallies
	next   day.Date // the first day after the month in hand
	month  day.Month
	open   []sales.Total // of that month, by tallies and row of Products
}

func (r *run) adder(to ...tallies) *adder {
	return &adder{run: r, places: r.places(), worths: r.ledger.Worths(), to: to, next: day.None, open: make([]sales.Total, len(to)*len(r.book.Products))}
}

// add adds a line of a stretch with its day, order, place and amounts to the n-th
// tallies.
func (a *adder) add(n int, s *book.Stretch, i int) {
	if d := day.Date(s.Days[i]); d >= a.next {
		a.close()
		a.month, a.next = d.Month(), d.Month().Last()+1
	}
	a.ledger.AddTo(&a.open[n*len(a.book.Products)+int(a.places[s.Places[i]].row)], s, i)
}

// close gives the month in hand to the tallies.
func (a *adder) close() {
	for i := range a.open {
		if t := &a.open[i]; t.Count > 0 {
			n, row := i/len(a.book.Products), i%len(a.book.Products)
			*a.to[n].of(int32(row), a.book.Products[row]).in(a.month) = *t
			*t = sales.Total{}
		}
	}
}
