package costdoc

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

const shelvesShown = 6

// shelves are the channels that there is room for; without any, sales before fees.
func (m *maker) shelves() []*cost.Shelf {
	if len(m.r.Shelves) == 0 {
		return []*cost.Shelf{m.r.Main}
	}
	return m.r.Shelves[:min(len(m.r.Shelves), shelvesShown)]
}

func where(s *cost.Shelf) string {
	if s == nil || s.Channel == nil {
		return text("cost.unit.before-fees")
	}
	return text("cost.unit.on", "channel", brief(s.Channel.Name.V))
}

// on is what a shelf asks for a product, what is left of it, and whether that
// is too little.
func (m *maker) on(s *cost.Shelf, p *cost.Product) (x cost.ShelfPrice, below bool) {
	i, ok := m.index[p]
	if s == nil || !ok || i >= len(s.Prices) {
		return cost.ShelfPrice{}, false
	}
	return s.Prices[i], s.Below(i)
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
	for _, s := range shelves {
		if s.Wholesale() {
			t.Columns = append(t.Columns, Column{Title: text("cost.unit.col.whole", "channel", s.Channel.Name.V), Kind: Number})
		}
		t.Columns = append(t.Columns, Column{Title: marginHead(s), Kind: Number})
	}
	for _, g := range groups {
		for i, p := range g.products {
			t.Rows = append(t.Rows, m.priceRow(g, i, p, shelves))
		}
	}
	return t
}

func marginHead(s *cost.Shelf) string {
	if s == nil || s.Channel == nil {
		return text("cost.unit.col.margin")
	}
	return text("cost.unit.col.on", "channel", s.Channel.Name.V)
}

func (m *maker) priceRow(g *pair, i int, p *cost.Product, shelves []*cost.Shelf) Row {
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
		x, below := m.on(s, p)
		if s.Wholesale() {
			row.Cells = append(row.Cells, Cell{Text: m.money.Number(x.Price)})
		}
		row.Cells = append(row.Cells, Cell{Text: show.Percent(x.Margin, 1), Alarm: below})
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

func (m *maker) margins(groups []*pair) *Margins {
	target := m.setting(book.TargetMargin)
	out := &Margins{
		Title: text("cost.unit.margins"), Aside: text("cost.unit.margins.aside", "where", where(m.r.Main)),
		Natural: finish(book.Natural), Colored: finish(book.Colored),
		Target: text("cost.unit.target", "target", show.Percent(target, 0)), TargetValue: nan(target),
	}
	for _, g := range groups {
		row := MarginRow{Label: g.recipe, Sub: g.jar, Natural: nan(nil), Colored: nan(nil)}
		for _, p := range g.products {
			x, _ := m.on(m.r.Main, p)
			switch v, ok := x.Margin.Value(); {
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
