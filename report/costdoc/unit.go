package costdoc

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// Costs is the cost per unit of every product.
type Costs struct {
	Head
	BarsTitle, BarsAside string
	Parts                []string // names of the parts, in the order of Bar.Values
	Heads                []string // of Bar.Cells
	Bars                 []Bar
	Table                Table
	Prices               Table
	Margins              *Margins
	Missing              string // which products have no cost
}

// Bar is a product's cost. Label names the recipe, or on the second bar of a
// recipe and jar the jar.
type Bar struct {
	Label  string
	Strong bool
	Group  bool
	Finish string
	Swatch *Swatch
	Values []float64
	Cells  []Cell
}

// pair is the products of a recipe and jar, natural first.
type pair struct {
	recipe, jar string
	products    []*cost.Product
}

// shown are the products that are active or were sold in the period.
func (m *maker) shown() []*cost.Product {
	var out []*cost.Product
	for i := range m.r.Products {
		p := &m.r.Products[i]
		if p.Of == nil || p.Of.Active.V || p.Units.Or(0) != 0 || p.NetSales.Or(0) != 0 {
			out = append(out, p)
		}
	}
	return out
}

// pairs groups products by recipe and jar, in the order of the book.
func pairs(products []*cost.Product) []*pair {
	var out []*pair
	at := map[[2]string]*pair{}
	for _, f := range []book.Finish{book.Natural, book.Colored} {
		for _, p := range products {
			key := [2]string{p.Recipe, p.Jar}
			if at[key] == nil {
				at[key] = &pair{recipe: p.Recipe, jar: p.Jar}
			}
			if p.Finish == f {
				at[key].products = append(at[key].products, p)
			}
		}
	}
	seen := map[*pair]bool{}
	for _, p := range products {
		if q := at[[2]string{p.Recipe, p.Jar}]; !seen[q] {
			seen[q] = true
			out = append(out, q)
		}
	}
	return out
}

func (m *maker) costs() *Costs {
	products := m.shown()
	groups := pairs(products)
	c := &Costs{Parts: PartNames(), BarsTitle: text("cost.unit.bars"), BarsAside: text("cost.unit.bars.aside.price", "currency", m.money.Code, "where", where(m.r.Main))}
	c.Heads = []string{text("cost.unit.col.cost"), text("cost.unit.col.price"), text("cost.unit.col.margin")}
	for _, g := range groups {
		c.Bars = append(c.Bars, m.bars(g)...)
	}
	c.Table = m.partTable(groups)
	c.Prices = m.priceTable(groups)
	c.Margins = m.margins(groups)
	c.Missing = m.costless(products)
	c.Head = Head{
		Title: text("cost.unit.title"), Subtitle: text("cost.unit.subtitle", "n", len(products), "month", m.costMonth()),
		Facts:   m.facts(Fact{text("cost.fact.target"), show.Percent(m.setting(book.TargetMargin), 0)}, Fact{text("cost.fact.labor"), m.laborRate()}),
		Finding: m.costFinding(products),
	}
	return c
}

func (m *maker) costMonth() string { return show.Month(m.r.Period.To.Month()) }

func (m *maker) laborRate() string {
	return text("cost.fact.labor.is", "amount", m.money.Amount(m.setting(book.LaborRate)))
}

// bars are the bars of a recipe and jar; a single one has the jar below it.
func (m *maker) bars(g *pair) []Bar {
	var out []Bar
	for i, p := range g.products {
		b := Bar{Label: g.recipe, Strong: true, Group: true, Finish: finish(p.Finish), Swatch: swatch(p), Cells: m.barCells(p)}
		switch {
		case i == 1:
			b.Label, b.Strong, b.Group = g.jar, false, false
		case i > 1:
			b.Label, b.Strong, b.Group = title(p), false, false
		}
		if p.UnitCost != nil {
			b.Values = m.roundedParts(p)
		}
		out = append(out, b)
	}
	if len(out) == 1 {
		out = append(out, Bar{Label: g.jar})
	}
	return out
}

func swatch(p *cost.Product) *Swatch {
	s := &Swatch{Natural: p.Finish == book.Natural, Name: p.Recipe}
	if p.Of != nil && p.Of.Recipe != nil {
		s.Hex = p.Of.Recipe.Swatch.V
	}
	return s
}

func (m *maker) barCells(p *cost.Product) []Cell {
	x, below := m.on(m.r.Main, p)
	return []Cell{
		{Text: m.money.Number(total(p)), Bold: true},
		{Text: m.money.Number(x.Price)},
		{Text: show.Percent(x.Margin, 1), Alarm: below},
	}
}

