package costdoc

import (
	"math"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// Month is the period on one page.
type Month struct {
	Head
	Figures   []Fact // the headline figures, large
	Table     Table
	Labels    []string // of the chart's columns
	Series    []Series // the period last, what it is compared with before it
	Remarks   []string
	Decisions []Decision
	None      string // said when there is nothing to decide
}

// headline is a figure of the month's page.
type headline struct {
	key string
	of  func(*cost.Totals) *calc.Figure
}

var headlines = []headline{
	{"net-sales", func(t *cost.Totals) *calc.Figure { return t.NetSales }},
	{"cost-of-sales", func(t *cost.Totals) *calc.Figure { return t.CostOfSales }},
	{"gross-margin", func(t *cost.Totals) *calc.Figure { return t.GrossMargin }},
	{"fees", func(t *cost.Totals) *calc.Figure { return t.Fees }},
	{"contribution", func(t *cost.Totals) *calc.Figure { return t.Contribution }},
}

func (m *maker) month() *Month {
	t := &m.r.Totals
	p := &Month{Head: Head{
		Title: m.period, Subtitle: text("cost.month.subtitle"), Finding: m.monthFinding(),
		Facts: m.facts(Fact{text("cost.fact.method"), m.method()}, Fact{text("cost.fact.use"), m.useBasis()}),
	}}
	for _, f := range []Fact{
		{m.money.Amount(t.NetSales), text("cost.net-sales")},
		{m.money.Amount(t.GrossMargin), text("cost.gross-margin")},
		{show.Percent(m.marginRate(), 1), text("cost.margin-rate")},
		{m.money.Amount(t.Contribution), text("cost.contribution")},
	} {
		p.Figures = append(p.Figures, Fact{Label: f.Value, Value: f.Label})
	}
	p.Table = m.monthTable()
	m.monthChart(p)
	p.Remarks = m.monthRemarks()
	p.Decisions, p.None = m.decisions()
	return p
}

func (m *maker) method() string {
	if k := m.r.Basis.CostMethod; k != "" {
		return text("cost.method." + k)
	}
	return show.Unknown
}

func (m *maker) useBasis() string {
	if k := m.r.Basis.Use; k != "" {
		return text("cost.basis." + k)
	}
	return show.Unknown
}

// marginRate is gross margin / net sales; unknown without net sales.
func (m *maker) marginRate() *calc.Figure { return m.ofNet(m.r.Totals.GrossMargin) }

func (m *maker) monthFinding() string {
	key := m.monthCase()
	t := &m.r.Totals
	s := text("cost.month."+key, "in", m.in(), "net", m.money.Amount(t.NetSales), "gross", m.money.Amount(t.GrossMargin),
		"rate", show.Percent(m.marginRate(), 1), "contribution", m.money.Amount(t.Contribution))
	return sentences(s, m.monthAgainst(), m.withoutCost())
}

// monthCase names the sentence that holds for the totals.
func (m *maker) monthCase() string {
	t := &m.r.Totals
	net, ok := t.NetSales.Value()
	switch {
	case !ok:
		return "unknown"
	case net == 0 && t.Units.Or(0) == 0:
		return "nothing"
	case net <= 0:
		return "refunds"
	case !t.GrossMargin.Known():
		return "no-cost"
	}
	gross := t.GrossMargin.Or(0)
	contribution, ok := t.Contribution.Value()
	switch {
	case !ok:
		return "gross"
	case gross < 0 && contribution < 0:
		return "loss"
	case gross < 0:
		return "below-overhead"
	case contribution < 0:
		return "eaten"
	}
	return "earned"
}

// monthAgainst compares the net sales with the month before and the year before.
func (m *maker) monthAgainst() string {
	var parts []string
	if p := m.r.Previous; p != nil {
		parts = append(parts, m.than(m.r.Totals.NetSales, p.NetSales, m.before()))
	}
	if p := m.r.YearAgo; p != nil {
		parts = append(parts, m.than(m.r.Totals.NetSales, p.NetSales, m.yearAgo()))
	}
	parts = notEmpty(parts)
	if len(parts) == 0 {
		return ""
	}
	return text("cost.month.against", "what", list(parts))
}

func notEmpty(s []string) []string {
	var out []string
	for _, x := range s {
		if x != "" {
			out = append(out, x)
		}
	}
	return out
}

// withoutCost says how much was sold of products whose cost is not known.
func (m *maker) withoutCost() string {
	n, net := 0, 0.0
	for i := range m.r.Products {
		p := &m.r.Products[i]
		if p.UnitCost == nil && (p.Units.Or(0) != 0 || p.NetSales.Or(0) != 0) {
			n++
			net += p.NetSales.Or(0)
		}
	}
	if n == 0 {
		return ""
	}
	return text("cost.month.without", "n", n, "amount", m.money.Of(net))
}

func (m *maker) monthTable() Table {
	t := Table{Title: text("cost.month.table"), Aside: m.money.Code}
	t.Columns = []Column{{Title: "", Kind: Text}, {Title: m.shortPeriod(), Kind: Number, Bold: true}}
	if m.r.Previous != nil {
		t.Columns = append(t.Columns, Column{Title: m.before(), Kind: Number})
	}
	if m.r.YearAgo != nil {
		t.Columns = append(t.Columns, Column{Title: m.yearAgo(), Kind: Number})
	}
	compared := m.r.Previous != nil || m.r.YearAgo != nil
	if compared {
		t.Columns = append(t.Columns, Column{Title: text("cost.month.col.words"), Kind: Words})
	} else {
		t.Columns[0].Kind = Name
		t.Columns = append(t.Columns, Column{Title: text("cost.month.col.share"), Kind: Number})
	}
	for _, h := range headlines {
		t.Rows = append(t.Rows, m.monthRow(h, compared))
		if v := m.r.Totals.StockDifferences.Or(0); h.key == "gross-margin" && m.money.Of(math.Abs(v)) != m.money.Of(0) {
			t.Rows = append(t.Rows, m.differencesRow(v))
		}
	}
	return t
}

// differencesRow is what counts found missing, or over, beside the gross margin.
func (m *maker) differencesRow(missing float64) Row {
	key := "cost.stock.missing"
	if missing < 0 {
		key = "cost.stock.over"
	}
	return Row{Cells: []Cell{{Text: text(key), Muted: true}, {Text: show.Decimals(math.Abs(missing), m.money.Minor), Muted: true}}}
}

func (m *maker) monthRow(h headline, compared bool) Row {
	now := h.of(&m.r.Totals)
	strong := h.key == "gross-margin" || h.key == "contribution"
	row := Row{Group: true, Cells: []Cell{{Text: text("cost." + h.key), Bold: strong}, {Text: m.money.Number(now), Alarm: strong && now.Or(0) < 0}}}
	var said []string
	if p := m.r.Previous; p != nil {
		row.Cells = append(row.Cells, Cell{Text: m.money.Number(h.of(p))})
		said = append(said, m.move(now, h.of(p), m.before()))
	}
	if p := m.r.YearAgo; p != nil {
		row.Cells = append(row.Cells, Cell{Text: m.money.Number(h.of(p))})
		said = append(said, m.move(now, h.of(p), m.yearAgo()))
	}
	if !compared {
		row.Cells = append(row.Cells, Cell{Text: show.Percent(m.ofNet(now), 1)})
	} else {
		words := strings.Join(notEmpty(said), ", ")
		if words == "" {
			words = show.Unknown
		}
		row.Cells = append(row.Cells, Cell{Text: words})
	}
	return row
}

// ofNet is a figure as a share of the net sales; unknown without any.
func (m *maker) ofNet(f *calc.Figure) *calc.Figure {
	if m.r.Totals.NetSales.Or(0) <= 0 {
		return nil
	}
	return calc.Div(f, m.r.Totals.NetSales)
}

func (m *maker) monthChart(p *Month) {
	for _, h := range headlines {
		p.Labels = append(p.Labels, text("cost."+h.key))
	}
	add := func(name string, t *cost.Totals) {
		if t == nil {
			return
		}
		s := Series{Name: name}
		for _, h := range headlines {
			s.Values = append(s.Values, nan(h.of(t)))
		}
		p.Series = append(p.Series, s)
	}
	add(m.shortPeriod(), &m.r.Totals)
	add(m.before(), m.r.Previous)
	add(m.yearAgo(), m.r.YearAgo)
}

// monthRemarks say what stands beside the five figures.
func (m *maker) monthRemarks() []string {
	t := &m.r.Totals
	var out []string
	if v, ok := t.Discounts.Value(); ok && v != 0 {
		out = append(out, text("cost.month.discounts", "gross", m.money.Amount(t.GrossSales), "discounts", m.money.Amount(t.Discounts)))
	}
	if v, ok := t.BoothFees.Value(); ok && v != 0 {
		out = append(out, text("cost.month.booth", "amount", m.money.Amount(t.BoothFees),
			"left", m.money.Amount(calc.Sub(t.Contribution, t.BoothFees))))
	}
	if v, ok := t.Overhead.Value(); ok && v > 0 {
		out = append(out, m.overheadRemark(v))
	}
	return out
}

// overheadRemark compares the overheads of the months with those in the cost of sales.
func (m *maker) overheadRemark(overhead float64) string {
	t := &m.r.Totals
	absorbed, ok := t.OverheadAbsorbed.Value()
	if !ok {
		return text("cost.month.overhead", "amount", m.money.Of(overhead))
	}
	key := "cost.month.overhead.under"
	if absorbed >= overhead {
		key = "cost.month.overhead.over"
	}
	return text(key, "amount", m.money.Of(overhead), "absorbed", m.money.Of(absorbed), "rest", m.money.Of(math.Abs(overhead-absorbed)))
}
