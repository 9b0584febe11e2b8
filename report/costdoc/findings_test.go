package costdoc

import (
	"math"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
	"pourbook/report/show"
)

// costs is a unit cost whose parts add up to a total.
func costs(total float64) *unitcost.Cost {
	z := calc.Zero
	return &unitcost.Cost{
		Wax: v(total / 2), Fragrance: v(total / 4), Dye: z, Additive: z, Wick: z, Jar: v(total / 4), Lid: z, Label: z,
		Packaging: z, Other: z, Labor: z, Overhead: z, Total: v(total), Variable: v(total),
	}
}

func product(code string, f book.Finish, total, list float64) cost.Product {
	p := cost.Product{Product: code, Recipe: "Rain", Jar: "Tin", Finish: f, UnitCost: costs(total)}
	if list > 0 {
		p.ListPrice = v(list)
	}
	return p
}

func TestCostFinding(t *testing.T) {
	unknown := cost.Product{Product: "X", Recipe: "Rain", Jar: "Tin", Finish: book.Natural}
	for name, x := range map[string]struct {
		products []cost.Product
		twins    []cost.Twin
		want     []string
	}{
		"none":     {nil, nil, []string{"no active products", "!target"}},
		"unknown":  {[]cost.Product{unknown}, nil, []string{"cost of no candle can be computed"}},
		"one":      {[]cost.Product{product("A", book.Natural, 4, 0), unknown}, nil, []string{"costs $4.00", "!target", "!Color"}},
		"range":    {[]cost.Product{product("A", book.Natural, 4, 20), product("B", book.Colored, 5, 10)}, nil, []string{"between $4.00 (A) and $5.00 (B)", "1 of 2 stay below the target margin of 60 % before channel fees"}},
		"all":      {[]cost.Product{product("A", book.Natural, 4, 5), product("B", book.Colored, 5, 6)}, nil, []string{"every product that has a price stays below"}},
		"reach":    {[]cost.Product{product("A", book.Natural, 4, 50), product("B", book.Colored, 5, 60)}, nil, []string{"every product that has a price reaches"}},
		"it":       {[]cost.Product{product("A", book.Natural, 4, 5)}, nil, []string{"it stays below"}},
		"it does":  {[]cost.Product{product("A", book.Natural, 4, 50)}, nil, []string{"it reaches"}},
		"color":    {[]cost.Product{product("A", book.Natural, 4, 0)}, []cost.Twin{{Total: v(0.2)}, {Total: v(0.4)}, {}}, []string{"Color adds $0.20 to $0.40"}},
		"one twin": {[]cost.Product{product("A", book.Natural, 4, 0)}, []cost.Twin{{Total: v(0.2)}}, []string{"Color adds $0.20 to a candle"}},
		"cheaper":  {[]cost.Product{product("A", book.Natural, 4, 0)}, []cost.Twin{{Total: v(-0.2)}}, []string{"!Color adds"}},
	} {
		r := &cost.Result{Currency: "USD", Period: october(), Products: x.products, Twins: x.twins, Main: cost.BeforeFees(x.products, v(0.6))}
		says(t, name, Of(r).Costs.Finding, x.want...)
	}
}

func TestChangeFinding(t *testing.T) {
	row := func(volume, price, cost_ float64) cost.Change {
		return cost.Change{Product: "A", Volume: v(volume), Price: v(price), Cost: v(cost_), Total: v(volume + price + cost_)}
	}
	for name, x := range map[string]struct {
		rows []cost.Change
		want []string
	}{
		"up":      {[]cost.Change{row(50, 5, -10)}, []string{"$45.00 higher than in September 2026", "Most of that comes from how much was sold, and of what (+$50.00)", "Against it stood what the candles cost (−$10.00)"}},
		"down":    {[]cost.Change{row(0, -7, 2)}, []string{"$5.00 lower", "the prices that were paid (−$7.00)", "what the candles cost (+$2.00)"}},
		"alone":   {[]cost.Change{row(0, -7, 0)}, []string{"$7.00 lower", "!Against"}},
		"same":    {[]cost.Change{row(0, 0, 0)}, []string{"the same as in September 2026", "!Most"}},
		"no cost": {[]cost.Change{{Product: "A"}}, []string{"cannot be computed"}},
	} {
		p := product("A", book.Natural, 4, 9)
		p.Sales = cost.Sales{Units: v(3), NetSales: v(27)}
		d := Of(&cost.Result{Currency: "USD", Period: october(), Products: []cost.Product{p}, Change: x.rows})
		says(t, name, d.Change.Finding, x.want...)
	}
}

