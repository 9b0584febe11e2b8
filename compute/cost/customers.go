package cost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// customer is one customer's lines of the window.
type customer struct {
	units [2]float64 // net, colored and natural
	lines []*sales.Line
}

func (w *window) addCustomer(x *sales.Line, _ *book.Product, finish int) {
	if x.Sale.Customer == 0 {
		return
	}
	c := w.customers[x.Sale.Customer]
	if c == nil {
		c = &customer{}
		w.customers[x.Sale.Customer] = c
	}
	c.units[finish] += x.Units.Float64()
	c.lines = append(c.lines, x)
}

// dropping says what dropping either finish would put at stake: the customers
// who buy natural only; the dye and the labor that color takes.
func (w *window) dropping(sp *Split) {
	groups := map[[2]bool]tallies{}
	counts := map[[2]bool]int{}
	for _, id := range sortedCustomers(w.customers) {
		c := w.customers[id]
		k := [2]bool{c.units[0] > 0, c.units[1] > 0}
		counts[k]++
		if groups[k] == nil {
			groups[k] = tallies{}
		}
		for _, x := range c.lines {
			groups[k].add(w.ledger.Product(x), x)
		}
	}
	make := func(name string, k [2]bool) CustomerGroup {
		s := w.scope.with("customers", name)
		x := w.added(groups[k], s, name)
		count := calc.Sum(float64(counts[k]), string(book.TSales), counts[k], "customers", s.where(), "customers.count", name)
		return CustomerGroup{Count: count, NetSales: x.NetSales, Contribution: x.Contribution}
	}
	sp.Customers = &Customers{NaturalOnly: make("natural only", [2]bool{false, true}), ColoredOnly: make("colored only", [2]bool{true, false}),
		Both: make("both", [2]bool{true, true})}
	colored, natural := w.perUnit(0, "colored"), w.perUnit(1, "natural")
	sp.DropNatural = &DropNatural{AtRisk: sp.Customers.NaturalOnly.Contribution,
		BreakEvenSwitch: calc.Div(natural, colored).Named("drop-natural.switch")}
	saved := w.saved()
	sp.DropColor = &DropColor{Saved: saved}
	if all := w.added(w.costed(0), w.scope.with("finish", "colored"), "colored"); all.Units.Or(0) > 0 {
		sp.DropColor.BreakEvenLoss = calc.Div(saved, all.Contribution).Named("drop-color.loss")
	}
}

func sortedCustomers(m map[int32]*customer) []int32 {
	out := make([]int32, 0, len(m))
	for id := range m {
		out = append(out, id)
	}
	slices.Sort(out)
	return out
}

// costed is the lines of a finish whose products have a unit cost in every
// month in which they sold.
func (w *window) costed(finish int) tallies {
	out := tallies{}
	for p, t := range w.finishes[finish] {
		if w.byMonth(t, w.scope, total) != nil {
			out[p] = t
		}
	}
	return out
}

// perUnit is the contribution per unit of a finish; unknown unless its net
// units are positive.
func (w *window) perUnit(finish int, name string) *calc.Figure {
	x := w.added(w.costed(finish), w.scope.with("finish", name), name)
	if x.Units.Or(0) <= 0 {
		return nil
	}
	return calc.Div(x.Contribution, x.Units).Named("contribution-per-unit", name)
}

// saved is the dye and the labor of the colored extra of the window's colored
// lines, at each line's month.
func (w *window) saved() *calc.Figure {
	var sum []*calc.Figure
	for _, t := range w.sorted(w.costed(0)) {
		m := w.engine.Of(t.product)
		extra := calc.Div(w.engine.Setting(book.ColoredMinutes), w.engine.UsualBatch(m))
		good := calc.Sub(calc.Const(1), w.engine.Setting(book.RejectRate))
		hours := calc.Div(calc.Div(extra, good), calc.Const(60))
		labor := calc.Mul(hours, w.engine.Setting(book.LaborRate)).Named("color-labor", t.product.Code.V)
		sum = append(sum, w.byMonth(t, w.scope, func(c *unitcost.Cost) *calc.Figure { return calc.Add(c.Dye, labor) }))
	}
	return calc.Add(sum...).Named("drop-color.saved")
}
