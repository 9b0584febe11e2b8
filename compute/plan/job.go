package plan

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/compute/unitcost"
)

// job is units of one product to pour for one market, or by a day.
type job struct {
	product *book.Product
	turn    int     // which of the markets
	demand  *Demand // nil in a plan without a market
	chance  *chance
	need    int // good units
	started int

	content *unitcost.Content
	fill    *calc.Figure // g of blend poured per started unit, losses included
	minutes *calc.Figure // per started unit
	takes   []take

	batch, item int // where the bench has it
}

// take is what a started unit takes of a material, in its own base unit.
type take struct {
	of       *book.Material
	quantity *calc.Figure
	grams    *calc.Figure // nil for parts
	drops    *calc.Figure // exact, of a dye given in drops; nil for any other
}

// needs makes the jobs of a market: what is to be brought less what is on hand,
// of which the earlier market takes first.
func (r *run) needs(turn int, o *outing, left map[*book.Product]int) {
	for i := range o.demand {
		d := &o.demand[i]
		d.OnHand = left[d.Of]
		d.Need = max(0, d.Bring-d.OnHand)
		d.Pour = r.starts(d.Need)
		left[d.Of] -= min(left[d.Of], d.Bring)
		if d.Need > 0 {
			r.jobs = append(r.jobs, &job{product: d.Of, turn: turn, demand: d, chance: &o.chances[i], need: d.Need, started: d.Pour})
		}
	}
}

// starts is how many units are started so that enough are good.
func (r *run) starts(need int) int {
	return int(calc.CeilOf(float64(need) / r.good.Or(1)))
}

// fromUnits makes the jobs of a plan without a market; products in table order.
func (r *run) fromUnits() error {
	r.res.By = r.opts.By
	units := map[*book.Product]int{}
	names := make([]string, 0, len(r.opts.Units))
	for name := range r.opts.Units {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		p, say := r.findProduct(name)
		if p == nil {
			r.problem(problem.Error, say, "asked", cell.Ref{}, "name", name)
			return ErrUnits
		}
		units[p] += r.opts.Units[name]
	}
	for _, p := range r.book.Products {
		if n := units[p]; n > 0 {
			r.jobs = append(r.jobs, &job{product: p, need: n, started: r.starts(n)})
		}
	}
	return nil
}

// findProduct is the product of a code, else of a name that only one has.
func (r *run) findProduct(name string) (*book.Product, problem.Code) {
	var named []*book.Product
	for _, p := range r.book.Products {
		if cell.Fold(p.Code.V) == cell.Fold(name) {
			return p, ""
		}
		if cell.Fold(p.Name.V) == cell.Fold(name) {
			named = append(named, p)
		}
	}
	switch len(named) {
	case 0:
		return nil, problem.UnknownProduct
	case 1:
		return named[0], ""
	}
	return nil, problem.AmbiguousName
}

// fit fills in what a job takes; false when any of it is unknown, which the
// engine's problems explain.
func (r *run) fit(j *job) bool {
	m := r.engine.Of(j.product)
	content, ok := r.engine.Content(m)
	if !ok {
		return false
	}
	j.content = content
	poured := calc.Sub(calc.Const(1), r.setting(book.PourLoss))
	code := j.product.Code.V
	j.fill = calc.Div(content.Fill, poured).Named("plan.unit-blend", code)
	j.minutes = m.Minutes
	if j.minutes == nil {
		j.minutes = r.setting(book.UnitMinutes)
	}
	for _, i := range content.Items {
		g := calc.Div(i.Grams, poured)
		t := take{of: i.Material, quantity: g, grams: g}
		if i.Drops != nil && i.Material.Kind == book.Dye {
			t.drops = calc.Div(i.Drops, poured)
		}
		if i.Material.Dim == unit.Volume {
			t.quantity = calc.Div(g, r.engine.DensityOf(i.Material))
		} else if i.Material.Dim != unit.Mass {
			t.quantity = nil
		}
		j.add(t)
	}
	for _, p := range content.Parts {
		j.add(take{of: p.Material, quantity: p.Quantity})
	}
	for _, t := range j.takes {
		if !t.quantity.Known() {
			return false
		}
	}
	return j.fill.Or(0) > 0 && j.minutes.Known()
}

// add joins a material that is both an ingredient and a part.
func (j *job) add(t take) {
	for i := range j.takes {
		if j.takes[i].of == t.of {
			j.takes[i].quantity = calc.Add(j.takes[i].quantity, t.quantity)
			return
		}
	}
	j.takes = append(j.takes, t)
}

// dyes tells sets of dyes apart: the materials of a job's dyes, sorted.
func (j *job) dyes() string {
	var names []string
	for _, i := range j.content.Items {
		if i.Material.Kind == book.Dye {
			names = append(names, cell.Fold(i.Material.Name.V))
		}
	}
	slices.Sort(names)
	return strings.Join(names, "\n")
}

// dropShare is the drops of dye per gram of wax.
func (j *job) dropShare() float64 {
	drops := 0.0
	for _, i := range j.content.Items {
		if i.Material.Kind == book.Dye && i.Drops != nil {
			drops += i.Drops.Or(0)
		}
	}
	if wax := j.content.Wax.Or(0); wax > 0 {
		return drops / wax
	}
	return 0
}

// worths is what each good unit is worth that a plan keeps, the first one first:
// those to bring beyond what is on hand; in a plan without a market each counts 1.
func (j *job) worths() []float64 {
	out := make([]float64, j.need)
	for k := range out {
		out[k] = 1
		if j.chance != nil {
			out[k] = j.chance.worth(j.demand.Bring - j.need + k + 1)
		}
	}
	return out
}
