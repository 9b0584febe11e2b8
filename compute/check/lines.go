package check

import (
	"cmp"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
)

// Lines is what the sales tell about odd ones among them: prices in steps and
// distinct days instead of a million lines.
type Lines struct {
	book     *book.Book
	prices   []priced
	days     []soldOn
	long     []longLine
	channels []taking
	// nowhere is the lines with positive net that name no channel.
	nowhere unchanneled
	// raised is the sales that a discount below 0 makes dearer.
	raised soldOn
	// steps is, per product and once more per product for its refunds, which of
	// prices, plus one, has a step's lines.
	steps  []*[octaves]*octave
	sheets []string
}

// row is a line's place in the book; total tells that its line total counts.
type row struct {
	sheet, row int32
	total      bool
}

func (r row) before(o row) bool {
	return r.sheet < o.sheet || r.sheet == o.sheet && r.row < o.row
}

// priced is the lines of a product whose prices share a step, less than 2 % wide:
// where they are the same price, as they mostly are, lo and hi are it.
type priced struct {
	product int32
	refund  bool
	n       int
	lo, hi  float64
	first   row
	price   float64 // of the first
}

// Steps are the exponent of a price, its octave, from 2^-20 to 2^44, and six bits
// of its mantissa.
const (
	octaves     = 64
	octaveSteps = 64
	stepShift   = 52 - 6
	firstStep   = (1023 - 20) * octaveSteps
)

type octave [octaveSteps]int32

// step is the step of a price.
func step(price float64) (octave, in int) {
	n := min(max(int(math.Float64bits(price)>>stepShift)-firstStep, 0), octaves*octaveSteps-1)
	return n / octaveSteps, n % octaveSteps
}

// soldOn is lines, as of a day.
type soldOn struct {
	day   day.Date
	n     int
	first row
}

// longLine is a line whose quantity cannot be meant.
type longLine struct {
	product int32
	units   float64
	at      row
}

// taking is what a channel took of its lines with positive net.
type taking struct {
	units, net, fees float64
}

// unchanneled is lines, and what they came to.
type unchanneled struct {
	soldOn
	net float64
}

// worth is what amounts come to, as it is looked at here.
type worth struct {
	units, net, price float64 // price: of a unit, 0 for none
	octave, step      uint8   // of the price
	total, refund     bool
	bad               bool // its money is unknown
	raised            bool // by a discount below 0
}

func worthOf(w *sales.Worth) worth {
	x := worth{
		units: w.Units.Float64(), net: w.Net.Float64(), total: w.Typed.Has&book.HasTotal != 0, refund: w.Units.Sign() < 0,
		bad: w.Bad, raised: w.Units.Sign() > 0 && w.Discount.Sign() < 0,
	}
	if price := w.Gross.Float64() / x.units; x.units != 0 && price > 0 {
		o, in := step(price)
		x.price, x.octave, x.step = price, uint8(o), uint8(in)
	}
	return x
}

// Look looks at every line of the sales once.
func Look(l *sales.Ledger) *Lines {
	defer fault.In(l.Book.Heading(book.TSales), string(book.TSales))
	g := &Lines{
		book:  l.Book,
		steps: make([]*[octaves]*octave, 2*len(l.Book.Products)), channels: make([]taking, len(l.Book.Channels)), sheets: l.Book.SaleSheets,
	}
	var worths []worth
	for i := range l.Worths() {
		worths = append(worths, worthOf(&l.Worths()[i]))
	}
	for s := range l.All().Columns(book.Whole &^ book.Customers) {
		g.look(l, s, worths)
	}
	return g
}

func (g *Lines) look(l *sales.Ledger, s *book.Stretch, worths []worth) {
	places := l.Book.Sales.Places()
	for i, n := range s.Amounts {
		x, p := &worths[n], &places[s.Places[i]]
		at := row{p.Sheet, s.Rows[i], x.total}
		g.date(day.Date(s.Days[i]), at)
		switch {
		case math.Abs(x.units) >= longNumber:
			g.long = append(g.long, longLine{p.Product, x.units, at})
			continue
		case x.bad:
			continue
		case x.raised:
			g.raised.add(at)
		}
		switch {
		case x.net <= 0:
		case p.Channel < 0:
			g.nowhere.add(at)
			g.nowhere.net += x.net
		default:
			if fees := l.FeesOf(s, i); !math.IsNaN(fees) {
				t := &g.channels[p.Channel]
				t.units, t.net, t.fees = t.units+x.units, t.net+x.net, t.fees+fees
			}
		}
		if x.price > 0 {
			g.price(x, p.Product, at)
		}
	}
}

