package cost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
)

// Shelf is a place of sale: what each product is asked for there, and what is
// left of it. Without a channel it is a sale at list price and without fees.
type Shelf struct {
	Channel *book.Channel
	// Least is the margin from which on a product does: the target, or on a
	// wholesale channel the wholesale floor.
	Least  *calc.Figure
	Prices []ShelfPrice // of Result.Products, in their order
}

// ShelfPrice is a price of the book, and what is left of it after cost and fees
// as a share of it. Both are nil for a product that has no price there.
type ShelfPrice struct{ Price, Margin *calc.Figure }

// Below reports whether a product's margin falls short of the least.
func (s *Shelf) Below(product int) bool {
	v, ok := s.Prices[product].Margin.Value()
	return ok && s.Least.Known() && v < s.Least.Or(0)-1e-9
}

// Wholesale reports whether the wholesale price is asked for.
func (s *Shelf) Wholesale() bool { return s != nil && s.Channel != nil && s.Channel.Wholesale }

// BeforeFees is the shelf without a channel.
func BeforeFees(products []Product, least *calc.Figure) *Shelf {
	s := &Shelf{Least: least}
	for i := range products {
		p := &products[i]
		x := ShelfPrice{Price: positive(p.ListPrice)}
		x.Margin = calc.Div(calc.Sub(x.Price, p.total()), x.Price).Named("margin-before-fees", p.Product)
		s.Prices = append(s.Prices, x)
	}
	return s
}

// shelves are the channels of the book, wholesale last; Main is the one that
// sold most in the period of those that are not wholesale.
func (r *run) shelves() {
	most := 0.0
	for _, whole := range []bool{false, true} {
		for _, c := range r.book.Channels {
			if !c.Listed || c.Wholesale != whole {
				continue
			}
			s := r.shelf(c)
			r.res.Shelves = append(r.res.Shelves, s)
			if net := r.soldOn(c); !whole && (r.res.Main == nil || net > most) {
				r.res.Main, most = s, net
			}
		}
	}
	if r.res.Main == nil {
		r.res.Main = BeforeFees(r.res.Products, r.engine.Setting(book.TargetMargin))
	}
}

// soldOn is a channel's net sales of the period.
func (r *run) soldOn(c *book.Channel) float64 {
	i := slices.IndexFunc(r.res.Channels, func(x Channel) bool { return cell.Fold(x.Channel) == cell.Fold(c.Name.V) })
	if i < 0 {
		return 0
	}
	return r.res.Channels[i].NetSales.Or(0)
}

func (r *run) shelf(c *book.Channel) *Shelf {
	s := &Shelf{Channel: c, Least: r.engine.Setting(book.TargetMargin)}
	if c.Wholesale {
		s.Least = r.engine.Setting(book.WholesaleFloor)
	}
	share := calc.Zero
	if c.Fee.State != cell.Blank {
		share = calc.In(c.Fee, "fee-share", c.Name.V)
	}
	fixed := charge(c.PerUnit, "cost-per-unit", c.Name.V)
	if order := charge(c.PerOrder, "fee-per-order", c.Name.V); order != calc.Zero {
		fixed = calc.Add(fixed, calc.Div(order, r.ledger.UnitsPerOrder(c)))
	}
	fixed = fixed.Named("fixed-fees", c.Name.V)
	for i := range r.res.Products {
		p := &r.res.Products[i]
		x := ShelfPrice{Price: positive(r.asked(p, c))}
		left := calc.Sub(calc.Sub(x.Price, p.total()), calc.Add(calc.Mul(share, x.Price), fixed))
		x.Margin = calc.Div(left, x.Price).Named("margin-after-fees", p.Product, c.Name.V)
		s.Prices = append(s.Prices, x)
	}
	return s
}

// asked is what a channel asks for a product: the list price, or on a wholesale
// channel the product's own wholesale price or the list price less the discount.
func (r *run) asked(p *Product, c *book.Channel) *calc.Figure {
	switch {
	case !c.Wholesale:
		return p.ListPrice
	case p.Of.Wholesale.State != cell.Blank:
		return amount(p.Of.Wholesale, "wholesale-price", p.Product)
	}
	return calc.Mul(p.ListPrice, calc.Sub(calc.Const(1), r.engine.Setting(book.WholesaleDisc))).Named("wholesale-price", p.Product)
}

// total is a product's unit cost.
func (p *Product) total() *calc.Figure {
	if p.UnitCost == nil {
		return nil
	}
	return p.UnitCost.Total
}

// charge is an amount of money of a channel; blank is none.
func charge(m book.Money, key, of string) *calc.Figure {
	if m.State == cell.Blank {
		return calc.Zero
	}
	return amount(m, key, of)
}

func positive(f *calc.Figure) *calc.Figure {
	if f.Or(0) <= 0 {
		return nil
	}
	return f
}
