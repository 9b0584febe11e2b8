package costdoc

import (
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/cost"
	"pourbook/compute/sales"
	"pourbook/report/show"
)

// shelf is where a candle is sold: a channel with what it takes. The nil shelf
// is a sale without a channel, at list price and without fees.
type shelf struct {
	channel *book.Channel
	fee     *calc.Figure // fraction of the price
	fixed   *calc.Figure // per unit: cost per unit, and fee per order / units per order
	off     *calc.Figure // wholesale discount
}

const shelvesShown = 6

// shelves are the channels of the book with a price to show, wholesale last.
func (m *maker) shelves() []*shelf {
	var out []*shelf
	for _, whole := range []bool{false, true} {
		for _, c := range m.b.Channels {
			if c.Listed && c.Wholesale == whole {
				out = append(out, m.shelf(c))
			}
		}
	}
	return out[:min(len(out), shelvesShown)]
}

func (m *maker) shelf(c *book.Channel) *shelf {
	s := &shelf{channel: c, fee: calc.Zero, off: m.setting(book.WholesaleDisc)}
	if c.Fee.State != cell.Blank {
		s.fee = calc.In(c.Fee, "fee-share", c.Name.V)
	}
	s.fixed = amount(c.PerUnit, "cost-per-unit", c.Name.V)
	if order := amount(c.PerOrder, "fee-per-order", c.Name.V); order != calc.Zero {
		s.fixed = calc.Add(s.fixed, calc.Div(order, m.unitsPerOrder(c)))
	}
	return s
}

// amount is an amount of money of the book; blank is none.
func amount(a book.Money, key, of string) *calc.Figure {
	if a.State == cell.Blank {
		return calc.Zero
	}
	return calc.In(cell.Num{V: a.V.Float64(), Raw: a.Raw, At: a.At, State: a.State}, key, of)
}

// mainChannel is the channel that sold most in the period, of those that are
// not wholesale; else the first of the book; nil when there is none.
func (m *maker) mainChannel() *shelf {
	best, most := -1, 0.0
	for i, c := range m.b.Channels {
		if !c.Listed || c.Wholesale {
			continue
		}
		at := slices.IndexFunc(m.r.Channels, func(x cost.Channel) bool { return cell.Fold(x.Channel) == cell.Fold(c.Name.V) })
		net := 0.0
		if at >= 0 {
			net = m.r.Channels[at].NetSales.Or(0)
		}
		if best < 0 || net > most {
			best, most = i, net
		}
	}
	if best < 0 {
		return nil
	}
	return m.shelf(m.b.Channels[best])
}

func (s *shelf) where() string {
	if s == nil {
		return text("cost.unit.before-fees")
	}
	return text("cost.unit.on", "channel", brief(s.channel.Name.V))
}

// price is what the shelf asks for a product: list price, or the wholesale price.
func (s *shelf) price(p *cost.Product) *calc.Figure {
	if s == nil || !s.channel.Wholesale {
		return positive(p.ListPrice)
	}
	if p.Of != nil && p.Of.Wholesale.State != cell.Blank {
		return positive(amount(p.Of.Wholesale, "wholesale-price", p.Product))
	}
	return positive(calc.Mul(p.ListPrice, calc.Sub(calc.Const(1), s.off)))
}

func positive(f *calc.Figure) *calc.Figure {
	if f.Or(0) <= 0 {
		return nil
	}
	return f
}

// margin is what is left of the price after cost and fees, as a share of it.
func (s *shelf) margin(p *cost.Product) *calc.Figure {
	price := s.price(p)
	left := calc.Sub(price, total(p))
	if s != nil {
		left = calc.Sub(left, calc.Add(calc.Mul(s.fee, price), s.fixed))
	}
	return calc.Div(left, price)
}

// below reports whether a margin falls short of the target, or on a wholesale
// shelf of the wholesale floor.
func (m *maker) below(margin *calc.Figure, s *shelf) bool {
	least := m.setting(book.TargetMargin)
	if s != nil && s.channel.Wholesale {
		least = m.setting(book.WholesaleFloor)
	}
	v, ok := margin.Value()
	return ok && least.Known() && v < least.Or(0)-1e-9
}

