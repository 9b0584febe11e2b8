// Package check looks at a book with the eyes of the trade: what looks wrong
// for a candle, and what each job still lacks.
package check

import (
	"math"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/compute/unitcost"
)

// Domain is what looks wrong for a candle, from rows dated up to today.
func Domain(b *book.Book, today day.Date) problem.List {
	ledger := Ledger(b, today)
	c := &checker{book: b, engine: unitcost.New(b, ledger, today), today: today}
	c.found.Join(ledger.Problems)
	for _, m := range b.Materials {
		c.material(m)
	}
	for _, r := range b.Recipes {
		c.recipe(r)
	}
	for _, p := range b.Products {
		c.product(p)
	}
	unitcost.NoteBareJars(&c.found, b.Products)
	unitcost.NoteUnscented(&c.found, b.Products)
	c.found.Join(Unusual(Look(ledger), c.engine, today, SalePrices, Quantities, Dates, Purchases, Fees, Nowhere, Losses))
	c.found.Join(c.engine.Problems)
	return c.found
}

type checker struct {
	book   *book.Book
	engine *unitcost.Engine
	today  day.Date
	found  problem.List
}

func (c *checker) warn(code problem.Code, at cell.Ref, args ...any) {
	c.found.Add(problem.Problem{Severity: problem.Warning, Code: code, At: at, Args: args})
}

// strangers are words in the names of colorants that do not belong in candles
// (common practice, no source).
var strangers = []string{"crayon", "food color", "food dye", "soap color", "soap dye", "mica", "acrylic"}

func (c *checker) material(m *book.Material) {
	defer fault.In(m.Name.At, m.Name.V)
	name := strings.ReplaceAll(cell.Fold(m.Name.V), "colour", "color")
	stranger := m.Base.V == "water"
	for _, w := range strangers {
		stranger = stranger || (m.Kind == book.Dye || m.Kind == book.Additive) && strings.Contains(name, w)
	}
	if stranger && m.Kind.Melted() {
		c.warn(problem.NotOilSoluble, m.Name.At, "material", m.Name.V)
	}
}

func (c *checker) recipe(r *book.Recipe) {
	defer fault.In(r.Name.At, r.Name.V)
	finish := book.Natural
	if r.HasDye() {
		finish = book.Colored
	}
	var waxes, scents, dyes []unitcost.Ingredient
	var additive *book.Material
	wax := 0.0
	for _, i := range c.engine.Ingredients(r, finish) {
		switch i.Material.Kind {
		case book.Wax:
			waxes, wax = append(waxes, i), wax+i.Share.Or(0)
		case book.Fragrance:
			scents = append(scents, i)
		case book.Dye:
			dyes = append(dyes, i)
		case book.Additive:
			additive = i.Material
		}
	}
	if wax <= 0 {
		return
	}
	c.load(r, waxes, scents, wax)
	c.drops(r, dyes, wax)
	for _, w := range waxes {
		if additive != nil && w.Material.ContainsAdditive.V {
			c.warn(problem.DoubleAdditive, r.Name.At, "recipe", r.Name.V, "additive", additive.Name.V, "wax", w.Material.Name.V)
		}
	}
}

// load holds the fragrance against what the waxes and the fragrances take, and
// against what any takes.
func (c *checker) load(r *book.Recipe, waxes, scents []unitcost.Ingredient, wax float64) {
	all, over := 0.0, false
	for _, s := range scents {
		own := s.Share.Or(0) / wax
		all += own
		over = c.overLoad(r, s.Material, own) || over
	}
	for _, w := range waxes {
		over = c.overLoad(r, w.Material, all) || over
	}
	if !over && all > highLoad*(1+slack) {
		c.found.Add(problem.Problem{
			Severity: problem.Warning, Code: problem.OverMaxLoad, Say: "high", At: largest(r, book.Fragrance),
			Args: []any{"recipe", r.Name.V, "load", tenths(all * 100), "most", tenths(highLoad * 100)},
		})
	}
}

func (c *checker) overLoad(r *book.Recipe, m *book.Material, load float64) bool {
	over := m.MaxLoad.OK() && load > m.MaxLoad.V*(1+slack)
	if over {
		c.warn(problem.OverMaxLoad, r.Name.At, "recipe", r.Name.V, "material", m.Name.V, "load", tenths(load*100), "most", tenths(m.MaxLoad.V*100))
	}
	return over
}

// drops holds the drops of dye per pound of wax against the limit.
func (c *checker) drops(r *book.Recipe, dyes []unitcost.Ingredient, wax float64) {
	perPound := 0.0
	for _, d := range dyes {
		perPound += d.DropShare.Or(0) / wax * unit.GramsPerPound
	}
	limit := c.engine.Setting(book.DropLimit).Or(math.Inf(1))
	p := problem.Problem{
		Severity: problem.Warning, Code: problem.OverDropLimit, At: r.Name.At,
		Args: []any{"recipe", r.Name.V, "drops", tenths(perPound), "most", tenths(limit)},
	}
	switch {
	case perPound > dropsTimes*limit*(1+slack):
		p.Say, p.At = "twice", largest(r, book.Dye)
	case perPound <= limit*(1+slack):
		return
	}
	c.found.Add(p)
}

// largest is the cell of a recipe's largest amount of a kind, as it is written.
func largest(r *book.Recipe, k book.Kind) cell.Ref {
	at, most := r.Name.At, -1.0
	for _, i := range r.Ingredients {
		if i.Material.Kind == k && i.Amount.OK() && i.Amount.V > most {
			at, most = i.Amount.At, i.Amount.V
		}
	}
	return at
}

func tenths(v float64) float64 { return math.Round(v*10) / 10 }

func (c *checker) product(p *book.Product) {
	defer fault.In(p.Code.At, p.Code.V)
	if !p.Active.V {
		return
	}
	switch {
	case p.List.State == cell.Blank:
		c.warn(problem.NoListPrice, p.Code.At, "product", p.Code.V)
	case p.List.OK() && p.List.V.Sign() == 0:
		c.warn(problem.ZeroPrice, p.List.At, "product", p.Code.V)
	}
	c.engine.Content(c.engine.Of(p))
	if c.book.Has(book.TBurnTests) && !c.passed(p) {
		c.warn(problem.UntestedFinish, p.Code.At, "product", p.Code.V, "recipe", p.Recipe.Name.V, "jar", p.Jar.Name.V, "finish", string(p.Finish))
	}
}

// passed reports whether a product's combination has a passed burn test.
func (c *checker) passed(p *book.Product) bool {
	for _, t := range c.book.Burns {
		if t.Pass && t.Day <= c.today && t.Recipe == p.Recipe && t.Jar == p.Jar && t.Finish == p.Finish {
			return true
		}
	}
	return false
}
