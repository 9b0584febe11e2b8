package unitcost

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/unit"
)

// Method is how a material's cost in a month follows from its purchases.
type Method string

// The methods.
const (
	Latest  Method = "latest"
	Average Method = "average"
	FIFO    Method = "fifo"
)

// Method is the setting's, else average where there are purchases, else latest.
func (e *Engine) Method() Method { return e.method }

func methodOf(b *book.Book) Method {
	switch m := Method(cell.Fold(b.Settings.Text(book.CostMethod).V)); m {
	case Latest, Average, FIFO:
		return m
	}
	if len(b.Purchases) > 0 {
		return Average
	}
	return Latest
}

// Price is what a base unit of a material costs in a month, in currency.
func (e *Engine) Price(m *book.Material, month day.Month) *calc.Figure {
	s := e.stuff(m)
	defer fault.In(m.Name.At, m.Name.V)
	switch since := e.priceChanges(s).since(month); {
	case since == always:
		return e.ownPrice(s)
	case e.Method() == Latest:
		return latest(s.buys, since.Last())
	default:
		return e.rollOf(s).at(since).cost
	}
}

// latest is the price of the last purchase up to a day.
func latest(buys []buy, to day.Date) *calc.Figure {
	n, _ := slices.BinarySearchFunc(buys, to+1, func(b buy, d day.Date) int { return cmp.Compare(b.day, d) })
	return buys[n-1].price
}

// ownPrice is the price per base unit of the Materials table: that of the
// cheapest pack size. A size that cannot be converted is left out, with a problem.
func (e *Engine) ownPrice(s *stuff) *calc.Figure {
	if s.own != nil {
		return s.own
	}
	var all []*calc.Figure
	for _, p := range s.mat.Packs {
		f := e.pack(s.mat, p)
		if p.Dim == s.mat.Dim || f.Known() {
			all = append(all, f)
		}
	}
	switch len(all) {
	case 0:
		s.own = calc.Unknown("material.own-price", s.mat.Name.V)
	case 1:
		s.own = all[0].Named("material.own-price", s.mat.Name.V)
	default:
		s.own = calc.Min(all...).Named("material.own-price", s.mat.Name.V)
	}
	return s.own
}

// GramPrice is what a gram of a material costs in a month, in currency; density
// converts what is counted by volume.
func (e *Engine) GramPrice(m *book.Material, month day.Month) *calc.Figure {
	return calc.Mul(e.convert(calc.Const(1), unit.Mass, m, stake{}), e.Price(m, month))
}
