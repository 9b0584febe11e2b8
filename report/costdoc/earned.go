package costdoc

import (
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// earned are the tables of what products and channels earned in the period.
func (m *maker) earned(products []*cost.Product) []Table {
	var names []string
	var rows []*cost.Sales
	for _, p := range products {
		if p.Units.Or(0) != 0 || p.NetSales.Or(0) != 0 {
			names, rows = append(names, title(p)), append(rows, &p.Sales)
		}
	}
	var out []Table
	if len(rows) > 0 {
		out = append(out, m.earnedTable("product", names, rows, true))
	}
	names, rows = nil, nil
	for i := range m.r.Channels {
		c := &m.r.Channels[i]
		if c.Units.Or(0) == 0 && c.NetSales.Or(0) == 0 {
			continue
		}
		name := c.Channel
		if name == "" {
			name = text("cost.no-channel")
		}
		names, rows = append(names, name), append(rows, &c.Sales)
	}
	if len(rows) > 0 {
		out = append(out, m.earnedTable("channel", names, rows, len(rows) > 1))
	}
	return out
}

// earnedColumns are the columns of money, parts of their totals.
var earnedColumns = []struct {
	key   string
	of    func(*cost.Sales) *calc.Figure
	total func(*cost.Totals) *calc.Figure
}{
	{"net-sales", func(s *cost.Sales) *calc.Figure { return s.NetSales }, func(t *cost.Totals) *calc.Figure { return t.NetSales }},
	{"fees", func(s *cost.Sales) *calc.Figure { return s.Fees }, func(t *cost.Totals) *calc.Figure { return t.Fees }},
	{"cost-of-sales", func(s *cost.Sales) *calc.Figure { return s.CostOfSales }, func(t *cost.Totals) *calc.Figure { return t.CostOfSales }},
	{"gross-margin", func(s *cost.Sales) *calc.Figure { return s.GrossMargin }, func(t *cost.Totals) *calc.Figure { return t.GrossMargin }},
	{"contribution", func(s *cost.Sales) *calc.Figure { return s.Contribution }, func(t *cost.Totals) *calc.Figure { return t.Contribution }},
}

func (m *maker) earnedTable(what string, names []string, rows []*cost.Sales, withTotal bool) Table {
	t := Table{Title: text("cost.earned."+what, "period", m.period), Aside: m.money.Code}
	t.Columns = []Column{{Title: text("cost.earned.col." + what), Kind: Name}, {Title: text("cost.units"), Kind: Number}}
	for i, s := range rows {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: names[i]}, {Text: show.Units(s.Units)}}})
	}
	all := Row{Total: true, Cells: []Cell{{Text: text("cost.total")}, {Text: show.Units(m.r.Totals.Units)}}}
	for _, c := range earnedColumns {
		t.Columns = append(t.Columns, Column{Title: text("cost." + c.key), Kind: Number})
		figures := make([]*calc.Figure, len(rows))
		for i, s := range rows {
			figures[i] = c.of(s)
		}
		for i, s := range m.column(figures) {
			v, ok := figures[i].Value()
			t.Rows[i].Cells = append(t.Rows[i].Cells, Cell{Text: s, Alarm: ok && v < 0 && (c.key == "gross-margin" || c.key == "contribution")})
		}
		all.Cells = append(all.Cells, Cell{Text: m.money.Number(c.total(&m.r.Totals))})
	}
	t.Columns = append(t.Columns, Column{Title: text("cost.margin-rate"), Kind: Number})
	for i, s := range rows {
		t.Rows[i].Cells = append(t.Rows[i].Cells, Cell{Text: show.Percent(rate(s), 1)})
	}
	all.Cells = append(all.Cells, Cell{Text: show.Percent(m.marginRate(), 1)})
	if withTotal {
		t.Rows = append(t.Rows, all)
	}
	return t
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

func joinFirst(names []string, n int) string { return strings.Join(names[:min(n, len(names))], ", ") }
