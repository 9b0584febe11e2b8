package cost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// buys tells which finishes a customer bought more of than came back.
type buys uint8

const (
	buysColored buys = 1 << iota
	buysNatural
	buysBoth = buysColored | buysNatural
)

func buysOf(net [2]float64) (k buys) {
	if net[0] > 0 {
		k |= buysColored
	}
	if net[1] > 0 {
		k |= buysNatural
	}
	return k
}

// buyers are the customers of a window and its lines by what they buy, wholesale
// left out.
type buyers struct {
	count [buysBoth + 1]int
	lines [buysBoth + 1]tallies // the first of customers who are not told, or took all back
}

// findBuyers groups the customers and the lines of the 24 months up to a day.
func (r *run) findBuyers(to day.Date) *buyers {
	b := &buyers{}
	for k := range b.lines {
		b.lines[k] = r.noLines()
	}
	lines, a := r.ledger.Between(windowFrom(to), to), r.adder(b.lines[:]...)
	kinds := r.kinds(lines, a)
	for _, k := range kinds[1:] {
		b.count[k]++
	}
	for s := range lines.Columns(book.Whole &^ book.Rows) {
		for i, c := range s.Customers {
			if !a.places[s.Places[i]].wholesale {
				a.add(int(kinds[c]), s, i)
			}
		}
	}
	a.close()
	return b
}

// kinds are what customers buy, by their numbers, over some lines.
func (r *run) kinds(lines sales.Lines, a *adder) []buys {
	kinds := make([]buys, r.book.Customers+1)
	if r.book.Customers == 0 {
		return kinds
	}
	net := make([][2]float64, len(kinds))
	for s := range lines.Columns(book.Customers | book.Places | book.Amounts) {
		for i, c := range s.Customers {
			if at := &a.places[s.Places[i]]; !at.wholesale {
				net[c][at.side] += a.worths[s.Amounts[i]].Units.Float64()
			}
		}
	}
	for c, n := range net[1:] {
		kinds[c+1] = buysOf(n)
	}
	return kinds
}

// of is the lines of a finish.
func (b *buyers) of(f book.Finish) tallies {
	out := make(tallies, len(b.lines[0]))
	for _, ts := range b.lines {
		for i, t := range ts {
			if t != nil && t.product.Finish == f {
				out[i] = out[i].and(t)
			}
		}
	}
	return out
}

func (w *window) customers() *Customers {
	of := func(name string, k buys) CustomerGroup {
		s := w.scope.with("customers", name)
		x, n := w.added(w.buyers.lines[k], s, name, w.contributed), w.buyers.count[k]
		count := calc.Sum(float64(n), string(book.TSales), n, "customers", s.rows("", "").Where(), "customers.count", name)
		return CustomerGroup{Count: count, NetSales: x.NetSales, Contribution: x.Contribution}
	}
	return &Customers{
		NaturalOnly: of("natural only", buysNatural), ColoredOnly: of("colored only", buysColored), Both: of("both", buysBoth),
	}
}

// dropping says what dropping either finish would put at stake: the customers
// who buy natural only; the dye and the labor that color takes.
func (w *window) dropping(sp *Split) {
	sp.Customers = w.customers()
	coloredLines, naturalLines := w.onlyCosted(book.Colored), w.onlyCosted(book.Natural)
	colored := w.added(coloredLines, w.scope.with("finish", "colored"), "colored", w.contributed)
	natural := w.added(naturalLines, w.scope.with("finish", "natural"), "natural", w.contributed)
	sp.DropNatural = &DropNatural{
		AtRisk:          sp.Customers.NaturalOnly.Contribution,
		BreakEvenSwitch: calc.Div(perUnit(natural, "natural"), perUnit(colored, "colored")).Named("drop-natural.switch"),
	}
	saved := w.saved(coloredLines)
	sp.DropColor = &DropColor{Saved: saved}
	if colored.Units.Or(0) > 0 {
		sp.DropColor.BreakEvenLoss = calc.Div(saved, colored.Contribution).Named("drop-color.loss")
	}
}

// onlyCosted is the lines of a finish whose products have a unit cost in every
// month in which they sold.
func (w *window) onlyCosted(f book.Finish) tallies {
	out := w.buyers.of(f)
	for i, t := range out {
		if t != nil && !w.costed(t) {
			out[i] = nil
		}
	}
	return out
}

// perUnit is the contribution per unit of a finish; unknown unless its net
// units are positive.
func perUnit(x Sales, name string) *calc.Figure {
	if x.Units.Or(0) <= 0 {
		return nil
	}
	return calc.Div(x.Contribution, x.Units).Named("contribution-per-unit", name)
}

// saved is the dye and the labor of the colored extra of the window's colored
// lines, at each line's month.
func (w *window) saved(colored tallies) *calc.Figure {
	var sum []*calc.Figure
	for _, t := range colored.filled() {
		m := w.engine.Of(t.product)
		extra := calc.Div(w.engine.Setting(book.ColoredMinutes), w.engine.UsualBatch(m))
		good := calc.Sub(calc.Const(1), w.engine.Setting(book.RejectRate))
		hours := calc.Div(calc.Div(extra, good), calc.Const(60))
		labor := calc.Mul(hours, w.engine.Setting(book.LaborRate)).Named("color-labor", t.product.Code.V)
		sum = append(sum, w.byMonth(t, w.scope, t.sums(w.scope, sales.Units)[0], func(c *unitcost.Cost) *calc.Figure { return calc.Add(c.Dye, labor) })[0])
	}
	return calc.Add(sum...).Named("drop-color.saved")
}
