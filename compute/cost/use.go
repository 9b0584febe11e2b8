package cost

import (
	"cmp"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// batchKey is a product's good units of one season and month.
type batchKey struct {
	product int32 // row of Products
	season  sales.Season
	month   day.Month
}

// use adds up the dye and fragrance that each season's units took, losses
// included, over everything up to the period's end. A product whose own use cannot
// be computed stays out; a problem says so where its cost is missing.
func (r *run) use() {
	units := r.seasonUnits()
	keys := make([]batchKey, 0, len(units))
	for k := range units {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, r.compareBatches)
	type row struct {
		season   sales.Season
		material *book.Material
	}
	parts := map[row]*taken{}
	all := make([]*made, len(r.book.Products))
	for _, k := range keys {
		if all[k.product] == nil {
			all[k.product] = r.made(r.book.Products[k.product])
		}
		m := all[k.product]
		wax := calc.Mul(units[k], m.wax)
		for _, i := range m.issued {
			if i.Material.Kind != book.Dye && i.Material.Kind != book.Fragrance || !i.Grams.Known() {
				continue
			}
			at := row{k.season, i.Material}
			if parts[at] == nil {
				parts[at] = &taken{}
			}
			parts[at].add(units[k], i, r.engine.Price(i.Material, k.month), wax)
		}
	}
	rows := make([]row, 0, len(parts))
	for at := range parts {
		rows = append(rows, at)
	}
	slices.SortFunc(rows, func(a, b row) int {
		return cmp.Or(r.ledger.Seasons.Compare(a.season, b.season), r.materialRow(a.material)-r.materialRow(b.material))
	})
	for _, at := range rows {
		if u := r.useRow(at.season, at.material, parts[at]); math.Abs(u.Grams.Or(1)) > 1e-9 {
			r.res.Use = append(r.res.Use, u)
		}
	}
}

func (r *run) materialRow(m *book.Material) int { return slices.Index(r.book.Materials, m) }

func (r *run) compareBatches(a, b batchKey) int {
	return cmp.Or(r.ledger.Seasons.Compare(a.season, b.season), cmp.Compare(a.month, b.month), cmp.Compare(a.product, b.product))
}

// made is what one good unit of a product takes, losses included.
type made struct {
	issued []unitcost.Issue
	wax    *calc.Figure
}

func (r *run) made(p *book.Product) *made {
	m := &made{issued: r.engine.Issued(r.engine.Of(p))}
	var wax []*calc.Figure
	for _, x := range m.issued {
		if x.Material.Kind == book.Wax && x.Grams != nil {
			wax = append(wax, x.Grams)
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

func (r *run) useRow(s sales.Season, m *book.Material, t *taken) Use {
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

// seasonUnits are the units that use counts, by product, season and month:
// made where the book has pours, else sold net of refunds.
func (r *run) seasonUnits() map[batchKey]*calc.Figure {
	out := map[batchKey]*calc.Figure{}
	if r.engine.Basis() == "pours" {
		r.poured(out)
		return out
	}
	for k, t := range r.soldUnits() {
		s := scope{from: k.month.First(), to: min(k.month.Last(), r.period.To), more: []string{"season", r.seasonText(k.season)}}
		out[k] = t.Figure(sales.Units, s.rows("product", r.book.Products[k.product].Code.V))
	}
	return out
}

// soldUnits adds up the units of the sales; other sums of the totals are 0.
func (r *run) soldUnits() map[batchKey]*sales.Total {
	sums := map[batchKey]*sales.Total{}
	var row []*sales.Total // by row of Products, of the month and season in hand
	var of batchKey
	for x := range r.ledger.All().Each {
		if row == nil || of.month != x.Month || of.season != x.Season {
			row, of = make([]*sales.Total, len(r.book.Products)), batchKey{season: x.Season, month: x.Month}
		}
		t := row[x.Product]
		if t == nil {
			k := batchKey{x.Product, x.Season, x.Month}
			if t = sums[k]; t == nil {
				t = &sales.Total{}
				sums[k] = t
			}
			row[x.Product] = t
		}
		t.AddUnits(x)
	}
	return sums
}

func (r *run) seasonText(s sales.Season) string {
	return r.ledger.Seasons.Name(s) + " " + yearText(int(s.Year))
}

func (r *run) poured(out map[batchKey]*calc.Figure) {
	type sum struct {
		units money.Amount
		n     int
	}
	sums := map[batchKey]sum{}
	for _, x := range r.book.Pours {
		if x.Day > r.period.To || !x.Units.OK() {
			continue
		}
		k := batchKey{int32(slices.Index(r.book.Products, x.Product)), r.ledger.Seasons.Of(x.Day), x.Day.Month()}
		s := sums[k]
		sums[k] = sum{s.units.Add(money.Float(x.Units.V)), s.n + 1}
	}
	for k, s := range sums {
		code := r.book.Products[k.product].Code.V
		where := sales.Where(k.month.First(), k.month.Last(), "product", code, "season", r.seasonText(k.season))
		out[k] = calc.Sum(s.units.Float64(), string(book.TPours), s.n, "units", where, "units.poured",
			code, k.month.First().String(), k.month.Last().String())
	}
}
