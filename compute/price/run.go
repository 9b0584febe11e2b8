package price

import (
	"errors"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/check"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/stat"
	"pourbook/compute/unitcost"
)

// Options say what to price.
type Options struct {
	Jar string
	// All prices every active product of the range instead of a jar.
	All   bool
	Today day.Date
	// Fill (g), or Capacity (mL) and Filled (fraction), make a jar that is not in
	// the book; Parts are then all that goes with it.
	Fill, Capacity, Filled cell.Num
	Parts                  []Part
	// Recipes and Channels narrow the sheet; Margin stands in for the target.
	Recipes, Channels []string
	Margin            cell.Num

	compared bool // beside another jar: figures name theirs
}

// Part is a part of a new jar: the cost of one piece.
type Part struct {
	Name string
	Cost cell.Num
}

// ErrJar is a jar that cannot be priced, ErrMargin a target that no channel
// can carry, ErrBook a book that lacks what a price rests on; the problems say
// which.
var (
	ErrJar    = errors.New("the jar cannot be priced")
	ErrMargin = errors.New("no channel can carry the target margin")
	ErrBook   = errors.New("the book lacks what a price rests on")
)

// run is a price sheet at work.
type run struct {
	book     *book.Book
	opts     Options
	ledger   *sales.Ledger
	engine   *unitcost.Engine
	month    day.Month
	jar      *book.Jar
	parts    map[book.Kind]*calc.Figure
	isNew    bool
	channels []*book.Channel
	lines    map[book.Finish]stat.Line
	res      *Result
}

// Run prices a jar. Nothing in the book dated after opts.Today is used. On an
// error the result holds the problems alone.
func Run(b *book.Book, opts Options) (*Result, error) {
	ledger := check.Ledger(b, opts.Today)
	r := &run{
		book: b, opts: opts, ledger: ledger, engine: unitcost.New(b, ledger, opts.Today), month: opts.Today.Month(), lines: map[book.Finish]stat.Line{},
		res: &Result{Schema: Schema, Prices: []Price{}, Source: b, Currency: b.Settings.Text(book.Currency).V},
	}
	err := r.all()
	r.res.Problems.Join(b.Problems)
	unitcost.NoteUnscented(&r.res.Problems, b.Products)
	r.res.Problems.Join(check.Unusual(check.Look(ledger), r.engine, opts.Today, check.Purchases, check.Fees))
	r.res.Problems.Join(r.engine.Problems)
	r.defaults()
	return r.res, err
}

func (r *run) all() error {
	if err := r.needTables(book.TMaterials, book.TRecipes); err != nil {
		return err
	}
	r.res.Target = r.target()
	r.res.Ending = r.book.Settings.Text(book.PriceEnding).V
	r.findChannels()
	recipes, err := r.recipes()
	if err != nil {
		return err
	}
	if r.opts.All {
		return r.whole(recipes)
	}
	return r.sheet(recipes)
}

func (r *run) needTables(names ...book.TableName) error {
	if !check.HasRows(r.book, &r.res.Problems, names...) {
		return ErrBook
	}
	return nil
}

// sheet prices a jar in the recipes.
func (r *run) sheet(recipes []*book.Recipe) error {
	if err := r.findJar(); err != nil {
		return err
	}
	r.res.Jar = Jar{Jar: r.jar.Name.V}
	if r.jar.Fill.OK() {
		r.res.Jar.Fill = calc.In(r.jar.Fill, "fill", r.jar.Name.V)
	}
	r.warnOf(recipes)
	r.places()
	for _, recipe := range recipes {
		for _, finish := range finishes(recipe) {
			r.res.Prices = append(r.res.Prices, r.price(recipe, finish))
		}
	}
	r.res.Nearest = r.nearest(r.anyFill(), func(*book.Product) bool { return true })
	r.firstRun()
	r.fewSizes()
	if r.noChannelCarries() {
		return ErrMargin
	}
	return nil
}

func (r *run) target() *calc.Figure {
	if r.opts.Margin.OK() {
		return calc.In(r.opts.Margin, "setting", string(book.TargetMargin))
	}
	return r.engine.Setting(book.TargetMargin)
}

func finishes(recipe *book.Recipe) []book.Finish {
	if recipe.HasDye() {
		return []book.Finish{book.Colored, book.Natural}
	}
	return []book.Finish{book.Natural}
}

func (r *run) recipes() ([]*book.Recipe, error) {
	if len(r.opts.Recipes) == 0 {
		return r.book.Recipes, nil
	}
	var out []*book.Recipe
	for _, name := range r.opts.Recipes {
		i := slices.IndexFunc(r.book.Recipes, func(x *book.Recipe) bool { return cell.Fold(x.Name.V) == cell.Fold(name) })
		if i < 0 {
			r.unknown(problem.UnknownRecipe, name)
			return nil, ErrBook
		}
		out = append(out, r.book.Recipes[i])
	}
	return out, nil
}

func (r *run) unknown(code problem.Code, name string) {
	r.res.Problems.Add(problem.Problem{Severity: problem.Error, Code: code, Say: "asked", Args: []any{"name", name}})
}

// findChannels takes the channels that are not wholesale; a book without any
// channel sells without fees.
func (r *run) findChannels() {
	for _, c := range r.book.Channels {
		if c.Listed && !c.Wholesale && r.wanted(c) {
			r.channels = append(r.channels, c)
		}
	}
	for _, name := range r.opts.Channels {
		if !slices.ContainsFunc(r.book.Channels, func(c *book.Channel) bool { return cell.Fold(c.Name.V) == cell.Fold(name) }) {
			r.unknown(problem.UnknownChannel, name)
		}
	}
	if !slices.ContainsFunc(r.book.Channels, func(c *book.Channel) bool { return c.Listed }) {
		r.channels = []*book.Channel{{}}
	}
}

func (r *run) wanted(c *book.Channel) bool {
	return len(r.opts.Channels) == 0 ||
		slices.ContainsFunc(r.opts.Channels, func(name string) bool { return cell.Fold(name) == cell.Fold(c.Name.V) })
}

// noChannelCarries reports whether a unit cost is known but no channel has a price.
func (r *run) noChannelCarries() bool {
	costs := false
	for _, p := range r.res.Prices {
		costs = costs || p.UnitCost != nil
		for _, c := range p.Channels {
			if c.Price.Known() {
				return false
			}
		}
	}
	return costs && len(r.channels) > 0
}
