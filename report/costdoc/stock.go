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
	Variances *Table
	Table     Table
	Remarks   []string
}

func (m *maker) stock() *Stock {
	if len(m.r.Stock) == 0 {
		return nil
	}
	s := &Stock{Table: m.stockTable(), Remarks: []string{text("cost.stock.terms", "use", m.useBasis())}}
	counted := m.counted()
	if t := m.varianceTable(); len(t.Rows) > 0 {
		s.Variances = &t
	}
	if counted == 0 {
		s.Remarks = append(s.Remarks, text("cost.stock.no-counts"))
	}
	s.Head = Head{Title: text("cost.stock.title"), Subtitle: text("cost.stock.subtitle", "n", len(m.r.Stock)),
		Facts: m.facts(Fact{text("cost.fact.method"), m.method()}, Fact{text("cost.fact.use"), m.useBasis()}), Finding: m.stockFinding(counted)}
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
		out = append(out, text("cost.stock.worst", "item", worst.Item, "amount", m.money.Signed(w)))
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

func (m *maker) stockTable() Table {
	t := Table{Title: text("cost.stock.table"), Aside: text("cost.stock.table.aside", "currency", m.money.Code)}
	t.Columns = []Column{{Title: text("cost.col.material"), Kind: Name}, {Title: "", Kind: Text}}
	for _, key := range []string{"opening", "purchased", "used", "closing", "value"} {
		t.Columns = append(t.Columns, Column{Title: text("cost.stock.col." + key), Kind: Number})
	}
	var values []*calc.Figure
	for i := range m.r.Stock {
		values = append(values, m.r.Stock[i].Value)
	}
	for i, v := range m.column(values) {
		s := &m.r.Stock[i]
		n := places(s.Unit)
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: s.Item}, {Text: unitName(s.Unit)},
			{Text: show.Decimal(s.Opening, n)}, {Text: show.Decimal(s.Purchased, n)}, {Text: show.Decimal(s.Used, n)},
			{Text: show.Decimal(s.Closing, n)}, {Text: v}}})
	}
	if all := sum(values); all.Known() && len(values) > 1 {
		t.Rows = append(t.Rows, Row{Total: true, Cells: []Cell{{Text: text("cost.total")}, {}, {}, {}, {}, {}, {Text: m.money.Number(all)}}})
	}
	return t
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

func (m *maker) varianceTable() Table {
	t := Table{Title: text("cost.stock.variances"), Aside: text("cost.stock.variances.aside", "currency", m.money.Code)}
	t.Columns = []Column{{Title: text("cost.col.material"), Kind: Name}, {Title: "", Kind: Text},
		{Title: text("cost.stock.col.actual"), Kind: Number}, {Title: text("cost.stock.col.usage"), Kind: Number},
		{Title: text("cost.stock.col.price"), Kind: Number}}
	var rows []*cost.Stock
	var usage, price []*calc.Figure
	for i := range m.r.Stock {
		s := &m.r.Stock[i]
		if s.UsageVariance.Known() || s.PriceVariance.Or(0) != 0 {
			rows, usage, price = append(rows, s), append(usage, s.UsageVariance), append(price, s.PriceVariance)
		}
	}
	printed := m.column(price)
	for i, v := range m.column(usage) {
		s := rows[i]
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: s.Item}, {Text: unitName(s.Unit)},
			{Text: show.Decimal(s.ActualUse, places(s.Unit))}, {Text: v, Alarm: m.large(s.UsageVariance)}, {Text: printed[i]}}})
	}
	if len(rows) > 1 {
		t.Rows = append(t.Rows, Row{Total: true, Cells: []Cell{{Text: text("cost.total")}, {}, {}, {Text: m.money.Number(sum(usage))}, {Text: m.money.Number(sum(price))}}})
	}
	return t
}

// large is a variance of more than a hundredth of the cost of sales.
func (m *maker) large(f *calc.Figure) bool {
	v, ok := f.Value()
	of, known := m.r.Totals.CostOfSales.Value()
	return ok && known && of > 0 && v > 0.01*of
}
