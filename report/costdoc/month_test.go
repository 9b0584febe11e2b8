package costdoc

import (
	"strings"
	"testing"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/day"
)

func v(x float64) *calc.Figure { return calc.Const(x) }

func october() cost.Period { return cost.Period{From: day.Of(2026, 10, 1), To: day.Of(2026, 10, 31)} }

// plain is a sentence with ordinary spaces.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// says reports an error unless a sentence holds all of want and none of the others.
func says(t *testing.T, name, got string, want ...string) {
	t.Helper()
	got = plain(got)
	for _, w := range want {
		if not, ok := strings.CutPrefix(w, "!"); ok && strings.Contains(got, not) {
			t.Errorf("%s: %q says %q", name, got, not)
		} else if !ok && !strings.Contains(got, w) {
			t.Errorf("%s: %q does not say %q", name, got, w)
		}
	}
}

func TestMonthFinding(t *testing.T) {
	for name, x := range map[string]struct {
		totals cost.Totals
		want   []string
	}{
		"unknown":         {cost.Totals{}, []string{"cannot be added up"}},
		"nothing":         {cost.Totals{Units: v(0), NetSales: v(0)}, []string{"Nothing was sold in October 2026."}},
		"gifts only":      {cost.Totals{Units: v(3), NetSales: v(0), GrossMargin: v(-9)}, []string{"took back all that was sold", "net sales were $0.00"}},
		"refunds":         {cost.Totals{Units: v(-2), NetSales: v(-40)}, []string{"Refunds", "−$40.00"}},
		"no cost":         {cost.Totals{Units: v(9), NetSales: v(90)}, []string{"$90.00", "cannot be computed"}},
		"no contribution": {cost.Totals{Units: v(9), NetSales: v(90), GrossMargin: v(45)}, []string{"gross margin of $45.00 (50.0 %)", "!contribution"}},
		"loss":            {cost.Totals{Units: v(9), NetSales: v(90), GrossMargin: v(-5), Contribution: v(-2)}, []string{"less than what the candles cost", "−$5.00", "−$2.00"}},
		"overheads":       {cost.Totals{Units: v(9), NetSales: v(90), GrossMargin: v(-5), Contribution: v(8)}, []string{"paid for materials", "left $8.00", "−$5.00"}},
		"fees":            {cost.Totals{Units: v(9), NetSales: v(90), GrossMargin: v(5), Contribution: v(-8)}, []string{"channel fees took more", "−$8.00"}},
		"earned":          {cost.Totals{Units: v(9), NetSales: v(90), GrossMargin: v(45), Contribution: v(30)}, []string{"$90.00", "$45.00 (50.0 %)", "$30.00 toward overheads"}},
	} {
		d := Of(&cost.Result{Currency: "USD", Period: october(), Totals: x.totals})
		says(t, name, d.Month.Finding, x.want...)
	}
}

func TestMonthAgainst(t *testing.T) {
	at := func(net float64) *cost.Totals { return &cost.Totals{NetSales: v(net)} }
	for name, x := range map[string]struct {
		net          float64
		before, year *cost.Totals
		want         []string
	}{
		"neither": {100, nil, nil, []string{"!Net sales were"}},
		"more":    {100, at(80), nil, []string{"$20.00 (25 %) more than in September 2026", "!October 2025"}},
		"less":    {100, nil, at(125), []string{"$25.00 (20 %) less than in October 2025"}},
		"both":    {100, at(100), at(50), []string{"the same as in September 2026 and $50.00 (100 %) more than in October 2025"}},
		"no base": {100, at(-20), nil, []string{"$120.00 more than in September 2026", "!% more"}},
		"unknown": {100, &cost.Totals{}, nil, []string{"!than in September"}},
		"nothing": {0, at(50), nil, []string{"$50.00 (100 %) less than in September 2026"}},
	} {
		d := Of(&cost.Result{
			Currency: "USD", Period: october(), Previous: x.before, YearAgo: x.year,
			Totals: cost.Totals{Units: v(1), NetSales: v(x.net), GrossMargin: v(10), Contribution: v(5)},
		})
		says(t, name, d.Month.Finding, x.want...)
	}
}

func TestProductsWithoutCostAreNamedWithTheirSales(t *testing.T) {
	d := Of(&cost.Result{
		Currency: "USD", Period: october(), Totals: cost.Totals{NetSales: v(90), Units: v(9), GrossMargin: v(1), Contribution: v(1)},
		Products: []cost.Product{{Product: "A", Sales: cost.Sales{Units: v(2), NetSales: v(30)}}, {Product: "B", Sales: cost.Sales{Units: v(0), NetSales: v(0)}}},
	})
	says(t, "one", d.Month.Finding, "1 product without a known cost, with net sales of $30.00, is not in the margin")
}