func (g *Lines) date(d day.Date, at row) {
	n := len(g.days)
	if n == 0 || g.days[n-1].day != d {
		g.days = append(g.days, soldOn{d, 0, at})
		n++
	}
	g.days[n-1].add(at)
}

func (d *soldOn) add(at row) {
	if d.n == 0 || at.before(d.first) {
		d.first = at
	}
	d.n++
}

func (g *Lines) price(x *worth, product int32, at row) {
	of := 2 * product
	if x.refund {
		of++
	}
	if g.steps[of] == nil {
		g.steps[of] = &[octaves]*octave{}
	}
	steps := g.steps[of][x.octave]
	if steps == nil {
		steps = &octave{}
		g.steps[of][x.octave] = steps
	}
	i := &steps[x.step]
	if *i == 0 {
		g.prices = append(g.prices, priced{product: product, refund: x.refund, lo: x.price, hi: x.price, first: at, price: x.price})
		*i = int32(len(g.prices))
	}
	p := &g.prices[*i-1]
	p.n++
	if x.price < p.lo {
		p.lo = x.price
	} else if x.price > p.hi {
		p.hi = x.price
	}
	if at.before(p.first) {
		p.first, p.price = at, x.price
	}
}

// place is the first cell of a row.
func (g *Lines) place(r row) cell.Ref {
	if int(r.sheet) >= len(g.sheets) {
		return cell.Ref{}
	}
	return cell.Ref{Sheet: g.sheets[r.sheet], Row: int(r.row), Col: 1}
}

// salePrices holds the unit prices of a product's lines against their median.
// Gifts are no prices; refunds, which may be of a part, are held against the
// median only from above. A discount below 0 on a sale is most likely meant
// the other way round.
func (u *unusual) salePrices() {
	byProduct := make([][]priced, len(u.book.Products))
	for _, p := range u.lines.prices {
		byProduct[p.product] = append(byProduct[p.product], p)
	}
	var high, low []finding
	for i, all := range byProduct {
		var sold []weighed
		for _, p := range all {
			if !p.refund {
				sold = append(sold, weighed{(p.lo + p.hi) / 2, p.n})
			}
		}
		usual, n := median(sold)
		if n < fewest {
			continue
		}
		of := u.book.Products[i]
		for _, p := range all {
			switch {
			case p.hi >= usual*farPrice*(1-slack):
				high = append(high, u.salePrice("sale-price", of, p, usual))
			case !p.refund && p.lo <= usual/farPrice*(1+slack):
				low = append(low, u.salePrice("sale-price-low", of, p, usual))
			}
		}
	}
	u.say(high)
	u.say(low)
	if r := u.lines.raised; r.n > 0 {
		f := warning(problem.UnusualFigure, "discount", u.place(book.TSales, u.lines.place(r.first), "discount"))
		f.n = r.n
		u.say([]finding{f})
	}
}

func (u *unusual) salePrice(say string, of *book.Product, p priced, usual float64) finding {
	fields := []string{"unit price", "line total"}
	if p.first.total {
		slices.Reverse(fields)
	}
	f := warning(problem.UnusualFigure, say, u.place(book.TSales, u.lines.place(p.first), fields...),
		"product", of.Code.V, "price", u.amount(p.price), "times", tenths(p.price/usual), "usual", u.amount(usual))
	f.n = p.n
	return f
}

// weighed is a value that was met n times.
type weighed struct {
	v float64
	n int
}

// median is the median of all values, and how many there are.
func median(all []weighed) (float64, int) {
	slices.SortFunc(all, func(a, b weighed) int { return cmp.Compare(a.v, b.v) })
	n := 0
	for _, x := range all {
		n += x.n
	}
	at := func(i int) float64 {
		for _, x := range all {
			if i -= x.n; i < 0 {
				return x.v
			}
		}
		return math.NaN()
	}
	return (at((n-1)/2) + at(n/2)) / 2, n
}