// unitsPerOrder is what a fee per order is shared among, from the sales up to
// the period's end.
func (m *maker) unitsPerOrder(c *book.Channel) *calc.Figure {
	if m.ledger == nil {
		m.ledger = sales.New(m.b, m.r.Period.To)
	}
	return m.ledger.UnitsPerOrder(c)
}

// priceTable is price and margin per channel at the prices of the book.
func (m *maker) priceTable(groups []*pair) Table {
	shelves := m.shelves()
	t := Table{Title: text("cost.unit.prices"), Aside: text("cost.unit.prices.aside", "target", show.Percent(m.setting(book.TargetMargin), 0))}
	t.Columns = []Column{
		{Title: text("cost.unit.col.product"), Kind: Name},
		{Title: "", Kind: Text},
		{Title: text("cost.unit.col.cost"), Kind: Number},
		{Title: text("cost.unit.col.list"), Kind: Number},
	}
	if len(shelves) == 0 {
		shelves = []*shelf{nil}
	}
	for _, s := range shelves {
		if s != nil && s.channel.Wholesale {
			t.Columns = append(t.Columns, Column{Title: text("cost.unit.col.whole", "channel", s.channel.Name.V), Kind: Number})
		}
		t.Columns = append(t.Columns, Column{Title: s.head(), Kind: Number})
	}
	for _, g := range groups {
		for i, p := range g.products {
			t.Rows = append(t.Rows, m.priceRow(g, i, p, shelves))
		}
	}
	return t
}

func (s *shelf) head() string {
	if s == nil {
		return text("cost.unit.col.margin")
	}
	return text("cost.unit.col.on", "channel", s.channel.Name.V)
}

func (m *maker) priceRow(g *pair, i int, p *cost.Product, shelves []*shelf) Row {
	row := Row{Group: i == 0, Cells: []Cell{
		{},
		{Text: finish(p.Finish)},
		{Text: m.money.Number(total(p))},
		{Text: m.money.Number(p.ListPrice)},
	}}
	if i == 0 {
		row.Cells[0] = Cell{Text: text("cost.in-jar", "recipe", g.recipe, "jar", g.jar)}
	}
	for _, s := range shelves {
		if s != nil && s.channel.Wholesale {
			row.Cells = append(row.Cells, Cell{Text: m.money.Number(s.price(p))})
		}
		margin := s.margin(p)
		row.Cells = append(row.Cells, Cell{Text: show.Percent(margin, 1), Alarm: m.below(margin, s)})
	}
	return row
}

// Margins are the margins of natural and colored against the target.
type Margins struct {
	Title, Aside             string
	Natural, Colored, Target string // labels
	TargetValue              float64
	Rows                     []MarginRow
}

// MarginRow is a recipe and jar; NaN where there is no such product or no margin.
type MarginRow struct {
	Label, Sub       string
	Natural, Colored float64
}

func (m *maker) margins(groups []*pair, main *shelf) *Margins {
	target := m.setting(book.TargetMargin)
	out := &Margins{
		Title: text("cost.unit.margins"), Aside: text("cost.unit.margins.aside", "where", main.where()),
		Natural: finish(book.Natural), Colored: finish(book.Colored),
		Target: text("cost.unit.target", "target", show.Percent(target, 0)), TargetValue: nan(target),
	}
	for _, g := range groups {
		row := MarginRow{Label: g.recipe, Sub: g.jar, Natural: nan(nil), Colored: nan(nil)}
		for _, p := range g.products {
			switch v, ok := main.margin(p).Value(); {
			case !ok:
			case p.Finish == book.Natural:
				row.Natural = v
			default:
				row.Colored = v
			}
		}
		if !math.IsNaN(row.Natural) || !math.IsNaN(row.Colored) {
			out.Rows = append(out.Rows, row)
		}
	}
	if len(out.Rows) == 0 {
		return nil
	}
	return out
}
