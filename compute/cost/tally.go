package cost

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// tallies are lines added up by product and month: a tally for every row of
// Products, nil without a line.
type tallies []*tally

// tally is the lines of one product.
type tally struct {
	product *book.Product
	months  []monthly // in order
	last    int       // the month that the last line was added to
	// what the lines come to, once all of them have been added
	all  *sales.Total
	cut  []stretch
	earn *earnings
}

// earnings are what lines sold and earned, and the overhead in their cost.
type earnings struct {
	Sales
	overhead *calc.Figure
	of       scope
}

// monthly is the lines of a month.
type monthly struct {
	month day.Month
	sales.Total
}

// in is the lines of a month.
func (t *tally) in(m day.Month) *sales.Total {
	if len(t.months) == 0 || t.months[t.last].month != m {
		t.last = t.place(m)
	}
	return &t.months[t.last].Total
}

// place is where a month stands, made when it is met first.
func (t *tally) place(m day.Month) int {
	i, found := slices.BinarySearchFunc(t.months, m, func(x monthly, m day.Month) int { return cmp.Compare(x.month, m) })
	if !found {
		if len(t.months) == 1 {
			t.months = slices.Grow(t.months, splitMonths) // one month or many
		}
		t.months = slices.Insert(t.months, i, monthly{month: m})
	}
	return i
}

// and is the lines of two tallies of one product, or the other where t is nil.
func (t *tally) and(o *tally) *tally {
	if t == nil {
		return o
	}
	both := &tally{product: t.product, months: slices.Clone(t.months)}
	for i := range o.months {
		both.in(o.months[i].month).Join(&o.months[i].Total)
	}
	return both
}

// total is all lines of the tally.
func (t *tally) total() *sales.Total {
	if t.all == nil {
		t.all = &sales.Total{}
		for i := range t.months {
			t.all.Join(&t.months[i].Total)
		}
	}
	return t.all
}

func (r *run) noLines() tallies { return make(tallies, len(r.book.Products)) }

func (r *run) tally(lines sales.Lines) tallies {
	out := r.noLines()
	for x := range lines.Each {
		out.add(x, r.ledger.Product(x))
	}
	return out
}

func (ts tallies) add(x *sales.Line, p *book.Product) { ts.of(x.Product, p).in(x.Month).Add(x) }

// of is the tally of a product by its row, made when it is met first.
func (ts tallies) of(row int32, p *book.Product) *tally {
	if ts[row] == nil {
		ts[row] = &tally{product: p}
	}
	return ts[row]
}

// scope says which lines a tally holds, for the words and conditions of its
// sums: its days, and further conditions.
type scope struct {
	from, to day.Date
	further  *sales.Further
}

// with is the scope with further fields and values, such as channel and name.
func (s scope) with(more ...string) scope {
	s.further = s.further.With(more...)
	return s
}

// rows are the scope's rows with a field's value.
func (s scope) rows(field, value string) *sales.Rows {
	return &sales.Rows{From: s.from, To: s.to, Field: field, Value: value, Further: s.further}
}

// of are the words that tell the scope's figures apart.
func (s scope) of(first string) []string { return s.rows("", first).Of() }

// sums are fields of one product's lines.
func (t *tally) sums(s scope, fields ...sales.Field) []*calc.Figure {
	rows, out := s.rows("product", t.product.Code.V), make([]*calc.Figure, len(fields))
	for i, f := range fields {
		out[i] = t.total().Figure(f, rows)
	}
	return out
}

// stretch is the lines of one product in months of the same cost.
type stretch struct {
	sales.Total
	first, last day.Month
	cost        *unitcost.Cost
}

// stretches are a product's lines in order; false where a month with lines has
// no unit cost.
func (r *run) stretches(t *tally) ([]stretch, bool) {
	if t.cut == nil {
		t.cut = r.cutUp(t)
	}
	return t.cut, t.cut[len(t.cut)-1].cost != nil
}

// cutUp ends with the first month without a unit cost.
func (r *run) cutUp(t *tally) []stretch {
	costs := r.engine.Costs(r.engine.Of(t.product))
	var out []stretch
	for i := range t.months {
		m := &t.months[i]
		c := costs.In(m.month)
		if len(out) == 0 || out[len(out)-1].cost != c {
			out = append(out, stretch{first: m.month, cost: c})
		}
		if c == nil {
			break
		}
		x := &out[len(out)-1]
		x.last = m.month
		x.Join(&m.Total)
	}
	return out
}

// costed is whether every month with lines has a unit cost.
func (r *run) costed(t *tally) bool {
	_, ok := r.stretches(t)
	return ok
}

