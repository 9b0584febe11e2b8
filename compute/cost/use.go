package cost

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// use adds up the dye and fragrance that each season's units took, losses
// included, over everything up to the period's end. A product whose own use cannot
// be computed stays out; a problem says so where its cost is missing.
func (r *run) use() {
	all, figure := r.seasonUnits()
	units := make([]*made, len(r.book.Products))
	season := make([]taken, len(r.book.Materials))
	spells := slices.SortedFunc(maps.Keys(all), func(a, b spell) int {
		return cmp.Or(r.ledger.Seasons.Compare(a.season, b.season), cmp.Compare(a.month, b.month))
	})
	for first := 0; first < len(spells); {
		s := spells[first].season
		next := first + 1
		for next < len(spells) && spells[next].season == s {
			next++
		}
		for p, of := range r.book.Products {
			if units[p] == nil {
				units[p] = r.made(of)
			}
			u := units[p]
			for _, x := range all.stints(spells[first:next], p, u.costs) {
				u.take(season, figure(&x, of.Code.V), func(m *book.Material) *calc.Figure { return r.engine.Price(m, x.first.month) })
			}
		}
		r.seasonUse(s, season)
		clear(season)
		first = next
	}
}

// seasonUse are the rows of a season, by row of Materials.
func (r *run) seasonUse(s sales.Season, all []taken) {
	for i, t := range all {
		if len(t.grams) == 0 {
			continue
		}
		if u := r.useRow(s, r.book.Materials[i], t); math.Abs(u.Grams.Or(1)) > 1e-9 {
			r.res.Use = append(r.res.Use, u)
		}
	}
}

// made is what one good unit of a product takes, losses included.
type made struct {
	tracked []tracked
	wax     *calc.Figure
	costs   *unitcost.Costs
}

// take adds what units took to a season's, by row of Materials.
func (m *made) take(season []taken, units *calc.Figure, price func(*book.Material) *calc.Figure) {
	wax := calc.Mul(units, m.wax)
	for _, x := range m.tracked {
		season[x.row].add(units, x.Issue, price(x.Material), wax)
	}
}

// tracked is a dye or fragrance of a known weight, of a row of Materials.
type tracked struct {
	unitcost.Issue
	row int
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

// taken collects the terms of a material's use.
type taken struct{ grams, cost, wax []*calc.Figure }

func (t *taken) add(units *calc.Figure, i unitcost.Issue, price, wax *calc.Figure) {
	t.grams = append(t.grams, calc.Mul(units, i.Grams))
	t.cost = append(t.cost, calc.Mul(units, i.Quantity, price))
	t.wax = append(t.wax, wax)
}

func (r *run) useRow(s sales.Season, m *book.Material, t taken) Use {
	season, year := r.ledger.Seasons.Name(s), int(s.Year)
	of := []string{m.Name.V, season, yearText(year)}
	u := Use{Season: season, SeasonYear: year, Material: m.Name.V, Kind: m.Kind, Of: m}
	u.Grams = calc.Add(t.grams...).Named("use.grams", of...)
	if d := r.engine.DensityOf(m); d.Known() {
		u.ML = calc.Div(u.Grams, d).Named("use.ml", of...)
	}
	if r.inDrops(m) {
		u.Drops = calc.Mul(u.Grams, r.engine.DropsPerGram(m)).Named("use.drops", of...)
	}
	u.Cost = calc.Add(t.cost...).Named("use.cost", of...)
	u.PerKilo = calc.Div(calc.Mul(u.Grams, calc.Const(1000)), calc.Add(t.wax...)).Named("use.per-kilo", of...)
	u.Bottles = r.bottles(u, of)
	return u
}

// bottles is the use in packs of the material's first size.
func (r *run) bottles(u Use, of []string) *calc.Figure {
	if len(u.Of.Packs) == 0 {
		return nil
	}
	p := u.Of.Packs[0]
	size, used := calc.In(p.Size, "pack-size", u.Material), u.Grams
	if p.Dim.String() == "mL" {
		used = u.ML
	}
	return calc.Div(used, size).Named("use.bottles", of...)
}

// inDrops reports whether any recipe gives a dye in drops.
func (r *run) inDrops(m *book.Material) bool {
	return m.Kind == book.Dye && slices.ContainsFunc(r.book.Recipes, func(x *book.Recipe) bool {
		return slices.ContainsFunc(x.Ingredients, func(i book.Ingredient) bool { return i.Material == m && i.Rate.Drops })
	})
}
