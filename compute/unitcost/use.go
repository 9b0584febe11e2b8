package unitcost

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
)

// span is a stretch of days of a product, both ends included.
type span struct {
	product  *book.Product
	from, to day.Date
}

// user is a product that takes a material, and how much per good unit.
type user struct {
	product *book.Product
	issued  *calc.Figure
}

// poured is the good units made, by product, in order of days.
type poured struct {
	rows map[*book.Product][]book.Pour
}

func newPoured(pours []book.Pour) *poured {
	p := &poured{rows: map[*book.Product][]book.Pour{}}
	for _, x := range pours {
		if x.Units.OK() {
			p.rows[x.Product] = append(p.rows[x.Product], x)
		}
	}
	for _, rows := range p.rows {
		slices.SortStableFunc(rows, func(a, b book.Pour) int { return cmp.Compare(a.Day, b.Day) })
	}
	return p
}

func (p *poured) units(of *book.Product, from, to day.Date) *calc.Figure {
	rows := p.rows[of]
	first, _ := slices.BinarySearchFunc(rows, from, func(x book.Pour, d day.Date) int { return cmp.Compare(x.Day, d) })
	sum, n := 0.0, 0
	for _, x := range rows[first:] {
		if x.Day > to {
			break
		}
		sum += x.Units.V
		n++
	}
	where := []calc.Cond{{Field: "product", Value: of.Code.V}, {Field: "from", Value: from.String()}, {Field: "to", Value: to.String()}}
	return calc.Sum(sum, string(book.TPours), n, "units", where, "units.poured", of.Code.V, from.String(), to.String())
}

// Basis is what the use of materials rests on: "pours" or "sales".
func (e *Engine) Basis() string {
	if e.made != nil {
		return "pours"
	}
	return "sales"
}

// Units is the good units of a product over a span of days that the use of
// materials counts: made where the book has pours, else sold net of refunds.
func (e *Engine) Units(p *book.Product, from, to day.Date) *calc.Figure {
	to = min(to, e.upTo)
	k := span{p, from, to}
	f, ok := e.units[k]
	if ok {
		return f
	}
	switch {
	case from > to, e.made == nil && e.sold == nil:
		f = calc.Zero
	case e.made != nil:
		f = e.made.units(p, from, to)
	default:
		f = e.sold.Units(p, from, to)
	}
	e.units[k] = f
	return f
}

// Use is the theoretical use of a material over a span of days, in the base
// unit of its own dimension; refunds are negative use. A product whose own use
// cannot be computed stays out.
func (e *Engine) Use(m *book.Material, from, to day.Date) *calc.Figure {
	if e.users == nil {
		e.users = e.findUsers()
	}
	var sum []*calc.Figure
	for _, u := range e.users[m] {
		units := e.Units(u.product, from, to)
		if v, ok := units.Value(); ok && v != 0 {
			sum = append(sum, calc.Mul(units, u.issued))
		}
	}
	return calc.Add(sum...)
}

func (e *Engine) findUsers() map[*book.Material][]user {
	out := map[*book.Material][]user{}
	for _, p := range e.Book.Products {
		for _, i := range e.Issued(e.Of(p)) {
			if i.Quantity.Known() {
				out[i.Material] = append(out[i.Material], user{p, i.Quantity})
			}
		}
	}
	return out
}
