package cost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
)

// spell is a month, or the part of it that lies in one season.
type spell struct {
	season sales.Season
	month  day.Month
}

// good are units of one product, and the rows that they are from.
type good struct {
	units money.Amount
	rows  int
}

func (g *good) add(units money.Amount) { g.units, g.rows = g.units.Add(units), g.rows+1 }

// goods are good units by row of Products.
type goods map[spell][]good

// in is the products' goods of a spell.
func (g goods) in(at spell, products []*book.Product) []good {
	if g[at] == nil {
		g[at] = make([]good, len(products))
	}
	return g[at]
}

// stint is a product's units in months of a season in which its cost does not
// change.
type stint struct {
	good
	first, last spell
}

// stints are a product's, of spells of one season in order.
func (g goods) stints(spells []spell, product int, costs *unitcost.Costs) []stint {
	var out []stint
	for _, at := range spells {
		x := g[at][product]
		if x.rows == 0 {
			continue
		}
		if n := len(out); n == 0 || costs.Since(out[n-1].last.month) != costs.Since(at.month) {
			out = append(out, stint{first: at})
		}
		s := &out[len(out)-1]
		s.units, s.rows, s.last = s.units.Add(x.units), s.rows+x.rows, at
	}
	return out
}

// goods are the units that use counts: made where the book has pours, else sold
// net of refunds.
func (r *run) goods() goods {
	if r.byPours() {
		return r.poured()
	}
	return r.soldUnits()
}

func (r *run) byPours() bool { return r.res.Basis.Use == "pours" }

// unitsFigure makes figures of goods.
func (r *run) unitsFigure() func(x *stint, product string) *calc.Figure {
	if r.byPours() {
		return r.pouredFigure
	}
	further := map[sales.Season]*sales.Further{}
	return func(x *stint, product string) *calc.Figure {
		of := x.first.season
		if further[of] == nil {
			further[of] = &sales.Further{More: []string{"season", r.seasonText(of)}}
		}
		s := scope{x.first.month.First(), min(x.last.month.Last(), r.period.To), further[of]}
		t := sales.Total{Units: x.units, Count: x.rows}
		return t.Figure(sales.Units, s.rows("product", product))
	}
}

func (r *run) soldUnits() goods {
	out, last := goods{}, day.None
	places, worths := r.book.Sales.Places(), r.ledger.Worths()
	var row []good
	for s := range r.ledger.All().Columns(book.Days | book.Places | book.Amounts) {
		for i, d := range s.Days {
			if d := day.Date(d); row == nil || d != last {
				row, last = out.in(spell{r.ledger.Seasons.Of(d), d.Month()}, r.book.Products), d
			}
			row[places[s.Places[i]].Product].add(worths[s.Amounts[i]].Units)
		}
	}
	return out
}

func (r *run) seasonText(s sales.Season) string {
	return r.ledger.Seasons.Name(s) + " " + yearText(int(s.Year))
}

func (r *run) poured() goods {
	out := goods{}
	for _, x := range r.book.Pours {
		if x.Day > r.period.To || !x.Units.OK() {
			continue
		}
		row := out.in(spell{r.ledger.Seasons.Of(x.Day), x.Day.Month()}, r.book.Products)
		row[slices.Index(r.book.Products, x.Product)].add(money.Float(x.Units.V))
	}
	return out
}

func (r *run) pouredFigure(x *stint, product string) *calc.Figure {
	from, to := x.first.month.First(), x.last.month.Last()
	where := sales.Where(from, to, "product", product, "season", r.seasonText(x.first.season))
	return calc.Sum(x.units.Float64(), string(book.TPours), x.rows, "units", where, "units.poured", product, from.String(), to.String())
}