// byMonth are, for each part of the unit cost, the sums over the months of units
// x that part of the cost of the month, months of the same cost together; unknown
// where a month with lines has none. It is given the units of all months.
func (r *run) byMonth(t *tally, s scope, whole *calc.Figure, parts ...func(*unitcost.Cost) *calc.Figure) []*calc.Figure {
	out := make([]*calc.Figure, len(parts))
	all, ok := r.stretches(t)
	if !ok {
		return out
	}
	terms := make([][]*calc.Figure, len(parts))
	for n, x := range all {
		units := whole
		if len(all) > 1 {
			days := s
			if n > 0 {
				days.from = x.first.First()
			}
			if n < len(all)-1 {
				days.to = x.last.Last()
			}
			units = x.Figure(sales.Units, days.rows("product", t.product.Code.V))
		}
		if v, ok := units.Value(); ok && v == 0 {
			continue
		}
		for i, part := range parts {
			terms[i] = append(terms[i], calc.Mul(units, part(x.cost)))
		}
	}
	for i := range out {
		out[i] = calc.Add(terms[i]...)
	}
	return out
}

func total(c *unitcost.Cost) *calc.Figure    { return c.Total }
func variable(c *unitcost.Cost) *calc.Figure { return c.Variable }
func overhead(c *unitcost.Cost) *calc.Figure { return c.Overhead }

// earnings are what one product's lines of a scope sold and earned.
func (r *run) earnings(t *tally, s scope) *earnings {
	if t.earn != nil && t.earn.of == s {
		return t.earn
	}
	x, of := &earnings{Sales: t.sold(s), of: s}, s.of(t.product.Code.V)
	c := r.byMonth(t, s, x.Units, variable, total, overhead)
	x.contribute(c[0], of)
	x.overhead = c[2]
	if c[1] != nil {
		x.CostOfSales = c[1].Named("cost-of-sales", of...)
		x.GrossMargin = calc.Sub(x.NetSales, x.CostOfSales).Named("gross-margin", of...)
	}
	t.earn = x
	return x
}

func (r *run) earned(t *tally, s scope) Sales { return r.earnings(t, s).Sales }

// contributed is earned without the cost of sales and what rests on it.
func (r *run) contributed(t *tally, s scope) Sales {
	x := t.sold(s)
	x.contribute(r.byMonth(t, s, x.Units, variable)[0], s.of(t.product.Code.V))
	return x
}

func (t *tally) sold(s scope) Sales {
	sums := t.sums(s, sales.Units, sales.Net, sales.Fees)
	return Sales{Units: sums[0], NetSales: sums[1], Fees: sums[2]}
}

// contribute finds what is left of sales after fees and a variable cost, nil where
// that is unknown.
func (x *Sales) contribute(cost *calc.Figure, of []string) {
	if cost != nil {
		x.Contribution = calc.Sub(calc.Sub(x.NetSales, x.Fees), cost.Named("variable-cost-of-sales", of...)).Named("contribution", of...)
	}
}

// nothing is a product without lines: units and money are truly 0.
func nothing() Sales {
	z := calc.Zero
	return Sales{Units: z, NetSales: z, Fees: z, CostOfSales: z, GrossMargin: z, Contribution: z}
}

// filled is the tallies that hold a line.
func (ts tallies) filled() []*tally {
	return slices.DeleteFunc(slices.Clone(ts), func(t *tally) bool { return t == nil })
}

// added is several products' sales together, as earned or contributed. A product
// whose cost cannot be computed stays out of cost, margin and contribution, which
// are unknown when none can be.
func (r *run) added(ts tallies, s scope, name string, earned func(*tally, scope) Sales) Sales {
	var units, net, fees, cos, margin, contribution []*calc.Figure
	rows := ts.filled()
	for _, t := range rows {
		x := earned(t, s)
		units, net, fees = append(units, x.Units), append(net, x.NetSales), append(fees, x.Fees)
		if x.Contribution != nil {
			cos, margin, contribution = append(cos, x.CostOfSales), append(margin, x.GrossMargin), append(contribution, x.Contribution)
		}
	}
	of := s.of(name)
	out := Sales{
		Units: calc.Add(units...).Named("units", of...), NetSales: calc.Add(net...).Named("net-sales", of...), Fees: calc.Add(fees...).Named("fees", of...),
	}
	if len(cos) > 0 || len(rows) == 0 {
		out.CostOfSales = calc.Add(cos...).Named("cost-of-sales", of...)
		out.GrossMargin = calc.Add(margin...).Named("gross-margin", of...)
		out.Contribution = calc.Add(contribution...).Named("contribution", of...)
	}
	return out
}