func TestEarnedFinding(t *testing.T) {
	sold := func(code string, contribution *calc.Figure) cost.Product {
		return cost.Product{Product: code, Sales: cost.Sales{Units: v(1), NetSales: v(10), Contribution: contribution}}
	}
	for name, x := range map[string]struct {
		products []cost.Product
		want     []string
	}{
		"best":    {[]cost.Product{sold("A", v(3)), sold("B", v(4))}, []string{"B contributed most: $4.00", "!did not cover"}},
		"losing":  {[]cost.Product{sold("A", v(3)), sold("B", v(-4))}, []string{"A contributed most", "1 product did not cover its"}},
		"none":    {[]cost.Product{sold("A", nil)}, []string{"No product with a known cost"}},
		"no gain": {[]cost.Product{sold("A", v(-1))}, []string{"No product left a contribution"}},
	} {
		p := cost.Period{From: day.Of(2026, 1, 1), To: day.Of(2026, 3, 15)}
		d := Of(&cost.Result{Currency: "USD", Period: p, Products: x.products})
		says(t, name, d.Change.Finding, x.want...)
	}
}

func TestMaterialFinding(t *testing.T) {
	stock := func(before, now, used *calc.Figure) []cost.Stock {
		return []cost.Stock{{Item: "Wax", Unit: "g", PriceBefore: before, Price: now, Used: used}}
	}
	for name, x := range map[string]struct {
		stock []cost.Stock
		want  string
	}{
		"dearer":               {stock(v(0.01), v(0.011), v(1000)), "Wax moved most: it costs 10.0 % more, $1.00 on what was used."},
		"cheaper":              {stock(v(0.01), v(0.009), v(1000)), "Wax moved most: it costs 10.0 % less, $1.00 on what was used."},
		"dearer unused":        {stock(v(0.01), v(0.011), v(0)), "Wax went up most, by 10.0 %."},
		"cheaper, unknown use": {stock(v(0.01), v(0.009), nil), "Wax came down most, by 10.0 %."},
		"still":                {stock(v(0.01), v(0.01), v(5)), "No material's cost has moved by half a percent."},
		"unknown":              {stock(nil, v(0.01), v(5)), ""},
	} {
		m := &maker{r: &cost.Result{Currency: "USD", Stock: x.stock}, b: &book.Book{}, money: show.In("USD")}
		if got := plain(m.materialFinding(m.moved())); got != x.want {
			t.Errorf("%s: %q, want %q", name, got, x.want)
		}
	}
}

func seasons() *book.Book {
	b := &book.Book{}
	for _, s := range []book.Season{{From: 1201, To: 228}, {From: 301, To: 531}, {From: 601, To: 831}, {From: 901, To: 1130}} {
		s.Name = cell.Text{V: []string{"Winter", "Spring", "Summer", "Autumn"}[len(b.Seasons)], State: cell.Typed}
		b.Seasons = append(b.Seasons, s)
	}
	return b
}

