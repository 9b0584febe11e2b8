package cost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/sales"
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

// seasonUnits are the units that use counts, and how they are figures: made
// where the book has pours, else sold net of refunds.
func (r *run) seasonUnits() (all goods, figure func(at spell, product int, g *good) *calc.Figure) {
	if r.engine.Basis() == "pours" {
		return r.poured(), r.pouredFigure
	}
	further := map[sales.Season]*sales.Further{}
	return r.soldUnits(), func(at spell, product int, g *good) *calc.Figure {
		if further[at.season] == nil {
			further[at.season] = &sales.Further{More: []string{"season", r.seasonText(at.season)}}
		}
		s := scope{at.month.First(), min(at.month.Last(), r.period.To), further[at.season]}
		t := sales.Total{Units: g.units, Count: g.rows}
		return t.Figure(sales.Units, s.rows("product", r.book.Products[product].Code.V))
	}
}

func (r *run) soldUnits() goods {
	out := goods{}
	var row []good
	var of spell
	for x := range r.ledger.All().Each {
		if row == nil || of.month != x.Month || of.season != x.Season {
			of = spell{x.Season, x.Month}
			row = out.in(of, r.book.Products)
		}
		row[x.Product].add(x.Units)
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

func (r *run) pouredFigure(at spell, product int, g *good) *calc.Figure {
	code, from, to := r.book.Products[product].Code.V, at.month.First(), at.month.Last()
	where := sales.Where(from, to, "product", code, "season", r.seasonText(at.season))
	return calc.Sum(g.units.Float64(), string(book.TPours), g.rows, "units", where, "units.poured", code, from.String(), to.String())
}
