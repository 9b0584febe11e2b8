package price

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/cost"
	"pourbook/compute/unit"
	"pourbook/compute/unitcost"
)

// anyFill is the fill of the jar, or of its first recipe where it differs by recipe.
func (r *run) anyFill() *calc.Figure {
	if r.res.Jar.Fill.Known() || len(r.book.Recipes) == 0 {
		return r.res.Jar.Fill
	}
	first := r.book.Recipes[0]
	return r.fill(first, r.jar, finishes(first)[0])
}

// firstRun shares one usual batch of each recipe between the finishes as the
// nearest jar size sells them, and sets out what one more step of fragrance or
// dye would cost.
func (r *run) firstRun() {
	share := r.coloredShare()
	for i := range r.res.Prices {
		p := &r.res.Prices[i]
		both := p.Finish == book.Colored || i > 0 && r.res.Prices[i-1].Recipe == p.Recipe
		if !both {
			p.FirstRun = p.UsualBatch
			continue
		}
		colored := calc.Call(half, calc.Mul(p.UsualBatch, share))
		if p.Finish == book.Natural {
			p.FirstRun = calc.Sub(p.UsualBatch, colored).Named("first-run", p.Recipe, string(p.Finish))
		} else {
			p.FirstRun = colored.Named("first-run", p.Recipe, string(p.Finish))
		}
	}
}

// half rounds to the nearest whole number, halves up.
var half = &calc.Fn{
	Eval:  func(v []float64) (float64, bool) { return calc.FloorOf(v[0] + 0.5), true },
	Write: func(a []string) string { return "INT(" + a[0] + "+0.5)" },
}

// coloredShare is the colored share of the nearest jar's units, else of all.
func (r *run) coloredShare() *calc.Figure {
	split := cost.SplitUpTo(r.book, r.ledger, r.engine, r.opts.Today)
	if r.res.Nearest != nil {
		for _, g := range split.ByJar {
			if g.Jar == r.res.Nearest.Name.V {
				return g.Share
			}
		}
	}
	return split.Overall.Share
}

// steps are what one more percent of fragrance on the wax, and one more drop
// of dye per pound of wax, add to the cost of a unit of the same fill weight.
func (r *run) steps(p *Price, recipe *book.Recipe) {
	c, ok := r.engine.Content(r.make(recipe, r.jar, p.Finish))
	if !ok {
		return
	}
	for _, i := range c.Items {
		switch {
		case i.Material.Kind == book.Fragrance && p.LoadStep == nil:
			p.LoadStep = r.step(recipe, c, i.Material, calc.Const(0.01)).Named("load-step", p.Recipe, string(p.Finish))
		case i.Material.Kind == book.Dye && i.Drops != nil && p.DropStep == nil:
			grams := calc.Div(calc.Div(calc.Const(1), calc.Const(unit.GramsPerPound)), r.engine.DropsPerGram(i.Material))
			p.DropStep = r.step(recipe, c, i.Material, grams).Named("drop-step", p.Recipe, string(p.Finish))
		}
	}
}

// step is what more of a material adds to the cost of a unit: in g per gram of
// wax, or of blend where the recipe gives it by the blend. What is added leaves
// less room for all that goes by the wax, in the same proportion; what goes by
// the blend stays.
func (r *run) step(recipe *book.Recipe, c *unitcost.Content, m *book.Material, more *calc.Figure) *calc.Figure {
	var grams, costs []*calc.Figure
	for _, i := range c.Items {
		if !r.ofBlend(recipe, i.Material) {
			grams = append(grams, i.Grams)
			costs = append(costs, calc.Mul(i.Grams, r.engine.GramPrice(i.Material, r.month)))
		}
	}
	all, price := calc.Add(grams...), r.engine.GramPrice(m, r.month)
	dearer := calc.Sub(price, calc.Div(calc.Add(costs...), all))
	kept := calc.Mul(calc.Sub(calc.Const(1), r.engine.Setting(book.PourLoss)), calc.Sub(calc.Const(1), r.engine.Setting(book.RejectRate)))
	if r.ofBlend(recipe, m) {
		return calc.Div(calc.Mul(c.Fill, more, dearer), kept)
	}
	added := calc.Mul(c.Wax, more)
	return calc.Div(calc.Div(calc.Mul(added, dearer, all), calc.Add(all, added)), kept)
}

// ofBlend reports whether a recipe gives a material by the weight of the blend.
func (r *run) ofBlend(recipe *book.Recipe, m *book.Material) bool {
	bare := m.Kind == book.Fragrance && strings.Contains(cell.Fold(r.book.Settings.Text(book.FragranceBasis).V), "blend")
	return slices.ContainsFunc(recipe.Ingredients, func(i book.Ingredient) bool {
		return i.Material == m && (i.Rate.Basis == unit.PerBlend || bare && i.Rate.Basis == unit.PerDefault)
	})
}
