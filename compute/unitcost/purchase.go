package unitcost

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
)

// buy is a purchase in the material's own dimension.
type buy struct {
	day    day.Date
	qty    *calc.Figure // base units
	landed *calc.Figure // amount paid + freight, in currency
	price  *calc.Figure // landed per base unit
}

// tally is a stock count in the material's own dimension, taken at the end of
// its day.
type tally struct {
	day day.Date
	qty *calc.Figure
}

// sortRows gives every material its purchases and counts in order of days,
// rows of one day as they stand. A row whose quantity cannot be had in the
// material's own dimension is left out, with a problem.
func (e *Engine) sortRows() {
	for _, p := range e.Book.Purchases {
		if p.Day <= e.upTo {
			e.addBuy(p)
		}
	}
	for _, c := range e.Book.Counts {
		if c.Day <= e.upTo && c.Material != nil {
			s := e.stuff(c.Material)
			q := e.in(c.Qty, "material.count", c.Material.Name.V, c.Day.String())
			if q = e.convert(q, c.Dim, c.Material, stake{at: place(c.Qty.At, c.At)}); q.Known() {
				s.counts = append(s.counts, tally{c.Day, q})
			}
		}
	}
	for _, s := range e.materials {
		slices.SortStableFunc(s.buys, func(a, b buy) int { return cmp.Compare(a.day, b.day) })
		slices.SortStableFunc(s.counts, func(a, b tally) int { return cmp.Compare(a.day, b.day) })
	}
}

func (e *Engine) addBuy(p book.Purchase) {
	defer fault.In(p.At, string(book.TPurchases))
	name, on := p.Material.Name.V, p.Day.String()
	if p.Qty.OK() && p.Qty.V <= 0 {
		e.raise(problem.Problem{
			Severity: problem.Error, Code: problem.BadNumber, Say: "purchase-quantity", At: place(p.Qty.At, p.At),
			Args: []any{"material", name}, Amount: p.Paid.V.Float64(), HasAmount: p.Paid.OK(),
		}, "")
		return
	}
	q := e.in(p.Qty, "material.bought", name, on)
	if q = e.convert(q, p.Dim, p.Material, stake{place(p.Qty.At, p.At), p.Paid.V.Float64()}); !q.Known() {
		return
	}
	landed := e.in(number(p.Paid), "material.paid", name, on)
	if p.Freight.State != cell.Blank {
		landed = calc.Add(landed, e.in(number(p.Freight), "material.freight", name, on))
	}
	s := e.stuff(p.Material)
	s.buys = append(s.buys, buy{p.Day, q, landed, calc.Div(landed, q).Named("material.landed-price", name, on)})
}

// pack is the price per base unit of a pack size of the Materials table.
func (e *Engine) pack(m *book.Material, p book.Pack) *calc.Figure {
	name := m.Name.V
	size := e.convert(e.in(p.Size, "material.pack-size", name), p.Dim, m, stake{at: place(p.Size.At, p.At)})
	landed := e.in(number(p.Price), "material.pack-price", name)
	if p.Freight.State != cell.Blank {
		landed = calc.Add(landed, e.in(number(p.Freight), "material.pack-freight", name))
	}
	return calc.Div(landed, size)
}