// total is a product's unit cost.
func total(p *cost.Product) *calc.Figure {
	if p.UnitCost == nil {
		return nil
	}
	return p.UnitCost.Total
}

// partTable is the same as the bars, in figures that add up.
func (m *maker) partTable(groups []*pair) Table {
	t := Table{Title: text("cost.unit.table"), Aside: text("cost.unit.bars.aside", "currency", m.money.Code)}
	t.Columns = []Column{{Title: text("cost.unit.col.product"), Kind: Name}, {Title: "", Kind: Text}}
	for _, name := range PartNames() {
		t.Columns = append(t.Columns, Column{Title: name, Kind: Number})
	}
	t.Columns = append(t.Columns, Column{Title: text("cost.unit.col.cost"), Kind: Number, Bold: true})
	for _, g := range groups {
		for i, p := range g.products {
			row := Row{Group: i == 0, Cells: []Cell{{}, {Text: finish(p.Finish)}}}
			if i == 0 {
				row.Cells[0] = Cell{Text: text("cost.in-jar", "recipe", g.recipe, "jar", g.jar)}
			}
			for _, s := range m.printedParts(p) {
				row.Cells = append(row.Cells, Cell{Text: s})
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// roundedParts are the parts of a unit cost as they are printed.
func (m *maker) roundedParts(p *cost.Product) []float64 {
	var out []float64
	for _, f := range Parts(p.UnitCost) {
		out = append(out, f.Or(0))
	}
	return show.Apportion(out, m.money.Minor)
}

// printedParts are the parts of a unit cost and the total, rounded so that they
// add up; nil parts are an en dash.
func (m *maker) printedParts(p *cost.Product) []string {
	out := make([]string, len(parts)+1)
	if p.UnitCost == nil {
		for i := range out {
			out[i] = show.Unknown
		}
		return out
	}
	figures := Parts(p.UnitCost)
	for i, s := range m.column(figures) {
		if figures[i].Known() && figures[i].Or(0) == 0 {
			s = show.Nil
		}
		out[i] = s
	}
	out[len(parts)] = m.money.Number(p.UnitCost.Total)
	return out
}

func (m *maker) costless(products []*cost.Product) string {
	var names []string
	for _, p := range products {
		if !total(p).Known() {
			names = append(names, briefTitle(p))
		}
	}
	if len(names) == 0 {
		return ""
	}
	const most = 6
	if len(names) > most {
		return text("cost.unit.missing.many", "names", joinFirst(names, most), "n", len(names)-most)
	}
	return text("cost.unit.missing", "names", list(names), "n", len(names))
}

func (m *maker) costFinding(products []*cost.Product) string {
	low, high := math.Inf(1), math.Inf(-1)
	var cheap, dear *cost.Product
	for _, p := range products {
		v, ok := total(p).Value()
		if !ok {
			continue
		}
		if v < low {
			low, cheap = v, p
		}
		if v > high {
			high, dear = v, p
		}
	}
	switch {
	case len(products) == 0:
		return text("cost.unit.none")
	case cheap == nil:
		return text("cost.unit.unknown")
	}
	s := text("cost.unit.range", "low", m.money.Of(low), "cheap", briefTitle(cheap), "high", m.money.Of(high), "dear", briefTitle(dear))
	if m.money.Of(low) == m.money.Of(high) {
		s = text("cost.unit.one", "cost", m.money.Of(low))
	}
	return sentences(s, m.targetFinding(products), m.colorFinding())
}

// targetFinding counts the products below the target margin.
func (m *maker) targetFinding(products []*cost.Product) string {
	below, priced := 0, 0
	for _, p := range products {
		x, tooLow := m.on(m.r.Main, p)
		if !x.Margin.Known() {
			continue
		}
		priced++
		if tooLow {
			below++
		}
	}
	key := "cost.unit.target.some"
	switch {
	case priced == 0:
		return ""
	case below == 0:
		key = "cost.unit.target.none"
	case below == priced:
		key = "cost.unit.target.all"
	}
	if priced == 1 {
		key += ".one"
	}
	return text(key, "below", below, "priced", priced, "target", show.Percent(m.setting(book.TargetMargin), 0), "where", where(m.r.Main))
}

// colorFinding says what color adds to a candle.
func (m *maker) colorFinding() string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, t := range m.r.Twins {
		if v, ok := t.Total.Value(); ok {
			low, high = min(low, v), max(high, v)
		}
	}
	switch {
	case low > high || low < 0:
		return ""
	case m.money.Of(low) == m.money.Of(high):
		return text("cost.unit.color.one", "amount", m.money.Of(low))
	}
	return text("cost.unit.color", "low", m.money.Of(low), "high", m.money.Of(high))
}
