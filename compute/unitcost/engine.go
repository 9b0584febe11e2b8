package unitcost

import (
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// Sold is what the engine asks of the sales: units of a product sold in a
// span of days, net of refunds, as a figure (a sum over rows).
type Sold interface {
	Units(p *book.Product, from, to day.Date) *calc.Figure
	// First is the first day with a line; false without sales.
	First() (day.Date, bool)
}

// Make is what a unit is made of: a product of the book, or a recipe in a jar
// that is not in it yet.
type Make struct {
	Recipe  *book.Recipe
	Jar     *book.Jar
	Finish  book.Finish
	Minutes *calc.Figure // minutes per unit; nil: the setting
	Fill    *calc.Figure // g; nil: the jar's own
	// Parts stands in for the jar's parts where it is not nil: cost of one
	// piece by kind, before the reject rate.
	Parts map[book.Kind]*calc.Figure
	// Label names the unit in explanations: a product's code, or recipe and finish.
	Label string
	// Product is the product that is made; nil for one that is not in the book.
	Product *book.Product
}

// key is what tells one unit's content from another's.
type key struct {
	recipe *book.Recipe
	jar    *book.Jar
	finish book.Finish
	fill   *calc.Figure
	label  string
}

func (m Make) key() key { return key{m.Recipe, m.Jar, m.Finish, m.Fill, m.Label} }

// at is the row of the product, else of the recipe.
func (m Make) at() cell.Ref {
	var product, recipe cell.Ref
	if m.Product != nil {
		product = m.Product.Code.At
	}
	if m.Recipe != nil {
		recipe = m.Recipe.Name.At
	}
	return place(product, recipe)
}

// Engine computes unit costs by month. It keeps what it has computed; it is not
// safe for concurrent use.
type Engine struct {
	Book     *book.Book
	Problems problem.List
	// as far as the roll goes: nothing after it is used
	upTo   day.Date
	sold   Sold
	made   *poured
	method Method

	said      map[saying]bool
	settings  map[book.Setting]*calc.Figure
	makes     map[*book.Product]Make
	materials map[*book.Material]*stuff
	blends    map[blendKey]*blend
	contents  map[key]*Content
	issues    map[key][]Issue
	labors    map[minutesKey]labor
	costs     map[minutesKey]*Costs
	changes   changes // of overheads
	overheads map[day.Month]*calc.Figure
	rates     map[day.Month]*calc.Figure
	units     map[span]*calc.Figure
	users     map[*book.Material][]user
	leaves    map[leafKey]*calc.Figure
	good      *calc.Figure // 1 - reject rate: the share of started units that are good
	filled    *calc.Figure // 1 - pour loss: the share of the blend that reaches the jars
}

// New is an engine over the rows of b dated up to upTo: the end of a costing's
// period, or today for a plan or a price. sold may be nil when use is of no
// interest, which then is 0.
func New(b *book.Book, sold Sold, upTo day.Date) *Engine {
	e := &Engine{
		Book: b, upTo: upTo, sold: sold,
		said:      map[saying]bool{},
		settings:  map[book.Setting]*calc.Figure{},
		makes:     map[*book.Product]Make{},
		materials: map[*book.Material]*stuff{},
		blends:    map[blendKey]*blend{},
		contents:  map[key]*Content{},
		issues:    map[key][]Issue{},
		labors:    map[minutesKey]labor{},
		costs:     map[minutesKey]*Costs{},
		changes:   overheadChanges(b),
		overheads: map[day.Month]*calc.Figure{},
		rates:     map[day.Month]*calc.Figure{},
		units:     map[span]*calc.Figure{},
		leaves:    map[leafKey]*calc.Figure{},
	}
	e.method = methodOf(b)
	e.good = calc.Sub(calc.Const(1), e.Setting(book.RejectRate))
	e.filled = calc.Sub(calc.Const(1), e.Setting(book.PourLoss))
	if len(b.Pours) > 0 {
		e.made = newPoured(b.Pours)
	}
	e.sortRows()
	return e
}

// Of is the make of a product of the book.
func (e *Engine) Of(p *book.Product) Make {
	m, ok := e.makes[p]
	if !ok {
		m = Make{Recipe: p.Recipe, Jar: p.Jar, Finish: p.Finish, Label: p.Code.V, Product: p}
		if p.Minutes.State != cell.Blank {
			m.Minutes = e.in(p.Minutes, "unit.own-minutes", p.Code.V)
		}
		e.makes[p] = m
	}
	return m
}

// settingKey is the key of an input that is a setting.
const settingKey = "setting"

// Setting is a setting that is a number, in base units (percents are
// fractions); one leaf for every use of it.
func (e *Engine) Setting(name book.Setting) *calc.Figure {
	f, ok := e.settings[name]
	if !ok {
		f = calc.In(e.Book.Settings.Num(name), settingKey, string(name))
		e.settings[name] = f
	}
	return f
}

// saying tells whether a problem was raised already.
type saying struct {
	code problem.Code
	say  string
	at   cell.Ref
	what string
}

// raise adds a problem once for what it is about.
func (e *Engine) raise(p problem.Problem, what string) {
	s := saying{p.Code, p.Say, p.At, what}
	if !e.said[s] {
		e.said[s] = true
		e.Problems.Add(p)
	}
}

// number is a cell of money as a leaf takes it.
func number(m book.Money) cell.Num {
	return cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State}
}

// leafKey tells one cell of the book from another.
type leafKey struct {
	cell.Num
	key, of string
}

// in is calc.In with one leaf for every use of a cell.
func (e *Engine) in(n cell.Num, key string, of ...string) *calc.Figure {
	k := leafKey{n, key, strings.Join(of, "\x00")}
	f, ok := e.leaves[k]
	if !ok {
		f = calc.In(n, key, of...)
		e.leaves[k] = f
	}
	return f
}
