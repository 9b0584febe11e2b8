package cost

import (
	"errors"

	"pourbook/compute/book"
	"pourbook/compute/check"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/together"
	"pourbook/compute/unitcost"
)

// Options say what to cost.
type Options struct {
	Period Period   // zero: the default month
	Today  day.Date // for the default month
}

// ErrBook is a book that lacks what a costing rests on; the problems say what.
var ErrBook = errors.New("the book lacks what a costing rests on")

// mostLines is how many lines of sales a result lists.
const mostLines = 20_000

// run is a costing at work.
type run struct {
	book   *book.Book
	period Period
	ledger *sales.Ledger
	engine *unitcost.Engine
	res    *Result
	lines  tallies // of the period
	looked *check.Lines
	usage  *usage
}

// Run costs a period. Nothing dated after its end is used. On an error the
// result holds the problems alone.
func Run(b *book.Book, o Options) (*Result, error) {
	res := &Result{
		Schema: Schema, Book: b.Name, Currency: b.Settings.Text(book.Currency).V, Source: b,
		Products: []Product{}, Channels: []Channel{}, Use: []Use{}, Stock: []Stock{},
	}
	res.Problems.Join(b.Problems)
	if !check.HasRows(b, &res.Problems, book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TSales) {
		return res, ErrBook
	}
	if o.Period == (Period{}) || o.Period.From == day.None {
		m, ok := DefaultMonth(b, o.Today)
		if !ok {
			res.Problems.Add(problem.Problem{
				Severity: problem.Error, Code: problem.MissingTable, Say: "no-sales", Args: []any{"table", string(book.TSales)},
			})
			return res, ErrBook
		}
		o.Period = Period{m.First(), m.Last()}
	}
	r := &run{book: b, period: o.Period, ledger: check.Ledger(b, o.Period.To), res: res}
	r.engine = unitcost.New(b, r.ledger, o.Period.To)
	r.all()
	return res, nil
}

// DefaultMonth is the last calendar month that ended before today and holds a
// sales line; false when there is none.
func DefaultMonth(b *book.Book, today day.Date) (day.Month, bool) {
	best, last, ok := day.Month(0), day.None, false
	for s := range b.Sales.Stretches(0, b.Sales.Len(), book.Days) {
		for _, d := range s.Days {
			if day.Date(d) == last {
				continue
			}
			last = day.Date(d)
			if m := last.Month(); m.Last() < today && (!ok || m > best) {
				best, ok = m, true
			}
		}
	}
	return best, ok
}

func (r *run) all() {
	res := r.res
	res.Period = r.period
	res.Basis = Basis{Use: r.engine.Basis(), CostMethod: string(r.engine.Method())}
	res.Seasons = r.ledger.Seasons
	r.sales()
	r.stock()
	r.twins()
	r.shelves()
	r.decide()
	r.notes()
}

// sales is what rests on the lines of sales.
func (r *run) sales() {
	defer fault.In(r.book.Heading(book.TSales), string(book.TSales))
	lines := r.ledger.Between(r.period.From, r.period.To)
	r.lines = r.tally(lines)
	if r.res.LinesTotal = lines.Len(); r.res.LinesTotal <= mostLines {
		r.res.Lines = lines.List()
	}
	// The lines are gone through meanwhile; the rest is the engine's, which is
	// for one at a time.
	units, found, w, b := make(chan goods, 1), make(chan *usage, 1), make(chan *window, 1), make(chan *buyers, 1)
	together.Run(
		func() {
			defer close(found)
			r.products()
			r.usage = r.findUsage(<-units)
			found <- r.usage
			r.sums()
			r.split(<-w, <-b)
		},
		func() {
			defer close(units)
			units <- r.goods()
		},
		func() {
			defer close(b)
			b <- r.findBuyers(r.period.To)
		},
		func() {
			defer close(w)
			w <- r.window(r.period.To)
		},
		func() { r.looked = check.Look(r.ledger) },
		func() { r.res.Use = (<-found).rows() })
}

// sums are what channels and all products earned, and what changed.
func (r *run) sums() {
	r.channels()
	r.res.Totals = r.totals(r.lines, r.period)
	if r.period.OneMonth() {
		r.compare()
	}
}

// month is the month at whose cost products are shown.
func (r *run) month() day.Month { return r.period.To.Month() }

// cost is a product's unit cost in a month; nil where it cannot be computed.
func (r *run) cost(p *book.Product, m day.Month) *unitcost.Cost {
	return r.engine.Cost(r.engine.Of(p), m)
}