func TestUseFinding(t *testing.T) {
	use := func(season string, year int, k book.Kind, g, drops float64) cost.Use {
		u := cost.Use{Season: season, SeasonYear: year, Material: string(k), Kind: k, Grams: v(g), Cost: v(g / 10), Bottles: v(g / 20)}
		if drops > 0 {
			u.Drops = v(drops)
		}
		return u
	}
	november := cost.Period{From: day.Of(2026, 11, 1), To: day.Of(2026, 11, 30)}
	for name, x := range map[string]struct {
		period cost.Period
		use    []cost.Use
		want   []string
	}{
		"both, running":            {october(), []cost.Use{use("Autumn", 2026, book.Fragrance, 200, 0), use("Autumn", 2026, book.Dye, 20, 400)}, []string{"Autumn 2026 has so far taken 200 g of fragrance ($20.00) and 20 g of dye ($2.00)", "400 drops, 1.0 bottles"}},
		"both, over":               {november, []cost.Use{use("Autumn", 2026, book.Fragrance, 200, 0), use("Autumn", 2026, book.Dye, 20, 0)}, []string{"Autumn 2026 took 200 g", "The dye is 1.0 bottles", "!drops"}},
		"fragrance":                {november, []cost.Use{use("Autumn", 2026, book.Fragrance, 200, 0)}, []string{"and no dye", "!bottle"}},
		"dye":                      {november, []cost.Use{use("Autumn", 2026, book.Dye, 20, 3)}, []string{"and no fragrance"}},
		"fragrance, running":       {october(), []cost.Use{use("Autumn", 2026, book.Fragrance, 200, 0)}, []string{"so far", "and no dye"}},
		"dye, running":             {october(), []cost.Use{use("Autumn", 2026, book.Dye, 20, 3)}, []string{"so far", "and no fragrance"}},
		"refunds":                  {november, []cost.Use{use("Autumn", 2026, book.Dye, -2, 0)}, []string{"Refunds took back"}},
		"more":                     {november, []cost.Use{use("Autumn", 2025, book.Fragrance, 100, 0), use("Autumn", 2026, book.Fragrance, 150, 0)}, []string{"50 % more than in Autumn 2025"}},
		"less":                     {november, []cost.Use{use("Autumn", 2025, book.Fragrance, 200, 0), use("Autumn", 2026, book.Fragrance, 150, 0)}, []string{"25 % less than in Autumn 2025"}},
		"same":                     {november, []cost.Use{use("Autumn", 2025, book.Fragrance, 150, 0), use("Autumn", 2026, book.Fragrance, 150.1, 0)}, []string{"the same as in Autumn 2025"}},
		"running does not compare": {october(), []cost.Use{use("Autumn", 2025, book.Fragrance, 200, 0), use("Autumn", 2026, book.Fragrance, 150, 0)}, []string{"!less than"}},
		"long over":                {october(), []cost.Use{use("Winter", 2024, book.Fragrance, 200, 0)}, []string{"Winter 2024–25 took"}},
		"no season":                {october(), []cost.Use{use("", 2026, book.Fragrance, 200, 0)}, []string{"outside the seasons, 2026 took"}},
	} {
		says(t, name, Of(&cost.Result{Currency: "USD", Period: x.period, Seasons: sales.New(seasons(), x.period.To).Seasons, Use: x.use}).Use.Finding, x.want...)
	}
}

func ratio(c, n, low, high, eff float64) cost.Ratio {
	r := cost.Ratio{Colored: v(c), Natural: v(n), NEff: v(eff)}
	if n > 0 {
		r.Ratio, r.RatioLow, r.RatioHigh = v(c/n), v(low), v(high)
	}
	return r
}

func TestSplitFinding(t *testing.T) {
	for name, x := range map[string]struct {
		overall cost.Ratio
		want    string
	}{
		"colored leads": {ratio(100, 20, 3, 8, 90), "You sell 5.0 : 1 colored to natural (between 3.0 : 1 and 8.0 : 1): about 8 of every ten."},
		"natural leads": {ratio(20, 100, 0.1, 0.4, 90), "natural leads"},
		"level":         {ratio(50, 50, 0.7, 1.4, 90), "too close to say"},
		"thin":          {ratio(10, 2, 1, 20, 8), "too few to tell"},
		"only colored":  {ratio(10, 0, 0, 0, 8), "every candle was colored: 10"},
		"only natural":  {ratio(0, 7, 0, 0, 7), "every candle was natural: 7"},
		"no bounds":     {cost.Ratio{Colored: v(80), Natural: v(20), Ratio: v(4), NEff: v(60)}, "You sell 4.0 : 1 colored to natural."},
	} {
		says(t, name, Of(&cost.Result{Period: october(), Split: cost.Split{Overall: x.overall}}).Split.Finding, x.want)
	}
	if s := Of(&cost.Result{Period: october()}).Split; s != nil {
		t.Error("a split of nothing")
	}
}

