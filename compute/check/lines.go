package check

import (
	"cmp"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
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
	return cmp.Or(cmp.Compare(r.sheet, o.sheet), cmp.Compare(r.row, o.row)) < 0
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

// entry is a line of sales as it is looked at here.
type entry struct {
	row
	day                     day.Date
	product, channel        int32
	units, gross, net, fees float64
	bad                     bool // its money is unknown
	raised                  bool // by a discount below 0
}

// Look looks at every line of the sales once.
func Look(l *sales.Ledger) *Lines {
	g := &Lines{
		book:  l.Book,
		steps: make([]*[octaves]*octave, 2*len(l.Book.Products)), channels: make([]taking, len(l.Book.Channels)), sheets: l.Book.SaleSheets,
	}
	for x := range l.All().Each {
		g.add(entry{
			row: row{x.Sheet, x.Row, x.Typed.Has&book.HasTotal != 0}, day: x.Day, product: x.Product, channel: x.Channel,
			units: x.Units.Float64(), gross: x.Gross.Float64(), net: x.Net.Float64(), fees: x.Fees(), bad: x.Bad,
			raised: x.Units.Sign() > 0 && x.Discount.Sign() < 0,
		})
	}
	return g
}

func (g *Lines) add(x entry) {
	g.date(x)
	if math.Abs(x.units) >= longNumber {
		g.long = append(g.long, longLine{x.product, x.units, x.row})
		return
	}
	if x.bad {
		return
	}
	if x.raised {
		g.raised.add(x)
	}
	if x.channel >= 0 && x.net > 0 && !math.IsNaN(x.fees) {
		t := &g.channels[x.channel]
		t.units, t.net, t.fees = t.units+x.units, t.net+x.net, t.fees+x.fees
	}
	if x.channel < 0 && x.net > 0 {
		g.nowhere.add(x)
		g.nowhere.net += x.net
	}
	if price := x.gross / x.units; x.units != 0 && price > 0 {
		g.price(x, price)
	}
}

func (g *Lines) date(x entry) {
	if n := len(g.days); n == 0 || g.days[n-1].day != x.day {
		g.days = append(g.days, soldOn{x.day, 0, x.row})
	}
	g.days[len(g.days)-1].add(x)
}

func (d *soldOn) add(x entry) {
	if d.n == 0 || x.before(d.first) {
		d.first = x.row
	}
	d.n++
}

func (g *Lines) price(x entry, price float64) {
	of := 2 * x.product
	if x.units < 0 {
		of++
	}
	if g.steps[of] == nil {
		g.steps[of] = &[octaves]*octave{}
	}
	n, in := step(price)
	if g.steps[of][n] == nil {
		g.steps[of][n] = &octave{}
	}
	i := &g.steps[of][n][in]
	if *i == 0 {
		g.prices = append(g.prices, priced{product: x.product, refund: x.units < 0, lo: price, hi: price, first: x.row, price: price})
		*i = int32(len(g.prices))
	}
	p := &g.prices[*i-1]
	p.n++
	p.lo, p.hi = min(p.lo, price), max(p.hi, price)
	if x.before(p.first) {
		p.first, p.price = x.row, price
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
