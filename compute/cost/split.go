package cost

import (
	"strconv"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/sales"
	"pourbook/compute/stat"
	"pourbook/compute/unitcost"
)

func yearText(y int) string { return strconv.Itoa(y) }

// group is the lines of a group by finish, and its orders' net units.
type group struct {
	finish  [2]sales.Total // colored, natural: units only
	reading scope

	sum, squares float64
	orders       int

	// for an order in which groups differ: what it has of this one
	open  bool
	units money.Amount
}

func side(f book.Finish) int {
	if f == book.Natural {
		return 1
	}
	return 0
}

// count counts an order by its net units.
func (g *group) count(m float64) {
	g.sum, g.squares, g.orders = g.sum+m, g.squares+m*m, g.orders+1
}

// of is the net units of a finish, a negative net counting as 0.
func (g *group) of(f book.Finish) *calc.Figure {
	s := g.reading
	sum := g.finish[side(f)].Figure(sales.Units, s.rows("finish", string(f)))
	if sum.Or(0) >= 0 {
		return sum
	}
	return calc.Max(calc.Zero, sum)
}

// ratio is the group's split with its bounds.
func (g *group) ratio() Ratio {
	of := g.reading.of("")
	c, n := g.of(book.Colored), g.of(book.Natural)
	both := calc.Add(c, n)
	r := Ratio{Colored: c, Natural: n, NEff: g.effective(both)}
	r.Share = calc.Div(c, both).Named("split.share", of...)
	low, high := stat.Wilson(r.Share, r.NEff)
	if n.Or(0) == 0 {
		return r
	}
	odds := func(key string, p *calc.Figure) *calc.Figure {
		return calc.Div(p, calc.Sub(calc.Const(1), p)).Named(key, of...)
	}
	r.Ratio = calc.Div(c, n).Named("split.ratio", of...)
	r.RatioLow, r.RatioHigh = odds("split.ratio-low", low), odds("split.ratio-high", high)
	return r
}

// effective is the number of observations that the group's orders are worth;
// unknown when no order has net units.
func (g *group) effective(both *calc.Figure) *calc.Figure {
	if g.orders == 0 {
		return nil
	}
	of, where := g.reading.of(""), g.reading.rows("net", "> 0").Where()
	table := string(book.TSales)
	return stat.Kish(calc.Sum(g.sum, table, g.orders, "order units", where, "split.order-units", of...),
		calc.Sum(g.squares, table, g.orders, "order units squared", where, "split.order-squares", of...), both).Named("split.n-eff", of...)
}

// split sets colored against natural over 24 months, wholesale left out.
func (r *run) split(w *window, b *buyers) {
	if w == nil || b == nil {
		return // what it rests on has failed
	}
	w.buyers = b
	sp := &r.res.Split
	sp.From, sp.To = w.scope.from, w.scope.to
	sp.Overall = w.all.ratio()
	sp.BySeason, sp.ByJar, sp.BySeasonAndJar = w.bySeason(), w.byJar(), w.bySeasonAndJar()
	sp.SeasonTest, sp.JarTest = w.test("season", w.nameRows()), w.test("jar", w.jarRows())
	sp.Wholesale = &Pair{Colored: w.toShops(book.Colored), Natural: w.toShops(book.Natural)}
	w.dropping(sp)
	w.negative()
}

// SplitUpTo is the split of the 24 months up to a day, without its tests and
// customers.
func SplitUpTo(b *book.Book, l *sales.Ledger, e *unitcost.Engine, to day.Date) Split {
	r := &run{book: b, ledger: l, engine: e, res: &Result{}}
	w := r.window(to)
	return Split{From: w.scope.from, To: w.scope.to, Overall: w.all.ratio(), BySeason: w.bySeason(), ByJar: w.byJar()}
}

var shopUnits = &calc.Summand{Table: string(book.TSales), Field: string(sales.Units), Key: "split.wholesale"}

// toShops is the net units of a finish that wholesale channels took.
func (w *window) toShops(f book.Finish) *calc.Figure {
	g := w.wholesale
	t, s := &g.finish[side(f)], g.reading
	return calc.SumOver(t.Value(sales.Units), shopUnits, t.Count, s.rows("finish", string(f)))
}
