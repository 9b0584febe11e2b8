package pdf

import (
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/compute/stat"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// market is what to bring to a market, what is on hand, what to pour, and what
// that should earn.
func (p *planPages) market(o plan.Outing) {
	t := draw.Table{Name: templates.Text("plan.market", "market", o.Market.Market), Height: 5, Columns: []draw.Column{
		{Title: templates.Text("plan.col.product"), Weight: 1, Lines: 5},
		{Title: templates.Text("plan.col.expected"), Width: 15, Align: draw.AlignDecimal},
		{Title: templates.Text("plan.col.bring"), Width: 11, Align: draw.AlignDecimal, Bold: true},
		{Title: templates.Text("plan.col.onhand"), Width: 11, Align: draw.AlignDecimal},
		{Title: templates.Text("plan.col.start"), Width: 11, Align: draw.AlignDecimal, Bold: true},
		{Title: templates.Text("plan.col.enough"), Width: 13, Align: draw.AlignRight},
		{Title: templates.Text("plan.col.sold"), Width: 13, Align: draw.AlignDecimal},
		{Title: templates.Text("plan.col.contribution", "currency", p.money.Code), Width: 20, Align: draw.AlignDecimal},
	}}
	var sold, money []*calc.Figure
	for _, d := range o.Demand {
		sold, money = append(sold, d.ExpectedSold), append(money, d.Contribution)
	}
	soldText, moneyText := show.Parts(sold, 1), show.Parts(money, p.money.Minor)
	bring, hand, pour := 0, 0, 0
	for i, d := range o.Demand {
		bring, hand, pour = bring+d.Bring, hand+d.OnHand, pour+d.Pour
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{
			{Text: titleOf(d.Of, d.Product), Muted: d.Bring == 0},
			{Text: decimal(d.Mean, 1)},
			{Text: counted(d.Bring)},
			{Text: counted(d.OnHand)},
			{Text: counted(d.Pour)},
			{Text: enough(d)},
			{Text: nilled(soldText[i])},
			{Text: nilled(moneyText[i])},
		}})
	}
	t.Rows = append(t.Rows, draw.Row{Total: true, Cells: []draw.Cell{
		{Text: templates.Text("plan.all")},
		{Text: decimal(o.ExpectedTotal, 1)},
		{Text: counted(bring)},
		{Text: counted(hand)},
		{Text: counted(pour)},
		{},
		{Text: decimal(total(sold), 1)},
		{Text: decimal(total(money), p.money.Minor)},
	}})
	aside, earned := templates.Text("plan.market.aside"), total(money)
	if len(p.r.LeftOut) > 0 {
		aside, earned = templates.Text("plan.market.aside-left"), nil
		if len(p.outings) == 1 {
			earned = p.r.Contribution
		}
	}
	p.head(templates.Text("plan.market", "market", o.Market.Market), aside, 24)
	p.f.Table(t)
	p.f.Space(2.5)
	p.f.Paragraph(strings.Join(p.sure(o, earned), " "), draw.Plain)
}

// decimal is a figure of a table, a dash when unknown.
func decimal(f *calc.Figure, places int32) string {
	if !f.Known() {
		return draw.Nil
	}
	return show.Decimal(f, places)
}

func nilled(s string) string {
	if s == show.Unknown {
		return draw.Nil
	}
	return s
}

// counted is a count of a table, a dash for none.
func counted(n int) string {
	if n == 0 {
		return draw.Nil
	}
	return count(n)
}

// enough is how likely what is brought is enough.
func enough(d plan.Demand) string {
	mean, ok := d.Mean.Value()
	r, known := d.R.Value()
	if !ok || !known || r <= 0 || !d.Known {
		return draw.Nil
	}
	return show.Share(stat.NegBin{Mean: mean, R: r}.CDF(d.Bring), 0)
}

// sure says where the expected total comes from, how far it can be off, and
// what the booth leaves.
func (p *planPages) sure(o plan.Outing, earned *calc.Figure) []string {
	var out []string
	m := o.Market
	if v, ok := o.ExpectedTotal.Value(); ok && o.From != "" {
		s := templates.Text("plan.because."+o.From, "n", show.Decimals(v, 0), "markets", marketsOf(o.FromWhat), "season", m.Season)
		if m.Of != nil && m.Of.Growth.OK() && m.Of.Growth.V != 0 && o.From != "expected" {
			s += " " + templates.Text("plan.grown", "growth", show.Share(m.Of.Growth.V, 0))
		}
		out = append(out, s)
	}
	if len(o.Demand) > 0 {
		mean, ok := o.ExpectedTotal.Value()
		r, known := o.Demand[0].R.Value()
		if ok && known && r > 0 && mean > 0 {
			d := stat.NegBin{Mean: mean, R: r}
			out = append(out, templates.Text("plan.spread", "low", count(d.Quantile(0.1)), "high", count(d.Quantile(0.9)), "r", show.Decimals(r, 1)))
		}
	}
	if m.Of != nil && m.Of.Booth.OK() && m.Of.Booth.V.Sign() > 0 && earned.Known() {
		fee := m.Of.Booth.V.Float64()
		out = append(out, templates.Text("plan.booth", "fee", p.money.Of(fee), "left", p.money.Of(earned.Or(0)-fee)))
	}
	return out
}

// marketsOf writes the markets of a reference, each its name and ISO date, with
// the date as people write it.
func marketsOf(what []string) string {
	var out []string
	for _, s := range what {
		if i := strings.LastIndexByte(s, ' '); i > 0 {
			if d, err := day.Parse(s[i+1:]); err == nil {
				s = templates.Text("plan.market-on", "market", s[:i], "date", show.LongDate(d))
			}
		}
		out = append(out, s)
	}
	return listed(out)
}

// leftOut is what could not be poured, what that costs, and what would help.
func (p *planPages) leftOut() {
	if len(p.r.LeftOut) == 0 {
		return
	}
	t := draw.Table{Name: templates.Text("plan.left"), Columns: []draw.Column{
		{Title: templates.Text("plan.col.product"), Weight: 1, Lines: 4},
		{Title: templates.Text("plan.col.left"), Width: 28, Align: draw.AlignDecimal},
		{Title: templates.Text("plan.col.lost", "currency", p.money.Code), Width: 44, Align: draw.AlignDecimal},
	}}
	var lost []*calc.Figure
	units := 0
	for _, l := range p.r.LeftOut {
		lost, units = append(lost, l.Contribution), units+l.Units
	}
	shown := show.Parts(lost, p.money.Minor)
	for i, l := range p.r.LeftOut {
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{{Text: titleOf(l.Of, l.Product)}, {Text: count(l.Units)}, {Text: nilled(shown[i])}}})
	}
	t.Rows = append(t.Rows, draw.Row{Total: true, Cells: []draw.Cell{{Text: templates.Text("plan.all")}, {Text: count(units)}, {Text: decimal(total(lost), p.money.Minor)}}})
	p.head(templates.Text("plan.left"), templates.Text("plan.left.aside"), 20)
	p.f.Table(t)
	p.f.Space(2.5)
	s := p.remedies()
	if p.r.Bound.Known() && p.r.Gap.Known() {
		bound, gap := p.money.Amount(p.r.Bound), p.money.Amount(p.r.Gap)
		if gap == p.money.Of(0) {
			s = append(s, templates.Text("plan.bound.best"))
		} else {
			s = append(s, templates.Text("plan.bound", "bound", bound, "gap", gap))
		}
	}
	p.f.Paragraph(strings.Join(s, " "), draw.Plain)
}
