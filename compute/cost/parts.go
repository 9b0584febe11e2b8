package cost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/sales"
)

// amount is the figure of money read from a cell.
func amount(m book.Money, key string, of ...string) *calc.Figure {
	return calc.In(cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State}, key, of...)
}

func (r *run) scope() scope { return scope{from: r.period.From, to: r.period.To} }

func (r *run) products() {
	for i, p := range r.book.Products {
		r.res.Products = append(r.res.Products, r.product(p, r.lines[i]))
	}
}

func (r *run) product(p *book.Product, t *tally) Product {
	defer fault.In(p.Code.At, p.Code.V)
	m := r.engine.Of(p)
	x := Product{
		Product: p.Code.V, Name: p.Name.V, Recipe: p.Recipe.Name.V, Jar: p.Jar.Name.V, Finish: p.Finish, Of: p,
		UnitCost: r.cost(p, r.month()), LaborMinutes: r.engine.LaborMinutes(m), UsualBatch: r.engine.UsualBatch(m),
	}
	if c, ok := r.engine.Content(m); ok {
		x.Grams, x.Drops = &c.Grams, c.Drops
	}
	if p.List.State != cell.Blank {
		x.ListPrice = amount(p.List, "list-price", p.Code.V)
	}
	switch {
	case t != nil:
		x.Sales = r.earned(t, r.scope())
		if x.CostOfSales != nil && x.NetSales.Or(0) > 0 {
			x.MarginRate = calc.Div(x.GrossMargin, x.NetSales).Named("margin-rate", r.scope().of(p.Code.V)...)
		}
	case x.UnitCost != nil:
		x.Sales = nothing()
	default:
		x.Units, x.NetSales, x.Fees = calc.Zero, calc.Zero, calc.Zero
	}
	return x
}

// channels are the rows of Channels, then every other name met in the period's
// sales in the order in which it is met, "" for none.
func (r *run) channels() {
	by := make([]tallies, len(r.book.Channels)+1) // the last for lines without one
	first := make([]*sales.Line, len(by))
	for x := range r.ledger.Between(r.period.From, r.period.To).Each {
		c := len(by) - 1
		if x.Channel >= 0 {
			c = int(x.Channel)
		}
		if by[c] == nil {
			by[c] = r.noLines()
		}
		if first[c] == nil || x.Above(first[c]) {
			top := *x
			first[c] = &top
		}
		by[c].add(x, r.ledger.Product(x))
	}
	for _, c := range r.channelOrder(first) {
		name := ""
		if c < len(r.book.Channels) {
			name = r.book.Channels[c].Name.V
		}
		s := r.scope().with("channel", name)
		r.res.Channels = append(r.res.Channels, Channel{Channel: name, Sales: r.added(by[c], s, name, r.earned)})
	}
}

// channelOrder is the places of the channels to show, given the topmost line of each.
func (r *run) channelOrder(first []*sales.Line) []int {
	var out, met []int
	for i := range first {
		switch {
		case i < len(r.book.Channels) && r.book.Channels[i].Listed:
			out = append(out, i)
		case first[i] != nil:
			met = append(met, i)
		}
	}
	slices.SortFunc(met, func(a, b int) int {
		if first[a].Above(first[b]) {
			return -1
		}
		return 1
	})
	return append(out, met...)
}

// totals are the sums of a period's lines.
func (r *run) totals(ts tallies, p Period) Totals {
	s := scope{from: p.From, to: p.To}
	x := r.added(ts, s, "", r.earned)
	t := Totals{
		Units: x.Units, NetSales: x.NetSales, Fees: x.Fees, CostOfSales: x.CostOfSales, GrossMargin: x.GrossMargin, Contribution: x.Contribution,
		BoothFees: r.boothFees(p), Overhead: r.engine.Overheads(p.From, p.To), StockDifferences: r.engine.StockDifferences(p.From, p.To),
	}
	var gross, discounts, absorbed []*calc.Figure
	for _, row := range ts.filled() {
		sums := row.sums(s, sales.Gross, sales.Discount)
		gross, discounts = append(gross, sums[0]), append(discounts, sums[1])
		if f := r.earnings(row, s).overhead; f != nil {
			absorbed = append(absorbed, f)
		}
	}
	of := s.of("")
	t.GrossSales, t.Discounts = calc.Add(gross...).Named("gross-sales", of...), calc.Add(discounts...).Named("discounts", of...)
	if t.CostOfSales.Known() {
		t.OverheadAbsorbed = calc.Add(absorbed...).Named("overhead-absorbed", of...)
	}
	return t
}

// boothFees are those of the markets whose first day lies in the period.
func (r *run) boothFees(p Period) *calc.Figure {
	var sum []*calc.Figure
	for _, m := range r.book.Markets {
		if m.Day >= p.From && m.Day <= p.To && m.Booth.State != cell.Blank {
			sum = append(sum, amount(m.Booth, "booth-fee", m.Name.V, m.Day.String()))
		}
	}
	return calc.Add(sum...).Named("booth-fees", p.From.String(), p.To.String())
}

// compare totals the month before and the same month last year, where they
// have sales, and says what changed since the former.
func (r *run) compare() {
	m := r.month()
	before := r.inMonth(m - 1)
	r.res.Previous, r.res.YearAgo = r.totalsOf(before, m-1), r.totalsOf(r.inMonth(m-12), m-12)
	r.change(before)
}

func (r *run) inMonth(m day.Month) tallies {
	return r.tally(r.ledger.Between(m.First(), m.Last()))
}

// totalsOf is nil for no lines.
func (r *run) totalsOf(ts tallies, m day.Month) *Totals {
	if len(ts.filled()) == 0 {
		return nil
	}
	t := r.totals(ts, Period{m.First(), m.Last()})
	return &t
}

func (r *run) stock() {
	for _, x := range r.engine.Stock(r.period.From, r.period.To) {
		r.res.Stock = append(r.res.Stock, Stock{
			Item: x.Of.Name.V, Unit: x.Of.Dim.String(), Opening: x.Opening, Purchased: x.Purchased, Used: x.Used, Closing: x.Closing, Value: x.Value,
			ActualUse: x.ActualUse, UsageVariance: x.UsageVariance, PriceVariance: x.PriceVariance, Of: x.Of, Price: x.Price, PriceBefore: x.PriceBefore,
		})
	}
}

// twins set every colored product beside its natural twin of the same recipe and jar.
func (r *run) twins() {
	for i := range r.res.Products {
		c := &r.res.Products[i]
		for j := range r.res.Products {
			n := &r.res.Products[j]
			if c.Finish == book.Colored && n.Finish == book.Natural && c.Of.Recipe == n.Of.Recipe && c.Of.Jar == n.Of.Jar {
				r.twin(c, n)
				break
			}
		}
	}
}

func (r *run) twin(c, n *Product) {
	t := Twin{Colored: c, Natural: n}
	if a, b := c.UnitCost, n.UnitCost; a != nil && b != nil {
		less := func(key string, x, y *calc.Figure) *calc.Figure {
			return calc.Sub(x, y).Named("color-cost."+key, c.Product)
		}
		t.Dye, t.Labor, t.Overhead = less("dye", a.Dye, b.Dye), less("labor", a.Labor, b.Labor), less("overhead", a.Overhead, b.Overhead)
		t.Total = less("total", a.Total, b.Total)
		t.Parts = calc.Sub(calc.Sub(calc.Sub(t.Total, t.Dye), t.Labor), t.Overhead).Named("color-cost.parts", c.Product)
	}
	r.res.Twins = append(r.res.Twins, t)
}