func TestSplitTests(t *testing.T) {
	test := func(p *calc.Figure) *cost.Test { return &cost.Test{ChiSquare: v(5.5), DF: v(3), P: p} }
	all := map[string]*cost.Test{"open": nil, "unknown": test(nil), "yes": test(v(0.004)), "likely": test(v(0.03)), "no": test(v(0.6)), "tiny": test(v(1e-9))}
	for sname, season := range all {
		for jname, jar := range all {
			d := Of(&cost.Result{Period: october(), Split: cost.Split{Overall: ratio(100, 20, 3, 8, 90), SeasonTest: season, JarTest: jar}}).Split
			differs := func(x *cost.Test) bool { return x != nil && x.P.Or(1) < likely }
			says(t, sname+jname, d.Finding, "!cost.split", "!{")
			if got := strings.Contains(d.Finding, "differs by season"); got != differs(season) {
				t.Errorf("%s, %s: %q", sname, jname, d.Finding)
			}
			if got := strings.Contains(d.Finding, "by jar"); got != differs(jar) {
				t.Errorf("%s, %s: %q", sname, jname, d.Finding)
			}
		}
	}
	for p, want := range map[float64]string{1e-9: "less than once in 1,000 times", 0.04: "about once in 25 times", 0.6: "about 60 times in 100"} {
		d := Of(&cost.Result{Period: october(), Split: cost.Split{Overall: ratio(100, 20, 3, 8, 90), SeasonTest: test(v(p))}}).Split
		says(t, want, d.Tests[0], want, "3 degrees of freedom")
	}
}

func TestDropping(t *testing.T) {
	customers := &cost.Customers{NaturalOnly: cost.CustomerGroup{Count: v(4), Contribution: v(80)}, Both: cost.CustomerGroup{Count: v(9)}}
	nobody := &cost.Customers{NaturalOnly: cost.CustomerGroup{Count: v(0)}, Both: cost.CustomerGroup{Count: v(9)}}
	for name, x := range map[string]struct {
		customers *cost.Customers
		natural   *cost.DropNatural
		color     *cost.DropColor
		want      []string
	}{
		"switch":      {customers, &cost.DropNatural{AtRisk: v(80), BreakEvenSwitch: v(0.7)}, nil, []string{"$80.00 of contribution", "If 70 % of those"}},
		"never":       {customers, &cost.DropNatural{AtRisk: v(80), BreakEvenSwitch: v(1.2)}, nil, []string{"Even if everyone", "120 %"}},
		"free":        {customers, &cost.DropNatural{AtRisk: v(-3), BreakEvenSwitch: v(-0.2)}, nil, []string{"−$3.00", "give no share"}},
		"nobody":      {nobody, &cost.DropNatural{AtRisk: v(0), BreakEvenSwitch: v(0.5)}, nil, []string{"No customer of these sales buys natural only"}},
		"unnamed":     {nil, &cost.DropNatural{AtRisk: v(0), BreakEvenSwitch: v(0.5)}, nil, []string{"!at risk", "!No customer"}},
		"loss":        {nil, nil, &cost.DropColor{Saved: v(50), BreakEvenLoss: v(0.025)}, []string{"$50.00 of dye", "Losing 2.5 %"}},
		"always":      {nil, nil, &cost.DropColor{Saved: v(50), BreakEvenLoss: v(1.4)}, []string{"140 % of all"}},
		"nothing":     {nil, nil, &cost.DropColor{Saved: v(-5), BreakEvenLoss: v(-0.1)}, []string{"no loss of sales"}},
		"saved":       {nil, nil, &cost.DropColor{Saved: v(5)}, []string{"$5.00 of dye and extra labor is saved.", "!Losing"}},
		"both absent": {nil, &cost.DropNatural{}, &cost.DropColor{}, []string{"!saved", "!natural"}},
	} {
		d := Of(&cost.Result{Currency: "USD", Period: october(), Split: cost.Split{
			Overall:   ratio(100, 20, 3, 8, 90),
			Customers: x.customers, DropNatural: x.natural, DropColor: x.color,
		}})
		says(t, name, strings.Join(d.Split.Dropping, " "), x.want...)
	}
}

