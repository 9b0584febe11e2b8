package plan

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
)

// outing is a market that is planned for.
type outing struct {
	of     *book.Market
	row    int // in Markets
	season string
	refs   []int // rows of the markets that the expected total comes from, or would have
	total  *calc.Figure
	from   string
	demand []Demand
	// chances are what the sums of demand rest on, beside it.
	chances []chance
}

// tally is what was sold at a row of Markets, by product.
type tally struct {
	byProduct map[*book.Product]*sales.Total
	lines     int
	from, to  day.Date
}

// units is the net units of a product, a negative sum as 0.
func (t *tally) units(p *book.Product) float64 {
	if x, ok := t.byProduct[p]; ok {
		return max(0, x.Units.Float64())
	}
	return 0
}

// tallies adds up the sales of every row of Markets.
func (r *run) tallies() {
	r.totals = make([]tally, len(r.book.Markets))
	for x := range r.ledger.All().Each {
		m := r.ledger.MarketOf(x)
		if m < 0 {
			continue
		}
		t := &r.totals[m]
		if t.byProduct == nil {
			t.byProduct, t.from = map[*book.Product]*sales.Total{}, x.Day
		}
		t.to = x.Day
		t.lines++
		p := r.ledger.Product(x)
		if t.byProduct[p] == nil {
			t.byProduct[p] = &sales.Total{}
		}
		t.byProduct[p].Add(x)
	}
}

// sold is a market's total: net units, a product's negative sum as 0.
func (r *run) sold(row int) float64 {
	t, sum := &r.totals[row], 0.0
	for _, p := range r.book.Products {
		sum += t.units(p)
	}
	return sum
}

// soldFigure is sold as a sum over the market's lines.
func (r *run) soldFigure(row int) *calc.Figure {
	m, t := r.book.Markets[row], &r.totals[row]
	return calc.Sum(r.sold(row), string(book.TSales), t.lines, string(sales.Units),
		sales.Where(t.from, t.to, "market", m.Name.V), "plan.market-units", m.Name.V, m.Day.String())
}

// findMarket is the next date of a market after today, or today's own; of any
// market when name is "".
func (r *run) findMarket(name string) (int, error) {
	best := -1
	for i, m := range r.book.Markets {
		if name != "" && cell.Fold(m.Name.V) != cell.Fold(name) || m.Day < r.opts.Today || name == "" && m.Day == r.opts.Today {
			continue
		}
		if best < 0 || r.sooner(m.Day, r.book.Markets[best].Day) {
			best = i
		}
	}
	if best >= 0 {
		return best, nil
	}
	say, known := "none-ahead", r.marketNames()
	if name != "" {
		say = "asked"
		for _, m := range r.book.Markets {
			if cell.Fold(m.Name.V) == cell.Fold(name) {
				say = "past"
			}
		}
	}
	if len(known) == 0 {
		say = "no-markets"
	}
	r.problem(problem.Error, problem.UnknownMarket, say, cell.Ref{}, "name", name, "known", strings.Join(known, ", "))
	return -1, ErrMarket
}

// sooner puts days after today before today itself.
func (r *run) sooner(a, b day.Date) bool {
	if (a == r.opts.Today) != (b == r.opts.Today) {
		return b == r.opts.Today
	}
	return a < b
}

// marketNames are the distinct names of Markets.
func (r *run) marketNames() []string {
	var out []string
	for _, m := range r.book.Markets {
		if !slices.ContainsFunc(out, func(s string) bool { return cell.Fold(s) == cell.Fold(m.Name.V) }) {
			out = append(out, m.Name.V)
		}
	}
	return out
}

// fromMarkets plans for the markets asked for, the earlier first.
func (r *run) fromMarkets() error {
	rows, err := r.rows()
	if err != nil {
		return err
	}
	for _, row := range rows {
		r.outings = append(r.outings, &outing{of: r.book.Markets[row], row: row})
	}
	slices.SortStableFunc(r.outings, func(a, b *outing) int { return int(a.of.Day) - int(b.of.Day) })
	r.tallies()
	left := map[*book.Product]int{}
	for _, p := range r.book.Products {
		left[p] = r.onHand(p)
	}
	r.notSetAside(left)
	for n, o := range r.outings {
		o.season = r.seasonOf(o.of.Day)
		if err := r.expect(o); err != nil {
			return err
		}
		r.estimate(o)
		r.bring(o)
		r.needs(n, o, left)
	}
	r.describe()
	return nil
}

// notSetAside says which markets come before the last one that is planned for,
// but are not planned: what is on hand may be gone by then.
func (r *run) notSetAside(left map[*book.Product]int) {
	units := 0
	for _, n := range left {
		units += n
	}
	last := r.outings[len(r.outings)-1].of
	var first *book.Market
	n := 0
	for i, m := range r.book.Markets {
		planned := slices.ContainsFunc(r.outings, func(o *outing) bool { return o.row == i })
		if planned || m.Day < r.opts.Today || m.Day >= last.Day {
			continue
		}
		if first == nil || m.Day < first.Day {
			first = m
		}
		n++
	}
	if units == 0 || first == nil {
		return
	}
	r.problem(problem.Warning, problem.DefaultUsed, "market-before", first.Name.At,
		"n", n, "market", first.Name.V, "date", first.Day, "units", units, "planned", last.Name.V)
}

// onHand is the whole units of a product on hand; what cannot be read, or is
// below 0, counts as none.
func (r *run) onHand(p *book.Product) int {
	if !p.OnHand.OK() {
		return 0
	}
	return max(0, int(calc.FloorOf(p.OnHand.V)))
}

func (r *run) seasonOf(d day.Date) string { return r.ledger.Seasons.Name(r.ledger.Seasons.Of(d)) }

// describe puts the outings into the result.
func (r *run) describe() {
	for n, o := range r.outings {
		days := 1
		if o.of.Days.OK() && o.of.Days.V >= 1 {
			days = int(o.of.Days.V)
		}
		m := &Market{Market: o.of.Name.V, Date: o.of.Day, Days: days, Season: o.season, Of: o.of}
		if o.of.Channel != nil {
			m.Channel = o.of.Channel.Name.V
		}
		what := []string{}
		for _, row := range o.refs {
			what = append(what, r.book.Markets[row].Name.V+" "+r.book.Markets[row].Day.String())
		}
		if n == 0 {
			r.res.Market, r.res.ExpectedTotal, r.res.Demand, r.res.By = m, o.total, o.demand, o.of.Day
			r.res.From, r.res.FromWhat = o.from, what
			continue
		}
		r.res.Also = append(r.res.Also, Outing{m, o.total, o.demand, o.from, what})
	}
}
