package cost

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/sales"
	"pourbook/compute/unit"
	"pourbook/compute/unitcost"
)

// usage is what the use of dye and fragrance rests on. It asks nothing of the
// engine any more, so that it is added up beside whoever does.
type usage struct {
	*run
	units     goods
	figure    func(x *stint, product string) *calc.Figure
	spells    []spell // in order
	made      []*made // by row of Products, nil for what had no units
	materials []*used // by row of Materials, nil for what no units took
}

// made is what one good unit of a product takes, losses included.
type made struct {
	tracked []tracked
	wax     *calc.Figure
	costs   *unitcost.Costs
}

// tracked is a dye or fragrance of a known weight, of a row of Materials.
type tracked struct {
	unitcost.Issue
	row int
}

// used is a dye or fragrance, and what its use is told by.
type used struct {
	of           *book.Material
	prices       *unitcost.Prices
	density      *calc.Figure // g/mL
	dropsPerGram *calc.Figure // nil for what no recipe gives in drops
	pack         *calc.Figure // its first size; nil without one
	asked        []*calc.Figure
}

// findUsage finds what the products with units took. A product whose own use cannot
// be computed stays out; a problem says so where its cost is missing.
func (r *run) findUsage(units goods) *usage {
	u := &usage{run: r, units: units, figure: r.unitsFigure(), made: make([]*made, len(r.book.Products)), materials: make([]*used, len(r.book.Materials))}
	u.spells = slices.SortedFunc(maps.Keys(units), func(a, b spell) int {
		return cmp.Or(r.ledger.Seasons.Compare(a.season, b.season), cmp.Compare(a.month, b.month))
	})
	first := make([]day.Month, len(u.materials))
	for p, of := range r.book.Products {
		began, ok := u.began(p)
		if !ok {
			continue
		}
		u.made[p] = r.made(of)
		for _, x := range u.made[p].tracked {
			if u.materials[x.row] == nil {
				u.materials[x.row], first[x.row] = &used{of: x.Material}, began
			}
			first[x.row] = min(first[x.row], began)
		}
	}
	for i, m := range u.materials {
		if m != nil {
			r.describe(m, first[i])
		}
	}
	return u
}

// began is the first month in which a product had units.
func (u *usage) began(product int) (first day.Month, ok bool) {
	for _, at := range u.spells {
		if u.units[at][product].rows > 0 && (!ok || at.month < first) {
			first, ok = at.month, true
		}
	}
	return first, ok
}

func (r *run) made(p *book.Product) *made {
	of := r.engine.Of(p)
	m := &made{costs: r.engine.Costs(of)}
	var wax []*calc.Figure
	for _, x := range r.engine.Issued(of) {
		switch kind := x.Material.Kind; {
		case kind == book.Wax && x.Grams != nil:
			wax = append(wax, x.Grams)
		case (kind == book.Dye || kind == book.Fragrance) && x.Grams.Known():
			m.tracked = append(m.tracked, tracked{x, slices.Index(r.book.Materials, x.Material)})
		}
	}
	m.wax = calc.Add(wax...)
	return m
}

func (r *run) describe(m *used, from day.Month) {
	m.prices, m.density = r.engine.Prices(m.of, from), r.engine.DensityOf(m.of)
	if r.inDrops(m.of) {
		m.dropsPerGram = r.engine.DropsPerGram(m.of)
	}
	if len(m.of.Packs) > 0 {
		m.pack = calc.In(m.of.Packs[0].Size, "pack-size", m.of.Name.V)
	}
}

// inDrops reports whether any recipe gives a dye in drops.
func (r *run) inDrops(m *book.Material) bool {
	return m.Kind == book.Dye && slices.ContainsFunc(r.book.Recipes, func(x *book.Recipe) bool {
		return slices.ContainsFunc(x.Ingredients, func(i book.Ingredient) bool { return i.Material == m && i.Rate.Drops })
	})
}

