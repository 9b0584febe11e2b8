package costdoc

import (
	"math"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// line is a row of what was earned: a product with its change, or a channel.
type line struct {
	name   string
	sales  *cost.Sales
	change *cost.Change
}

// productTable is what every product earned and why that changed: those that
// sold in the period, or in the month before.
func (m *maker) productTable() Table {
	changes := map[string]*cost.Change{}
	for i := range m.r.Change {
		changes[m.r.Change[i].Product] = &m.r.Change[i]
	}
	var rows []line
	for i := range m.r.Products {
		p := &m.r.Products[i]
		if c := changes[p.Product]; c != nil || p.Units.Or(0) != 0 || p.NetSales.Or(0) != 0 {
			rows = append(rows, line{title(p), &p.Sales, c})
		}
	}
	t := Table{Title: text("cost.earned.product"), Aside: m.money.Code}
	if len(changes) > 0 {
		t.Title, t.Aside = text("cost.earned.changed"), text("cost.change.table.aside", "currency", m.money.Code)
	}
	t.Columns = []Column{{Title: text("cost.earned.col.product"), Kind: Name}}
	m.earnedColumns(&t, rows, []string{"units", "net-sales", "gross-margin", "margin-rate", "contribution"})
	if len(changes) > 0 {
		m.changeColumns(&t, rows)
	}
	return withoutTotal(t, len(rows))
}

// channelTable is what every channel with a sale brought in.
func (m *maker) channelTable() Table {
	var rows []line
	for i := range m.r.Channels {
		c := &m.r.Channels[i]
		name := c.Channel
		if name == "" {
			name = text("cost.no-channel")
		}
		if c.Units.Or(0) != 0 || c.NetSales.Or(0) != 0 {
			rows = append(rows, line{name, &c.Sales, nil})
		}
	}
	t := Table{Title: text("cost.earned.channel"), Aside: m.money.Code}
	t.Columns = []Column{{Title: text("cost.earned.col.channel"), Kind: Name}}
	m.earnedColumns(&t, rows, []string{"units", "net-sales", "fees", "cost-of-sales", "gross-margin", "margin-rate", "contribution"})
	return withoutTotal(t, len(rows))
}

// withoutTotal drops the row of totals below a single row.
func withoutTotal(t Table, rows int) Table {
	if rows < 2 {
		t.Rows = t.Rows[:rows]
	}
	return t
}

// earnedFigures are the columns that add up to their totals.
var earnedFigures = map[string]struct {
	of    func(*cost.Sales) *calc.Figure
	total func(*cost.Totals) *calc.Figure
}{
	"net-sales":     {func(s *cost.Sales) *calc.Figure { return s.NetSales }, func(t *cost.Totals) *calc.Figure { return t.NetSales }},
	"fees":          {func(s *cost.Sales) *calc.Figure { return s.Fees }, func(t *cost.Totals) *calc.Figure { return t.Fees }},
	"cost-of-sales": {func(s *cost.Sales) *calc.Figure { return s.CostOfSales }, func(t *cost.Totals) *calc.Figure { return t.CostOfSales }},
	"gross-margin":  {func(s *cost.Sales) *calc.Figure { return s.GrossMargin }, func(t *cost.Totals) *calc.Figure { return t.GrossMargin }},
	"contribution":  {func(s *cost.Sales) *calc.Figure { return s.Contribution }, func(t *cost.Totals) *calc.Figure { return t.Contribution }},
}

// earnedColumns adds the rows with these columns, and a row of totals.
func (m *maker) earnedColumns(t *Table, rows []line, keys []string) {
	for _, r := range rows {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: r.name}}})
	}
	all := Row{Total: true, Cells: []Cell{{Text: text("cost.total")}}}
	for _, key := range keys {
		t.Columns = append(t.Columns, Column{Title: text("cost." + key), Kind: Number})
		cells := make([]Cell, len(rows))
		switch key {
		case "units":
			for i, r := range rows {
				cells[i].Text = show.Units(r.sales.Units)
			}
			all.Cells = append(all.Cells, Cell{Text: show.Units(m.r.Totals.Units)})
		case "margin-rate":
			for i, r := range rows {
				cells[i].Text = show.Percent(rate(r.sales), 1)
			}
			all.Cells = append(all.Cells, Cell{Text: show.Percent(m.marginRate(), 1)})
		default:
			cells = m.moneyCells(rows, key)
			all.Cells = append(all.Cells, Cell{Text: m.money.Number(earnedFigures[key].total(&m.r.Totals))})
		}
		for i, c := range cells {
			t.Rows[i].Cells = append(t.Rows[i].Cells, c)
		}
	}
	t.Rows = append(t.Rows, all)
}

// moneyCells are the amounts of a column, rounded to add up; a loss is marked.
func (m *maker) moneyCells(rows []line, key string) []Cell {
	figures := make([]*calc.Figure, len(rows))
	for i, r := range rows {
		figures[i] = earnedFigures[key].of(r.sales)
	}
	cells := make([]Cell, len(rows))
	for i, s := range m.column(figures) {
		v, ok := figures[i].Value()
		loss := ok && v < 0 && m.money.Of(-v) != m.money.Of(0)
		cells[i] = Cell{Text: s, Alarm: loss && (key == "gross-margin" || key == "contribution") && rows[i].sales.NetSales.Or(0) > 0}
	}
	return cells
}

// changeColumns adds volume, price and cost effect and their sum to a table
// that has its rows and totals.
func (m *maker) changeColumns(t *Table, rows []line) {
	for _, key := range []string{"volume", "price", "cost", "all"} {
		t.Columns = append(t.Columns, Column{Title: text("cost.change." + key), Kind: Number, Bold: key == "all"})
	}
	add := func(i int, e effects) {
		for _, s := range m.column([]*calc.Figure{e.volume, e.price, e.cost}) {
			t.Rows[i].Cells = append(t.Rows[i].Cells, Cell{Text: s})
		}
		t.Rows[i].Cells = append(t.Rows[i].Cells, Cell{Text: m.money.Number(e.total)})
	}
	for i, r := range rows {
		e := effects{}
		if c := r.change; c != nil {
			e = effects{c.Volume, c.Price, c.Cost, c.Total}
		}
		add(i, e)
	}
	add(len(rows), m.sumEffects())
}

// rate is gross margin / net sales; unknown without net sales.
func rate(s *cost.Sales) *calc.Figure {
	if s.MarginRate.Known() {
		return s.MarginRate
	}
	if s.NetSales.Or(0) <= 0 {
		return nil
	}
	return calc.Div(s.GrossMargin, s.NetSales)
}

// earnedFinding names the product that contributed most, and those that lost.
func (m *maker) earnedFinding() string {
	var best *cost.Product
	most, losing := math.Inf(-1), 0
	for i := range m.r.Products {
		p := &m.r.Products[i]
		v, ok := p.Contribution.Value()
		if !ok || p.NetSales.Or(0) <= 0 {
			continue
		}
		if v < 0 {
			losing++
		}
		if v > most {
			most, best = v, p
		}
	}
	switch {
	case best == nil:
		return text("cost.earned.none")
	case most <= 0:
		return text("cost.earned.no-gain")
	}
	s := text("cost.earned.best", "product", briefTitle(best), "amount", m.money.Of(most))
	if losing == 0 {
		return s
	}
	return sentences(s, text("cost.earned.losing", "n", losing))
}

func joinFirst(names []string, n int) string { return strings.Join(names[:min(n, len(names))], ", ") }
