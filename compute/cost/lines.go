package cost

import (
	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/sales"
)

// placed is what the place of a line says.
type placed struct {
	product   *book.Product // nil where no line has the place
	row       int32         // of Products
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
		out[i] = placed{product: p, row: at.Product, side: side(p.Finish), jar: -1, wholesale: at.Channel >= 0 && r.book.Channels[at.Channel].Wholesale}
		if j, ok := jars[p.Jar]; ok {
			out[i].jar = j
		}
	}
	return out
}

// adder adds lines of a stretch up by product and month.
type adder struct {
	*run
	places []placed
	worths []sales.Worth
	day    day.Date
	month  day.Month // of day
}

func (r *run) adder() *adder {
	return &adder{run: r, places: r.places(), worths: r.ledger.Worths(), day: day.None}
}

// add adds a line of a stretch with its day, order, place and amounts.
func (a *adder) add(to tallies, s *book.Stretch, i int) {
	if d := day.Date(s.Days[i]); d != a.day {
		a.day, a.month = d, d.Month()
	}
	at := &a.places[s.Places[i]]
	a.ledger.AddTo(to.of(at.row, at.product).in(a.month), s, i)
}