func TestUnknownFiguresAreADash(t *testing.T) {
	d := Of(&cost.Result{Currency: "USD", Period: october(), Previous: &cost.Totals{}})
	for _, r := range d.Month.Table.Rows {
		for _, c := range r.Cells[1:] {
			if c.Text != "-" {
				t.Errorf("%s: %q", r.Cells[0].Text, c.Text)
			}
		}
	}
	for _, f := range d.Month.Figures {
		if f.Value != "-" {
			t.Errorf("%s: %q", f.Label, f.Value)
		}
	}
}

func TestMoveIsShareWhereItCanBe(t *testing.T) {
	m := &maker{r: &cost.Result{}}
	m.money.Minor = 2
	for name, x := range map[string]struct {
		now, before *calc.Figure
		want        string
	}{
		"more":    {v(150), v(100), "50 % more than in May"},
		"less":    {v(90), v(100), "10 % less than in May"},
		"about":   {v(100.2), v(100), "about the same as in May"},
		"loss":    {v(-5), v(100), "105.00 less than in May"},
		"no base": {v(5), v(-100), "105.00 more than in May"},
		"unknown": {nil, v(-100), ""},
	} {
		if got := plain(m.move(x.now, x.before, "May")); got != x.want {
			t.Errorf("%s: %q, want %q", name, got, x.want)
		}
	}
}

func TestOverheadRemarks(t *testing.T) {
	for name, x := range map[string]struct {
		overhead, absorbed *calc.Figure
		want               []string
	}{
		"under":   {v(100), v(60), []string{"$100.00", "$60.00", "$40.00 is not carried"}},
		"over":    {v(100), v(130), []string{"carries $130.00, $30.00 more"}},
		"unknown": {v(100), nil, []string{"$100.00", "!cost of sales"}},
	} {
		d := Of(&cost.Result{Currency: "USD", Period: october(), Totals: cost.Totals{
			Overhead: x.overhead, OverheadAbsorbed: x.absorbed,
			BoothFees: v(25), Contribution: v(80), GrossSales: v(120), Discounts: v(20),
		}})
		all := strings.Join(d.Month.Remarks, " ")
		says(t, name, all, append(x.want, "Booth fees of $25.00", "$55.00 of the contribution", "Gross sales were $120.00; $20.00")...)
	}
}

func TestDecisions(t *testing.T) {
	r := &cost.Result{Currency: "USD", Period: october(), Products: []cost.Product{{Product: "Q4", Name: "Quince tin"}}, Decisions: []cost.Decision{
		{Code: "below-target", Subject: "Q4", Amount: v(12), Detail: map[string]*calc.Figure{"margin": v(0.412), "target": v(0.55)}},
		{Code: "heavy-fees", Subject: "", Amount: v(9), Detail: map[string]*calc.Figure{"share": v(-3)}},
		{Code: "color-does-not-pay", Subject: "Q4", Amount: v(7), Detail: map[string]*calc.Figure{"cost": v(0.5), "price": v(0.25)}},
		{Code: "runaway-use", Subject: "Wax", Amount: v(1)},
	}}
	got := Of(r).Month.Decisions
	if len(got) != 3 || got[0].Amount != "$12.00" {
		t.Fatalf("%+v", got)
	}
	says(t, "below target", got[0].Title+" "+got[0].Text, "Quince tin", "41.2 %", "55.0 %", "$12.00")
	says(t, "no channel", got[1].Title+" "+got[1].Text, "no channel given", "leave nothing")
	says(t, "color", got[2].Text, "$0.50", "$0.25", "$7.00")
	for code, share := range map[string]float64{"heavy-fees": 0.4, "dear-material": 0.08, "runaway-use": 0.1} {
		r.Decisions = []cost.Decision{{Code: code, Subject: "X", Amount: v(5), Detail: map[string]*calc.Figure{"share": v(share)}}}
		d := Of(r).Month.Decisions[0]
		says(t, code, d.Title+" "+d.Text, "X", "$5.00", "!{", "![")
	}
	r.Decisions = nil
	if d := Of(r).Month; len(d.Decisions) != 0 || d.None == "" {
		t.Error("nothing to decide is not said")
	}
}