func TestTwins(t *testing.T) {
	twin := func(colored, natural float64) cost.Twin {
		c, n := product("C", book.Colored, 5, colored), product("N", book.Natural, 4.5, natural)
		return cost.Twin{Colored: &c, Natural: &n, Dye: v(0.1), Labor: v(0.3), Overhead: v(0.1), Parts: v(0), Total: v(0.5)}
	}
	for want, twins := range map[string][]cost.Twin{
		"every colored candle carries": {twin(11, 10)},
		"no colored candle carries":    {twin(10, 10)},
		"some colored candles carry":   {twin(10, 10), twin(12, 10)},
		"":                             {twin(0, 10)},
	} {
		d := Of(&cost.Result{Currency: "USD", Period: october(), Split: cost.Split{Overall: ratio(100, 20, 3, 8, 90)}, Twins: twins}).Split
		if want == "" && d.TwinsNote != "" {
			t.Errorf("without a price: %q", d.TwinsNote)
		}
		says(t, want, d.TwinsNote, want)
	}
}

func TestStockFinding(t *testing.T) {
	item := func(name string, usage, price *calc.Figure) cost.Stock {
		return cost.Stock{Item: name, Unit: "g", Value: v(100), UsageVariance: usage, PriceVariance: price}
	}
	for name, x := range map[string]struct {
		stock []cost.Stock
		want  []string
	}{
		"uncounted": {[]cost.Stock{item("Wax", nil, v(0))}, []string{"worth $100.00", "Without two stock counts", "!Purchases cost"}},
		"over":      {[]cost.Stock{item("Wax", v(9), v(2)), item("Oil", v(-3), v(1))}, []string{"worth $200.00", "(2 materials), $6.00 more", "largest difference is Wax (+$9.00)", "$3.00 more than at the costs"}},
		"under":     {[]cost.Stock{item("Wax", v(-9), v(-2))}, []string{"(1 material), $9.00 less", "!largest", "$2.00 less than at the costs"}},
		"none":      {[]cost.Stock{item("Wax", v(0), nil)}, []string{"as much was used"}},
		"unknown":   {[]cost.Stock{{Item: "Wax", Unit: "g"}}, []string{"worth cannot be computed"}},
	} {
		says(t, name, Of(&cost.Result{Currency: "USD", Period: october(), Stock: x.stock}).Stock.Finding, x.want...)
	}
}

func TestFound(t *testing.T) {
	at := func(row, col int) cell.Ref { return cell.Ref{Sheet: "Sales", Row: row, Col: col} }
	bad := func(row, col int, money float64) problem.Problem {
		return problem.Problem{Severity: problem.Error, Code: problem.BadNumber, At: at(row, col), Amount: money, HasAmount: money != 0}
	}
	for name, x := range map[string]struct {
		problems []problem.Problem
		want     []string
	}{
		"clean":    {nil, []string{"No row or figure", "Nothing that was used looks wrong", "!default"}},
		"one row":  {[]problem.Problem{bad(3, 1, 20), bad(3, 2, 20)}, []string{"2 things", "$20.00 stands on them"}},
		"two rows": {[]problem.Problem{bad(3, 1, 20), bad(4, 1, 5)}, []string{"$25.00"}},
		"no money": {[]problem.Problem{bad(3, 1, 0)}, []string{"1 thing in the book could not be used and was left out.", "!stands on"}},
		"warning":  {[]problem.Problem{{Severity: problem.Warning, Code: problem.NumberStyle}}, []string{"1 thing looks wrong"}},
		"default":  {[]problem.Problem{{Severity: problem.Note, Code: problem.DefaultUsed}}, []string{"1 default stands in", "Nothing that was used"}},
	} {
		var l problem.List
		for _, p := range x.problems {
			l.Add(p)
		}
		says(t, name, Found(l, show.In("USD")), x.want...)
	}
}

func TestPrintedPartsAddUp(t *testing.T) {
	u := costs(10.0 / 3)
	u.Dye, u.Labor = v(0.005), v(1.0049)
	u.Total = calc.Add(Parts(u)...)
	m := &maker{r: &cost.Result{}, money: show.In("USD")}
	cells := m.printedParts(&cost.Product{UnitCost: u})
	sum := 0.0
	for _, s := range cells[:len(cells)-1] {
		sum += cents(t, s)
	}
	if total := cents(t, cells[len(cells)-1]); math.Abs(sum-total) > 1e-9 {
		t.Errorf("%v add up to %v, not %v", cells, sum, total)
	}
}
