package costdoc

import (
	"math"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// Stock is the materials' stock and how use and prices differ from what the
// recipes and the month before say.
type Stock struct {
	Head
	Table   Table
	Remarks []string
}

func (m *maker) stock() *Stock {
	if len(m.r.Stock) == 0 {
		return nil
	}
	s := &Stock{Table: m.stockTable(), Remarks: []string{text("cost.stock.terms", "use", m.useBasis())}}
	counted := m.counted()
	if counted == 0 {
		s.Remarks = append(s.Remarks, text("cost.stock.no-counts"))
	}
	s.Head = Head{
		Title: text("cost.stock.title"), Subtitle: text("cost.stock.subtitle", "n", len(m.r.Stock)),
		Facts: m.facts(Fact{text("cost.fact.method"), m.method()}, Fact{text("cost.fact.use"), m.useBasis()}), Finding: m.stockFinding(counted),
	}
	return s
}

// counted is the number of materials with an actual use.
func (m *maker) counted() int {
	n := 0
	for i := range m.r.Stock {
		if m.r.Stock[i].UsageVariance.Known() {
			n++
		}
	}
	return n
}

// stockFinding says what stands in stock, and whether more was used than the
// recipes say.
func (m *maker) stockFinding(counted int) string {
	var value, usage, price []*calc.Figure
	var worst *cost.Stock
	for i := range m.r.Stock {
		s := &m.r.Stock[i]
		value, usage, price = append(value, s.Value), append(usage, s.UsageVariance), append(price, s.PriceVariance)
		if s.UsageVariance.Known() && (worst == nil || math.Abs(s.UsageVariance.Or(0)) > math.Abs(worst.UsageVariance.Or(0))) {
			worst = s
		}
	}
	held := text("cost.stock.unknown")
	if v := sum(value); v.Known() {
		held = text("cost.stock.held", "amount", m.money.Amount(v))
	}
	out := []string{held}
	if counted == 0 {
		return sentences(held, text("cost.stock.uncounted"), m.priceFinding(sum(price)))
	}
	u := sum(usage).Or(0)
	key := "cost.stock.usage.over"
	switch shown := m.money.Of(math.Abs(u)); {
	case shown == m.money.Of(0):
		key = "cost.stock.usage.none"
	case u < 0:
		key = "cost.stock.usage.under"
	}
	out = append(out, text(key, "amount", m.money.Of(math.Abs(u)), "n", counted))
	if w := worst.UsageVariance.Or(0); counted > 1 && m.money.Of(math.Abs(w)) != m.money.Of(0) {
		out = append(out, text("cost.stock.worst", "item", brief(worst.Item), "amount", m.money.Signed(w)))
	}
	return sentences(append(out, m.priceFinding(sum(price)))...)
}

func (m *maker) priceFinding(f *calc.Figure) string {
	v, ok := f.Value()
	if !ok || m.money.Of(math.Abs(v)) == m.money.Of(0) {
		return ""
	}
	key := "cost.stock.price.over"
	if v < 0 {
		key = "cost.stock.price.under"
	}
	return text(key, "amount", m.money.Of(math.Abs(v)))
}

// stockTable is a material a row; the columns of variances are there when the
// book allows any.
func (m *maker) stockTable() Table {
	t := Table{Title: text("cost.stock.table"), Aside: text("cost.stock.table.aside", "currency", m.money.Code)}
	t.Columns = []Column{{Title: text("cost.col.material"), Kind: Name}, {Title: "", Kind: Text}}
	var values, usage, price []*calc.Figure
	counted := m.counted() > 0
	for i := range m.r.Stock {
		s := &m.r.Stock[i]
		values, usage, price = append(values, s.Value), append(usage, s.UsageVariance), append(price, s.PriceVariance)
		n := places(s.Unit)
		row := Row{Cells: []Cell{{Text: s.Item}, {Text: unitName(s.Unit)}}}
		for _, f := range quantities(s, counted) {
			row.Cells = append(row.Cells, Cell{Text: show.Decimal(f, n)})
		}
		t.Rows = append(t.Rows, row)
	}
	heads := []string{"opening", "purchased", "used", "closing", "counted"}
	all := Row{Total: true, Cells: []Cell{{Text: text("cost.total")}, {}}}
	for i := range quantities(&cost.Stock{}, counted) {
		t.Columns = append(t.Columns, Column{Title: text("cost.stock.col." + heads[i]), Kind: Number})
		all.Cells = append(all.Cells, Cell{})
	}
	t.Rows = append(t.Rows, all)
	m.stockColumn(&t, "value", values)
	if counted {
		m.stockColumn(&t, "usage", usage)
	}
	m.stockColumn(&t, "price", price)
	return withoutTotal(t, len(m.r.Stock))
}

// quantities are a material's quantities in the order of their columns; what
// was really used is there when any count allows it.
func quantities(s *cost.Stock, counted bool) []*calc.Figure {
	out := []*calc.Figure{s.Opening, s.Purchased, s.Used, s.Closing}
	if counted {
		out = append(out, s.ActualUse)
	}
	return out
}

// stockColumn adds a column of money, rounded to add up.
func (m *maker) stockColumn(t *Table, key string, figures []*calc.Figure) {
	t.Columns = append(t.Columns, Column{Title: text("cost.stock.col." + key), Kind: Number})
	for i, s := range m.column(figures) {
		t.Rows[i].Cells = append(t.Rows[i].Cells, Cell{Text: s, Alarm: key == "usage" && m.large(figures[i])})
	}
	last := len(t.Rows) - 1
	t.Rows[last].Cells = append(t.Rows[last].Cells, Cell{Text: m.money.Number(sum(figures))})
}

// places are the decimals in which a quantity of stock is shown.
func places(u string) int32 {
	if u == "mL" {
		return 1
	}
	return 0
}

func unitName(u string) string {
	if u == "each" {
		return text("cost.unit.each")
	}
	return u
}

// large is a variance of more than a hundredth of the cost of sales.
func (m *maker) large(f *calc.Figure) bool {
	v, ok := f.Value()
	of, known := m.r.Totals.CostOfSales.Value()
	return ok && known && of > 0 && v > 0.01*of
}