// rows adds up the dye and fragrance that each season's units took, losses
// included, over everything up to the period's end.
func (u *usage) rows() []Use {
	out := []Use{}
	if u == nil {
		return out // what it rests on has failed
	}
	for first := 0; first < len(u.spells); {
		next := first + 1
		for next < len(u.spells) && u.spells[next].season == u.spells[first].season {
			next++
		}
		out = u.inSeason(out, u.spells[first:next])
		first = next
	}
	return out
}

// inSeason appends the rows of one season.
func (u *usage) inSeason(out []Use, spells []spell) []Use {
	all := make([][]taken, len(u.materials))
	for p, m := range u.made {
		if m == nil {
			continue
		}
		for _, x := range u.units.stints(spells, p, m.costs) {
			u.take(all, m, u.figure(&x, u.book.Products[p].Code.V), x.first.month)
		}
	}
	for i, t := range all {
		if len(t) == 0 {
			continue
		}
		if x := u.row(spells[0].season, u.materials[i], t); math.Abs(x.Grams.Or(1)) > 1e-9 {
			out = append(out, x)
		}
	}
	return out
}

// taken is what units took of a material: of each, in g and in its base unit at a
// price, and the wax beside it.
type taken struct{ units, grams, quantity, price, wax *calc.Figure }

// take adds what units took to a season's, by row of Materials.
func (u *usage) take(season [][]taken, m *made, units *calc.Figure, month day.Month) {
	for _, x := range m.tracked {
		season[x.row] = append(season[x.row], taken{units, x.Grams, x.Quantity, u.materials[x.row].price(month), m.wax})
	}
}

// sum adds up an amount of every term.
func sum(all []taken, of func(*taken) *calc.Figure) *calc.Figure {
	terms := make([]*calc.Figure, len(all))
	for i := range all {
		terms[i] = of(&all[i])
	}
	return calc.Add(terms...)
}

// price is the material's in a month, which is noted.
func (m *used) price(month day.Month) *calc.Figure {
	price := m.prices.In(month)
	if !slices.Contains(m.asked, price) {
		m.asked = append(m.asked, price)
	}
	return price
}

func (u *usage) row(s sales.Season, m *used, all []taken) Use {
	season, year := u.ledger.Seasons.Name(s), int(s.Year)
	x := Use{Season: season, SeasonYear: year, Material: m.of.Name.V, Kind: m.of.Kind, Of: m.of, taken: all}
	of := x.names()
	x.Grams = sum(all, func(t *taken) *calc.Figure { return calc.Mul(t.units, t.grams) }).Named("use.grams", of...)
	if m.density.Known() {
		x.ML = calc.Div(x.Grams, m.density).Named("use.ml", of...)
	}
	if m.dropsPerGram != nil {
		x.Drops = calc.Mul(x.Grams, m.dropsPerGram).Named("use.drops", of...)
	}
	x.Cost = sum(all, func(t *taken) *calc.Figure { return calc.Mul(t.units, t.quantity, t.price) }).Named("use.cost", of...)
	if m.pack != nil {
		inPack := x.Grams
		if m.of.Packs[0].Dim == unit.Volume {
			inPack = x.ML
		}
		x.Bottles = calc.Div(inPack, m.pack).Named("use.bottles", of...)
	}
	return x
}

// PerKilo is grams per 1,000 g of the wax of the same units.
func (x *Use) PerKilo() *calc.Figure {
	wax := sum(x.taken, func(t *taken) *calc.Figure { return calc.Mul(t.units, t.wax) })
	return calc.Div(calc.Mul(x.Grams, calc.Const(1000)), wax).Named("use.per-kilo", x.names()...)
}

// names are what tells the figures of a use apart.
func (x *Use) names() []string { return []string{x.Material, x.Season, yearText(x.SeasonYear)} }

// reported are figures with all inputs that the rows rest on.
func (u *usage) reported() []*calc.Figure {
	var out []*calc.Figure
	for _, m := range u.made {
		if m == nil {
			continue
		}
		for _, x := range m.tracked {
			out = append(out, x.Grams, x.Quantity)
		}
	}
	for _, m := range u.materials {
		if m != nil {
			out = append(append(out, m.density, m.dropsPerGram), m.asked...)
		}
	}
	return out
}
