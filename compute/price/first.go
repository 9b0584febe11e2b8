package price

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/unit"
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
var half = calc.Fn{
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
// of dye per pound of wax, add to the cost of a unit.
func (r *run) steps(p *Price, recipe *book.Recipe) {
	m := r.make(recipe, r.jar, p.Finish)
	c, ok := r.engine.Content(m)
	if !ok {
		return
	}
	lost := calc.Mul(calc.Sub(calc.Const(1), r.engine.Setting(book.PourLoss)), calc.Sub(calc.Const(1), r.engine.Setting(book.RejectRate)))
	issued := calc.Div(c.Wax, lost)
	for _, i := range c.Items {
		price := r.engine.GramPrice(i.Material, r.month)
		switch {
		case i.Material.Kind == book.Fragrance && p.LoadStep == nil:
			p.LoadStep = calc.Mul(issued, calc.Const(0.01), price).Named("load-step", p.Recipe)
		case i.Material.Kind == book.Dye && i.Drops != nil && p.DropStep == nil:
			pounds := calc.Div(issued, calc.Const(unit.GramsPerPound))
			p.DropStep = calc.Mul(calc.Div(pounds, r.engine.DropsPerGram(i.Material)), price).Named("drop-step", p.Recipe)
		}
	}
}
