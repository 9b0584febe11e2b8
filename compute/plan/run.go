package plan

import (
	"errors"
	"math"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/check"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// Options say what to plan for: markets of the book, or a day and units.
type Options struct {
	// Markets are names of markets, each meaning its next date; none means the
	// next market after today.
	Markets []string
	// By and Units (good units, by product code or name) make a plan without a market.
	By    day.Date
	Units map[string]int
	Today day.Date
	// Start is the first day to pour, day.None or earlier than today for today.
	Start day.Date
	// Minutes stands in for the setting where it is above 0.
	Minutes float64
	// Skip are days without pouring.
	Skip []day.Date
	// FirstBatch numbers the first pour; below 1 it is 1.
	FirstBatch int

	rows   []int // of Markets, in place of their names
	effort int   // of planEffort; 0 is that
}

func (o Options) byDate() bool { return o.By != day.None && o.By != 0 }

// The errors of Run. The result's problems say which market, what to fill in,
// which product or what the book lacks.
var (
	ErrMarket = errors.New("no such market")
	ErrTotal  = errors.New("nothing says how much the market may sell")
	ErrUnits  = errors.New("no such product")
	ErrBook   = errors.New("the book lacks what a plan rests on")
)

// run is a plan at work.
type run struct {
	book    *book.Book
	opts    Options
	ledger  *sales.Ledger
	engine  *unitcost.Engine
	month   day.Month
	good    *calc.Figure // 1 - reject rate
	outings []*outing
	jobs    []*job
	totals  []tally // per row of Markets
	dyes    map[string]int
	mats    []*book.Material // in table order, those that a job takes
	pours   []Pour
	units   [][]*job // per pour: the job of each of its jars
	res     *Result
}

// Run plans. Nothing in the book dated after opts.Today is used, except rows of
// Markets. On an error the result holds the problems alone.
func Run(b *book.Book, opts Options) (*Result, error) {
	ledger := check.Ledger(b, opts.Today)
	r := &run{
		book: b, opts: opts, ledger: ledger, engine: unitcost.New(b, ledger, opts.Today), month: opts.Today.Month(),
		dyes: map[string]int{"": 0},
		res: &Result{
			Schema: Schema, Pours: []Pour{}, Pull: []Pull{}, Buy: []Buy{}, LeftOut: []LeftOut{}, Source: b,
			Currency: b.Settings.Text(book.Currency).V, Today: opts.Today,
		},
	}
	r.good = calc.Sub(calc.Const(1), r.setting(book.RejectRate))
	err := r.all()
	r.res.Problems.Join(b.Problems)
	r.res.Problems.Join(ledger.Problems)
	r.res.Problems.Join(check.Unusual(check.Look(ledger), r.engine, opts.Today, check.Quantities, check.Dates, check.Purchases, check.Fees))
	r.res.Problems.Join(r.engine.Problems)
	r.defaults()
	return r.res, err
}

func (r *run) all() error {
	if err := r.complete(); err != nil {
		return err
	}
	find := r.fromMarkets
	if r.opts.byDate() {
		find = r.fromUnits
	}
	if err := find(); err != nil {
		return err
	}
	shop, batches := r.shop()
	if r.opts.effort == 0 {
		r.opts.effort = planEffort
	}
	done := shop.Plan(r.opts.effort)
	r.take(shop, batches, done)
	r.leftOut(shop, done)
	r.orders()
	r.burnTests()
	return nil
}

// planEffort is how long a plan is improved where not everything fits; see
// bench.Shop.Keep. A trial plan that it is compared with gets a part of it.
const (
	planEffort = 700_000
	trialPart  = 5
)

// complete reports what the book lacks for any plan.
func (r *run) complete() error {
	var err error
	if !check.HasRows(r.book, &r.res.Problems, book.TProducts, book.TRecipes, book.TJars, book.TMaterials) {
		err = ErrBook
	}
	for _, name := range []book.Setting{book.RejectRate, book.PourLoss} {
		if v, ok := r.setting(name).Value(); !ok || v < 0 || v >= 1 {
			r.problem(problem.Error, problem.BadNumber, "loss", r.setting(name).From().At, "setting", string(name))
			err = ErrBook
		}
	}
	for _, name := range []book.Setting{book.Pitcher, book.PourMinutes, book.ScaleResolution} {
		if v, ok := r.setting(name).Value(); !ok || v <= 0 {
			r.problem(problem.Error, problem.BadNumber, "above-zero", r.setting(name).From().At, "setting", string(name))
			err = ErrBook
		}
	}
	return err
}

// problem adds a finding; args are names and values for its words.
func (r *run) problem(s problem.Severity, code problem.Code, say string, at cell.Ref, args ...any) {
	r.res.Problems.Add(problem.Problem{Severity: s, Code: code, Say: say, At: at, Args: args})
}

func (r *run) setting(name book.Setting) *calc.Figure { return r.engine.Setting(name) }

// value is a setting's number, 0 where it is unknown.
func (r *run) value(name book.Setting) float64 { return r.setting(name).Or(0) }

// number is a cell of money as a leaf takes it.
func number(m book.Money) cell.Num {
	return cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State}
}

// optional is the figure of a cell that counts as nothing when it is blank.
func optional(n cell.Num, key string, of ...string) *calc.Figure {
	if n.State == cell.Blank {
		return calc.Zero
	}
	return calc.In(n, key, of...)
}

// wholeDays is a number of days, part days counting as whole ones.
func wholeDays(v float64) day.Date { return day.Date(math.Max(0, calc.CeilOf(v))) }

// defaults notes the settings that stood in for blanks and mattered to a figure.
func (r *run) defaults() {
	figures := []*calc.Figure{r.res.ExpectedTotal, r.res.Contribution}
	for _, o := range r.outings {
		for _, d := range o.demand {
			figures = append(figures, d.R, d.Critical)
		}
	}
	for _, p := range r.res.Pours {
		figures = append(figures, p.Blend, p.Minutes)
	}
	var blank []string
	for _, m := range r.mats {
		if m.OnHand.State == cell.Blank {
			blank = append(blank, m.Name.V)
		}
	}
	if len(blank) > 0 {
		r.problem(problem.Note, problem.DefaultUsed, "on-hand", cell.Ref{}, "n", len(blank), "materials", strings.Join(blank, ", "))
	}
	for _, p := range r.res.Pours {
		if p.Of.CureDays.State == cell.Blank {
			figures = append(figures, r.setting(book.CureDays))
			break
		}
	}
	for _, name := range []book.Setting{book.CureMargin, book.Pitcher, book.PourMinutes, book.WipeMinutes, book.WashMinutes, book.ScaleResolution} {
		if len(r.res.Pours) > 0 {
			figures = append(figures, r.setting(name))
		}
	}
	unitcost.NoteDefaults(&r.res.Problems, figures...)
}
