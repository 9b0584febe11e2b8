package main

// Outside checks: other programs' figures, and published ones.
var (
	gnuUnits    = test{"./compute/unit", "TestAgainstGNUUnits$"}
	books       = test{"./cmd/pourbook", "TestPublishedFiguresAsBooks$"}
	panels      = test{"./cmd/pourbook", "TestSupermarketPanelsAgainstR$"}
	wine        = test{"./cmd/pourbook", "TestWineSalesAgainstR$|TestSeasonsPublished$"}
	stock       = test{"./cmd/pourbook", "TestStockOverMonthsAgainstR$"}
	expected    = test{"./cmd/pourbook", "TestExpectedTotalsAgainstR$"}
	doses       = test{"./cmd/pourbook", "TestDosesAgainstFractions$"}
	worth       = test{"./cmd/pourbook", "TestContributionOfPlansAgainstSciPy$"}
	waits       = test{"./cmd/pourbook", "TestPoursWaitForMaterialsAgainstPython$"}
	first       = test{"./cmd/pourbook", "TestFirstRunsAgainstFractions$"}
	color       = test{"./cmd/pourbook", "TestColorAgainstFractions$"}
	wilson      = test{"./compute/stat", "TestWilsonPublished$|TestWilsonAgainstR$"}
	pooled      = test{"./compute/stat", "TestPooledTablesAgainstR$"}
	floors      = test{"./compute/calc", "TestFloorsAgainstFractions$"}
	chiSquare   = test{"./compute/stat", "TestChiSquarePublished$|TestChiSquareAgainstR$"}
	kish        = test{"./compute/stat", "TestKishAgainstR$"}
	negBin      = test{"./compute/stat", "TestNegBinAgainstSciPy$|TestNegBinTendsToThePoisson$|TestNegBinAgainstR$"}
	lines       = test{"./compute/stat", "TestFitLinePublished$|TestPredictionAgainstSciPy$|TestLinesAgainstR$"}
	rolls       = test{"./compute/unitcost", "TestPublishedMaterialCosts$"}
	variances   = test{"./compute/unitcost", "TestPublishedVariances$|TestPublishedVariancesByWeight$"}
	mixPublic   = test{"./compute/cost", "TestMixAndQuantityPublished$"}
	fromMargin  = test{"./compute/price", "TestPriceFromMargin$"}
	breakEven   = test{"./compute/price", "TestBreakEven$|TestBreakEvenOfAMix$"}
	covers      = test{"./compute/plan/bench", "TestPackCoversAgainstGLPK$"}
	days        = test{"./compute/plan/bench", "TestOrdersOfADayAgainstGLPK$"}
	equalOrders = test{"./compute/plan/bench", "TestEqualOrdersAgainstGLPK$"}
	pots        = test{"./compute/plan/bench", "TestPoursOfABatchAgainstGLPK$"}
	keptSets    = test{"./compute/plan/bench", "TestKnapsackP01$|TestKeptSetsAgainstGLPK$|TestLargerKeptSetsAgainstGLPK$"}
	apportioned = test{"./report/show", "TestApportionPublished$|TestDecimals$"}
)

// The packages' own tests.
var (
	ownUnitcost = test{"./compute/unitcost", "Test"}
	ownSales    = test{"./compute/sales", "Test"}
	ownCost     = test{"./compute/cost", "Test"}
	ownStat     = test{"./compute/stat", "TestPool$|TestKish$|TestNegBin.*(Own|Large|Ends)"}
	ownPlan     = test{"./compute/plan", "Test"}
	ownBench    = test{"./compute/plan/bench", "Test"}
	ownPrice    = test{"./compute/price", "Test"}
	ownCalc     = test{"./compute/calc", "Test"}
)

type tests = []test

// mutations break every formula in one or more places.
var mutations = []mutation{
	{name: "units", file: "compute/unit/unit.go", old: "453.59237", put: "453.6", outside: tests{gnuUnits}},
	{name: "units", file: "compute/unit/unit.go", old: "28.349523125", put: "28.35", outside: tests{gnuUnits}},
	{name: "units", file: "compute/unit/unit.go", old: "29.5735295625", put: "28.4130625", outside: tests{gnuUnits}},
	{name: "units", file: "compute/unit/unit.go", old: "3785.411784", put: "4546.09", outside: tests{gnuUnits}},
	{name: "units", file: "compute/unit/unit.go", old: "4.92892159375", put: "5.0", outside: tests{gnuUnits}},
	{name: "units", file: "compute/unit/unit.go", old: "3 * MLPerTeaspoon", put: "4 * MLPerTeaspoon", outside: tests{gnuUnits}},
	{name: "recipe units", file: "compute/unit/unit.go", old: `{"oz/lb", PerWax, false, 1, 16}`, put: `{"oz/lb", PerWax, false, 1, 12}`, outside: tests{gnuUnits}},
	{name: "recipe units", file: "compute/unit/unit.go", old: "8 * GramsPerOunce", put: "6 * GramsPerOunce", outside: tests{gnuUnits}},
	{name: "mass and volume by density", file: "compute/unitcost/material.go", old: "return calc.Div(q, e.density(m, needs))", put: "return calc.Mul(q, e.density(m, needs))", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "mass and volume by density", file: "compute/unitcost/material.go", old: "return calc.Mul(q, e.density(m, needs))", put: "return calc.Div(q, e.density(m, needs))", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "drops per gram", file: "compute/unitcost/material.go", old: `s.dropsPerGram = calc.Div(e.in(perML, "material.drops-per-ml", m.Name.V)`, put: `s.dropsPerGram = calc.Mul(e.in(perML, "material.drops-per-ml", m.Name.V)`, outside: tests{books, panels}, own: tests{ownUnitcost}},

	{name: "ingredient ratios", file: "compute/unitcost/blend.go", old: "x.dose = calc.Div(x.dose, calc.Const(i.Rate.On))", put: "x.dose = calc.Div(x.dose, calc.Const(i.Rate.On+1))", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "ingredient ratios", file: "compute/unitcost/blend.go", old: "x.dose = calc.Div(x.dose, e.DropsPerGram(i.Material))", put: "x.dose = calc.Mul(x.dose, e.DropsPerGram(i.Material))", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "ingredient ratios", file: "compute/unitcost/blend.go", old: "f == book.Natural && i.Material.Kind == book.Dye", put: "f == book.Colored && i.Material.Kind == book.Dye", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "wax in a jar", file: "compute/unitcost/blend.go", old: "calc.Sub(calc.Const(1), b), calc.Add(ofWax...)", put: "calc.Add(calc.Const(1), b), calc.Add(ofWax...)", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "wax in a jar", file: "compute/unitcost/blend.go", old: "[]*calc.Figure{calc.Const(1)}, []*calc.Figure{}", put: "[]*calc.Figure{calc.Const(2)}, []*calc.Figure{}", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "wax in a jar", file: "compute/unitcost/blend.go", old: "share = calc.Div(w.dose, total)", put: "share = calc.Div(w.dose, calc.Add(total, total))", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "fill from a capacity", file: "compute/unitcost/content.go", old: "volumes = append(volumes, calc.Div(x.Share, d))", put: "volumes = append(volumes, calc.Mul(x.Share, d))", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "fill from a capacity", file: "compute/unitcost/content.go", old: "\t\te.Density(m.Recipe, m.Finish)).Named(", put: "\t\tcalc.Const(1)).Named(", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "issued per good unit", file: "compute/unitcost/issued.go", old: "g := calc.Div(calc.Div(i.Grams, e.filled), e.good)", put: "g := calc.Div(calc.Mul(i.Grams, e.filled), e.good)", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "issued per good unit", file: "compute/unitcost/engine.go", old: "e.good = calc.Sub(calc.Const(1), e.Setting(book.RejectRate))", put: "e.good = calc.Div(calc.Const(1), calc.Add(calc.Const(1), e.Setting(book.RejectRate)))", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "issued per good unit", file: "compute/unitcost/engine.go", old: "e.filled = calc.Sub(", put: "e.filled = calc.Add(", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "issued per good unit", file: "compute/unitcost/issued.go", old: "q := calc.Div(p.Quantity, e.good)", put: "q := p.Quantity", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "usual batch", file: "compute/unitcost/labor.go", old: "calc.Mul(e.Setting(book.Pitcher), e.filled)", put: "calc.Div(e.Setting(book.Pitcher), e.filled)", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "usual batch", file: "compute/unitcost/labor.go", old: "full := calc.Floor(", put: "full := calc.Max(", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "labor minutes", file: "compute/unitcost/labor.go", old: "if m.Finish == book.Colored {", put: "if m.Finish == book.Natural {", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "labor minutes", file: "compute/unitcost/labor.go", old: "calc.Div(all, e.good)", put: "calc.Mul(all, e.good)", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "labor minutes", file: "compute/unitcost/labor.go", old: "calc.Div(l.minutes, calc.Const(60))", put: "calc.Div(l.minutes, calc.Const(100))", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "overhead rate", file: "compute/unitcost/labor.go", old: "asOf(calc.Div(e.Overhead(month), hours)", put: "asOf(calc.Mul(e.Overhead(month), hours)", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "overhead rate", file: "compute/unitcost/labor.go", old: "o.To.V < month.First()", put: "o.To.V > month.First()", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "overhead rate", file: "compute/unitcost/changes.go", old: "o.To.V.Month()+1", put: "o.To.V.Month()", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "unit cost", file: "compute/unitcost/cost.go", old: "append(parts, c.Labor, c.Overhead)", put: "append(parts, c.Labor)", outside: tests{panels}, own: tests{ownUnitcost}},
	{name: "unit cost", file: "compute/unitcost/cost.go", old: "asOf(calc.Sub(c.Total, c.Overhead)", put: "asOf(calc.Sub(c.Total, c.Labor)", outside: tests{panels}, own: tests{ownUnitcost}},

	{name: "landed price", file: "compute/unitcost/purchase.go", old: `landed = calc.Add(landed, e.in(number(p.Freight), "material.freight", name, on))`, put: `landed = calc.Sub(landed, e.in(number(p.Freight), "material.freight", name, on))`, outside: tests{rolls, books, panels}, own: tests{ownUnitcost}},
	{name: "landed price", file: "compute/unitcost/purchase.go", old: `landed = calc.Add(landed, e.in(number(p.Freight), "material.pack-freight", name))`, put: `landed = calc.Sub(landed, e.in(number(p.Freight), "material.pack-freight", name))`, outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "latest price", file: "compute/unitcost/price.go", old: "buys[n-1].price", put: "buys[max(0, n-2)].price", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "latest price", file: "compute/unitcost/changes.go", old: "s.changes = append(s.changes, b.day.Month())", put: "s.changes = append(s.changes, b.day.Month()+1)", outside: tests{books, panels}, own: tests{ownUnitcost}},
	{name: "latest price", file: "compute/unitcost/price.go", old: "s.own = calc.Min(all...)", put: "s.own = calc.Max(all...)", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "average roll", file: "compute/unitcost/roll.go", old: "stock := calc.Add(r.opening, r.bought)", put: "stock := calc.Sub(calc.Add(r.opening, r.bought), r.use)", outside: tests{rolls, books}, own: tests{ownUnitcost}},
	{name: "average roll", file: "compute/unitcost/roll.go", old: "if len(buys) == 0 {", put: "if len(buys) < 2 {", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "average roll", file: "compute/unitcost/roll.go", old: "values := []*calc.Figure{calc.Mul(r.opening, a.cost)}", put: "values := []*calc.Figure{calc.Mul(r.closing, a.cost)}", outside: tests{rolls, books}, own: tests{ownUnitcost}},
	{name: "average roll", file: "compute/unitcost/roll.go", old: "x.without = calc.Max(calc.Zero, calc.Sub(calc.Add(opening, x.bought), x.use))", put: "x.without = calc.Sub(calc.Add(opening, x.bought), x.use)", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "first in, first out", file: "compute/unitcost/layers.go", old: "sum += v[i+2] * max(0, min(v[i+1], v[1])-max(v[i], v[0]))", put: "sum += v[i+2] * max(0, max(v[i+1], v[1])-max(v[i], v[0]))", outside: tests{rolls, books}, own: tests{ownUnitcost}},
	{name: "first in, first out", file: "compute/unitcost/layers.go", old: "wanted := calc.Add(from, r.use)", put: "wanted := r.use", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "first in, first out", file: "compute/unitcost/layers.go", old: "value = calc.Add(value, calc.Mul(excess, newest))", put: "value = calc.Add(value, calc.Mul(excess, l.prices[0]))", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "stock count", file: "compute/unitcost/roll.go", old: "calc.Sub(calc.Add(c.qty, bought), e.Use(s.mat, c.day+1, until))", put: "calc.Sub(calc.Add(c.qty, bought), e.Use(s.mat, c.day, until))", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "stock count", file: "compute/unitcost/roll.go", old: "quantity(between(s.buys, c.day+1, until))", put: "quantity(between(s.buys, c.day, until))", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "stock count", file: "compute/unitcost/layers.go", old: "l.taken = calc.Min(l.end(), calc.Add(l.taken, missing))", put: "l.taken = calc.Min(l.end(), calc.Sub(l.taken, missing))", outside: tests{stock}, own: tests{ownUnitcost}},
	{name: "use of a material", file: "compute/unitcost/use.go", old: "sum = append(sum, calc.Mul(units, u.issued))", put: "sum = append(sum, units)", outside: tests{rolls, books, panels}, own: tests{ownUnitcost}},
	{name: "usage variance", file: "compute/unitcost/stock.go", old: "calc.Mul(calc.Sub(actual, theory), e.Price(s.mat, to.Month()))", put: "calc.Mul(calc.Sub(theory, actual), e.Price(s.mat, to.Month()))", outside: tests{variances, books}, own: tests{ownUnitcost}},
	{name: "usage variance", file: "compute/unitcost/stock.go", old: "calc.Sub(calc.Add(first.qty, bought), last.qty)", put: "calc.Add(calc.Sub(first.qty, bought), last.qty)", outside: tests{variances, books}, own: tests{ownUnitcost}},
	{name: "price variance", file: "compute/unitcost/stock.go", old: "calc.Sub(b.landed, calc.Mul(b.qty, e.Price(s.mat, b.day.Month()-1)))", put: "calc.Sub(b.landed, calc.Mul(b.qty, e.Price(s.mat, b.day.Month())))", outside: tests{stock}, own: tests{ownUnitcost}},

	{name: "rounding when shown", file: "report/show/show.go", old: "out[i] = calc.FloorOf(x * scale)", put: "out[i] = calc.FloorOf(x*scale + 0.5)", outside: tests{apportioned}},
	{name: "rounding when shown", file: "compute/money/money.go", old: "Round(places).Round(to).StringFixed(to)", put: "Round(places).RoundDown(to).StringFixed(to)", outside: tests{apportioned}},
	{name: "floor with a slack", file: "compute/calc/ops.go", old: "return math.Floor(v + math.Abs(v)*slack)", put: "return math.Floor(v - math.Abs(v)*slack)", outside: tests{floors}, own: tests{ownCalc, ownPlan}},
	{name: "net of a line", file: "compute/sales/line.go", old: "q.Mul(price).Sub(discount)", put: "q.Mul(price).Add(discount)", outside: tests{panels}, own: tests{ownSales}},
	{name: "net of a line", file: "compute/sales/line.go", old: "w.Gross = w.Net.Add(discount)", put: "w.Gross = w.Net.Sub(discount)", outside: tests{stock}, own: tests{ownSales}},
	{name: "net of a line", file: "compute/sales/line.go", old: "discount.Abs().Neg()", put: "discount.Abs()", outside: tests{stock}, own: tests{ownSales}},
	{name: "net of a line", file: "compute/book/sales.go", old: "return a.Qty.Neg()", put: "return a.Qty", outside: tests{stock}, own: tests{ownSales}},
	{name: "fees of an order", file: "compute/sales/line.go", old: "fixed + f.order*x.net/l.orders.net(n)", put: "fixed + f.order*l.orders.net(n)/l.orders.net(n)", outside: tests{panels}, own: tests{ownSales}},
	{name: "fees of an order", file: "compute/sales/line.go", old: "return f.share * x.net\n", put: "return f.share*x.net + f.unit*x.units\n", outside: tests{panels}, own: tests{ownSales}},
	{name: "fees of an order", file: "compute/sales/line.go", old: "f.share*x.net + f.unit*x.units\n", put: "f.share*x.net + f.unit\n", outside: tests{stock}, own: tests{ownSales}},
	{name: "fees of an order", file: "compute/sales/order.go", old: "n = o.meet(orderKey{places[s.Places[i]].Channel, id})", put: "n = o.meet(orderKey{0 * places[s.Places[i]].Channel, id})", outside: tests{panels}, own: tests{ownSales}},
	{name: "cost of sales", file: "compute/cost/tally.go", old: "calc.Mul(units, part(x.cost))", put: "part(x.cost)", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "cost of sales", file: "compute/cost/tally.go", old: "c := costs.In(m.month)", put: "c := costs.In(r.month())", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "gross margin", file: "compute/cost/tally.go", old: "x.GrossMargin = calc.Sub(x.NetSales, x.CostOfSales)", put: "x.GrossMargin = calc.Add(x.NetSales, x.CostOfSales)", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "margin %", file: "compute/cost/parts.go", old: "calc.Div(x.GrossMargin, x.NetSales)", put: "calc.Div(x.GrossMargin, x.CostOfSales)", outside: tests{stock}, own: tests{ownCost}},
	{name: "contribution", file: "compute/cost/tally.go", old: "calc.Sub(calc.Sub(x.NetSales, x.Fees), cost", put: "calc.Sub(calc.Add(x.NetSales, x.Fees), cost", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "break-even units", file: "compute/price/price.go", old: "p.BreakEven = calc.Div(p.Launch, earns)", put: "p.BreakEven = calc.Div(p.Launch, p.List)", outside: tests{books, panels, breakEven}, own: tests{ownPrice}},
	{name: "change: volume, price, cost", file: "compute/cost/change.go", old: "calc.Mul(calc.Sub(is.Units, was.Units), calc.Sub(p0, c0))", put: "calc.Mul(calc.Sub(is.Units, was.Units), calc.Sub(p1, c1))", outside: tests{mixPublic, books, panels}, own: tests{ownCost}},
	{name: "change: volume, price, cost", file: "compute/cost/change.go", old: "calc.Mul(calc.Sub(p1, p0), is.Units)", put: "calc.Mul(calc.Sub(p1, p0), was.Units)", outside: tests{mixPublic, books, panels}, own: tests{ownCost}},
	{name: "change: volume, price, cost", file: "compute/cost/change.go", old: "calc.Mul(calc.Sub(c0, c1), is.Units)", put: "calc.Mul(calc.Sub(c1, c0), is.Units)", outside: tests{mixPublic, books, panels}, own: tests{ownCost}},
	{name: "mix and quantity", file: "compute/cost/change.go", old: "calc.Mul(calc.Sub(q1, q0), average)", put: "calc.Mul(calc.Add(q1, q0), average)", outside: tests{mixPublic, books, panels}, own: tests{ownCost}},
	{name: "mix and quantity", file: "compute/cost/change.go", old: "calc.Sub(calc.Add(volumes...), r.res.QuantityEffect)", put: "calc.Add(calc.Add(volumes...), r.res.QuantityEffect)", outside: tests{mixPublic, books, panels}, own: tests{ownCost}},
	{name: "overhead absorbed", file: "compute/cost/parts.go", old: "r.earnings(row, s).overhead", put: "r.earnings(row, s).CostOfSales", outside: tests{panels}, own: tests{ownCost}},
	{name: "overhead absorbed", file: "compute/unitcost/labor.go", old: "m <= to.Month(); m++", put: "m < to.Month(); m++", outside: tests{panels}, own: tests{ownCost}},
	{name: "stock differences", file: "compute/unitcost/stock.go", old: "calc.Mul(calc.Sub(m.without, m.closing), m.cost)", put: "calc.Mul(calc.Sub(m.closing, m.without), m.cost)", outside: tests{stock}, own: tests{ownCost, ownUnitcost}},

	{name: "season of a date", file: "compute/sales/season.go", old: "\t\ty--\n", put: "", outside: tests{wine, panels}, own: tests{ownSales}},
	{name: "season of a date", file: "compute/sales/season.go", old: "to = 229", put: "to = 227", outside: tests{wine, panels}, own: tests{ownSales}},
	{name: "dye and fragrance use", file: "compute/cost/use.go", old: "calc.Div(x.Grams, m.density)", put: "calc.Mul(x.Grams, m.density)", outside: tests{panels}, own: tests{ownCost}},
	{name: "dye and fragrance use", file: "compute/cost/use.go", old: "calc.Mul(x.Grams, m.dropsPerGram)", put: "calc.Div(x.Grams, m.dropsPerGram)", outside: tests{panels}, own: tests{ownCost}},
	{name: "dye and fragrance use", file: "compute/cost/use.go", old: "calc.Mul(x.Grams, calc.Const(1000))", put: "calc.Mul(x.Grams, calc.Const(100))", outside: tests{color}, own: tests{ownCost}},
	{name: "dye and fragrance use", file: "compute/cost/use.go", old: ".price(month), m.wax", put: ".price(u.month()), m.wax", outside: tests{stock}, own: tests{ownCost}},
	{name: "split window", file: "compute/cost/window.go", old: "const splitMonths = 24", put: "const splitMonths = 23", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "split window", file: "compute/cost/window.go", old: "to.AddMonths(-splitMonths) + 1", put: "to.AddMonths(-splitMonths)", outside: tests{stock}, own: tests{ownCost}},
	{name: "colored to natural", file: "compute/cost/split.go", old: "r.Ratio = calc.Div(c, n)", put: "r.Ratio = calc.Div(n, c)", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "colored to natural", file: "compute/cost/split.go", old: "r.Share = calc.Div(c, both)", put: "r.Share = calc.Div(n, both)", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "colored to natural", file: "compute/cost/split.go", old: "calc.Div(p, calc.Sub(calc.Const(1), p))", put: "calc.Div(calc.Sub(calc.Const(1), p), p)", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "Wilson interval", file: "compute/stat/proportion.go", old: "const z95 = 1.959964", put: "const z95 = 1.95", outside: tests{wilson}},
	{name: "Wilson interval", file: "compute/stat/proportion.go", old: "calc.Mul(calc.Const(4), n)", put: "calc.Mul(calc.Const(2), n)", outside: tests{wilson}},
	{name: "Wilson interval", file: "compute/stat/proportion.go", old: "calc.Div(z2n, calc.Const(2))", put: "calc.Div(z2n, calc.Const(4))", outside: tests{wilson}},
	{name: "Wilson interval", file: "compute/stat/proportion.go", old: "scale := calc.Add(one, z2n)", put: "scale := calc.Sub(one, z2n)", outside: tests{wilson}},
	{name: "Wilson interval", file: "compute/stat/proportion.go", old: "calc.Mul(p, calc.Sub(one, p))", put: "calc.Mul(p, calc.Add(one, p))", outside: tests{wilson}},
	{name: "effective size", file: "compute/stat/proportion.go", old: "calc.Div(calc.Mul(sum, sum), squares)", put: "calc.Div(sum, squares)", outside: tests{kish}},
	{name: "effective size", file: "compute/stat/proportion.go", old: "return calc.Min(most, ", put: "return calc.Max(most, ", outside: tests{kish}},
	{name: "effective size", file: "compute/cost/split.go", old: "g.squares+m*m", put: "g.squares+m", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "chi-square", file: "compute/stat/proportion.go", old: "calc.Div(calc.Mul(d, d), expected)", put: "calc.Div(calc.Mul(d, d), x.seen)", outside: tests{chiSquare}},
	{name: "chi-square", file: "compute/stat/proportion.go", old: "distuv.ChiSquared{K: v[1]}.Survival(v[0])", put: "distuv.ChiSquared{K: v[1]}.CDF(v[0])", outside: tests{chiSquare}},
	{name: "differences by season or jar", file: "compute/cost/window.go", old: "float64(len(rows)-1)", put: "float64(len(rows))", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "differences by season or jar", file: "compute/cost/window.go", old: "calc.Div(stat.ChiSquare(rows), design)", put: "calc.Mul(stat.ChiSquare(rows), design)", outside: tests{books, panels}, own: tests{ownCost}},
	{name: "pooling of small groups", file: "compute/stat/proportion.go", old: "const least = 5", put: "const least = 1", outside: tests{pooled}, own: tests{ownStat, ownCost}},
	{name: "customers", file: "compute/cost/customers.go", old: "if net[0] > 0 {", put: "if net[0] > 1 {", outside: tests{stock}, own: tests{ownCost}},
	{name: "customers", file: "compute/cost/customers.go", old: "; !at.wholesale", put: "; at.wholesale", outside: tests{panels}, own: tests{ownCost}},
	{name: "break-even switch", file: "compute/cost/customers.go", old: `calc.Div(perUnit(natural, "natural"), perUnit(colored, "colored"))`, put: `calc.Div(perUnit(colored, "colored"), perUnit(natural, "natural"))`, outside: tests{panels}, own: tests{ownCost}},
	{name: "break-even loss", file: "compute/cost/customers.go", old: "calc.Div(saved, colored.Contribution)", put: "calc.Div(saved, colored.NetSales)", outside: tests{panels}, own: tests{ownCost}},
	{name: "break-even loss", file: "compute/cost/customers.go", old: "calc.Add(c.Dye, labor)", put: "calc.Sub(c.Dye, labor)", outside: tests{panels}, own: tests{ownCost}},
	{name: "cost of color", file: "compute/cost/parts.go", old: `return calc.Sub(x, y).Named("color-cost."+key, c.Product)`, put: `return calc.Sub(y, x).Named("color-cost."+key, c.Product)`, outside: tests{color}, own: tests{ownCost}},
	{name: "cost of color", file: "compute/cost/parts.go", old: "calc.Sub(calc.Sub(calc.Sub(t.Total, t.Dye), t.Labor), t.Overhead)", put: "calc.Sub(calc.Add(calc.Sub(t.Total, t.Dye), t.Labor), t.Overhead)", outside: tests{color}, own: tests{ownCost}},

	{name: "expected total", file: "compute/plan/expect.go", old: "calc.Add(calc.Const(1), optional(o.of.Growth", put: "calc.Sub(calc.Const(1), optional(o.of.Growth", outside: tests{panels}, own: tests{ownPlan}},
	{name: "expected total", file: "compute/plan/expect.go", old: "calc.Div(calc.Add(sums...), calc.Const(float64(len(sums))))", put: "calc.Add(sums...)", outside: tests{expected}, own: tests{ownPlan}},
	{name: "expected total", file: "compute/sales/market.go", old: "off := max(x.Day-first, first-x.Day)", put: "off := x.Day - first", outside: tests{panels}, own: tests{ownSales}},
	{name: "product share", file: "compute/plan/demand.go", old: "half := calc.Const(0.5)", put: "half := calc.Const(1)", outside: tests{panels}, own: tests{ownPlan}},
	{name: "product share", file: "compute/plan/demand.go", old: "share = calc.Div(calc.Add(at[i], calc.Mul(prior, mix[i])), weight)", put: "share = calc.Div(calc.Sub(at[i], calc.Mul(prior, mix[i])), weight)", outside: tests{panels}, own: tests{ownPlan}},
	{name: "product share", file: "compute/plan/demand.go", old: "r.opts.Today.AddMonths(-24)+1", put: "r.opts.Today.AddMonths(-12)+1", outside: tests{panels}, own: tests{ownPlan}},
	{name: "demand of a product", file: "compute/stat/negbin.go", old: "d.R / (d.R + d.Mean)", put: "d.Mean / (d.R + d.Mean)", outside: tests{negBin}},
	{name: "demand of a product", file: "compute/stat/negbin.go", old: "mathext.RegIncBeta(d.R, float64(k)+1, d.chance())", put: "mathext.RegIncBeta(d.R, float64(k), d.chance())", outside: tests{negBin}},
	{name: "spread of demand", file: "compute/plan/expect.go", old: "float64(len(used) - len(groups))", put: "float64(len(used))", outside: tests{expected, panels}, own: tests{ownPlan}},
	{name: "spread of demand", file: "compute/plan/expect.go", old: "calc.Sub(cv2, calc.Div(calc.Const(1), mean))", put: "calc.Add(cv2, calc.Div(calc.Const(1), mean))", outside: tests{expected, panels}, own: tests{ownPlan}},
	{name: "spread of demand", file: "compute/plan/expect.go", old: "mostSpread  = 50.0", put: "mostSpread  = 60.0", outside: tests{expected, panels}, own: tests{ownPlan}},
	{name: "what to bring", file: "compute/plan/demand.go", old: "calc.Div(d.Under, calc.Add(d.Under, d.Over))", put: "calc.Div(d.Over, calc.Add(d.Under, d.Over))", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "what to bring", file: "compute/plan/demand.go", old: "calc.Mul(cost.Variable, calc.Sub(calc.Const(1), r.leftover()))", put: "calc.Mul(cost.Variable, calc.Add(calc.Const(1), r.leftover()))", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "what to bring", file: "compute/plan/demand.go", old: "calc.Div(order, r.ledger.UnitsPerOrder(ch))", put: "calc.Mul(order, r.ledger.UnitsPerOrder(ch))", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "what to bring", file: "compute/stat/negbin.go", old: "return d.CDF(k) >= ratio", put: "return d.CDF(k) > 1-ratio", outside: tests{negBin}},
	{name: "cap on all units", file: "compute/plan/demand.go", old: "return c.under*sold - c.over*(1-sold)", put: "return c.under*sold - c.under*(1-sold)", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "cap on all units", file: "compute/plan/bring.go", old: "ratio += c.Mean * c.critical", put: "ratio += c.critical", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "cap on all units", file: "compute/plan/bring.go", old: "limit = min(limit, int(", put: "limit = max(limit, int(", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "expected sold", file: "compute/stat/negbin.go", old: "return d.Mean*below + float64(q)*d.Above(q-1)", put: "return d.Mean*below + float64(q)*d.Above(q)", outside: tests{negBin}},
	{name: "expected sold", file: "compute/stat/negbin.go", old: "mathext.RegIncBeta(d.R+1, float64(q)-1, d.chance())", put: "mathext.RegIncBeta(d.R, float64(q)-1, d.chance())", outside: tests{negBin}},
	{name: "expected contribution", file: "compute/plan/bring.go", old: "calc.Sub(calc.Mul(d.Under, sold), left)", put: "calc.Add(calc.Mul(d.Under, sold), left)", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "units to pour", file: "compute/plan/job.go", old: "float64(need) / r.good.Or(1)", put: "float64(need) * r.good.Or(1)", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "units to pour", file: "compute/plan/job.go", old: "max(0, d.Bring-d.OnHand)", put: "max(0, d.Bring+d.OnHand)", outside: tests{books, panels}, own: tests{ownPlan}},

	{name: "pours of a batch", file: "compute/plan/bench/split.go", old: "int((pot.Grams-grams+pot.Grams*slack)/sorts[i].Grams)", put: "int((pot.Grams+grams+pot.Grams*slack)/sorts[i].Grams)", outside: tests{pots}, own: tests{ownBench}},
	{name: "pours of a batch", file: "compute/plan/bench/split.go", old: "int(math.Ceil(q - q*slack))", put: "int(math.Ceil(q + 1))", outside: tests{pots}, own: tests{ownBench}},
	{name: "blend of a batch", file: "compute/plan/job.go", old: "j.fill = calc.Div(content.Fill, poured)", put: "j.fill = calc.Mul(content.Fill, poured)", outside: tests{doses}, own: tests{ownPlan}},
	{name: "dose of a pour", file: "compute/plan/pour.go", old: "math.Floor(n*(1+1e-9)+0.5) * v[1]", put: "math.Floor(n*(1+1e-9)) * v[1]", outside: tests{doses}, own: tests{ownPlan}},
	{name: "dose of a pour", file: "compute/plan/pour.go", old: "const dropsToWeigh = 60", put: "const dropsToWeigh = 80", outside: tests{doses}, own: tests{ownPlan}},
	{name: "dose of a pour", file: "compute/plan/pour.go", old: "calc.Div(calc.Sub(rounded, exact), exact)", put: "calc.Div(calc.Sub(exact, rounded), exact)", outside: tests{doses}, own: tests{ownPlan}},
	{name: "last day of a pour", file: "compute/plan/shop.go", old: "b.due = wanted - b.cure - wholeDays(margin.V)", put: "b.due = wanted - b.cure + wholeDays(margin.V)", outside: tests{doses}, own: tests{ownPlan}},
	{name: "last day of a pour", file: "compute/plan/shop.go", old: "Arrives: r.opts.Today + leadDays(m)", put: "Arrives: r.opts.Today - leadDays(m)", outside: tests{waits}, own: tests{ownPlan}},
	{name: "last day of a pour", file: "compute/plan/bench/board.go", old: "b.Days[early] < stock.Arrives", put: "b.Days[early] <= stock.Arrives", outside: tests{waits}, own: tests{ownBench}},
	{name: "change-over", file: "compute/plan/bench/changeover.go", old: "case from.Dye != 0 && from.Dye != to.Dye:", put: "case to.Dye != 0 && from.Dye != to.Dye:", outside: tests{equalOrders, keptSets}, own: tests{ownBench}},
	{name: "change-over", file: "compute/plan/bench/changeover.go", old: "case from.Recipe == to.Recipe:", put: "case from.Recipe != to.Recipe:", outside: tests{days, keptSets}, own: tests{ownBench, ownPlan}},
	{name: "order of a day", file: "compute/plan/bench/changeover.go", old: "c := row[next] + togo[int(left&^(1<<next))*n+next]; c < best", put: "c := row[next] + togo[int(left&^(1<<next))*n+next]; c > best", outside: tests{days}, own: tests{ownBench}},
	{name: "order of a day", file: "compute/plan/bench/changeover.go", old: "cmp.Compare(x.Drops, y.Drops)", put: "cmp.Compare(y.Drops, x.Drops)", outside: tests{equalOrders}, own: tests{ownBench}},
	{name: "kept where not all fits", file: "compute/plan/bench/keep.go", old: "worth += x.Worth[good]", put: "worth += x.Worth[0]", outside: tests{keptSets}, own: tests{ownBench}},
	{name: "bound", file: "compute/plan/bench/bound.go", old: "v += l.charge[k] * l.Stock[m].Held", put: "v -= l.charge[k] * l.Stock[m].Held", outside: tests{keptSets}, own: tests{ownBench}},
	{name: "bound", file: "compute/plan/bench/bound.go", old: "v += got * float64(c.days)", put: "v += got", outside: tests{keptSets}, own: tests{ownBench}},
	{name: "plan's contribution", file: "compute/plan/leftout.go", old: "calc.Sub(whole, calc.Add(gone...))", put: "calc.Add(whole, calc.Add(gone...))", outside: tests{worth}, own: tests{ownPlan}},
	{name: "plan's contribution", file: "compute/plan/leftout.go", old: "r.earns(j.demand, j.demand.Bring-units)", put: "r.earns(j.demand, units)", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "packs to order", file: "compute/plan/bench/cover.go", old: "now := cost + float64(k)*s.Price", put: "now := cost + float64(k)*s.Price*s.Price", outside: tests{covers}},
	{name: "packs to order", file: "compute/plan/order.go", old: "bench.Cover(need.Or(0)-has.Or(0), sizes)", put: "bench.Cover(need.Or(0), sizes)", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "order by", file: "compute/plan/order.go", old: "return p.Day - leadDays(m)", put: "return p.Day + leadDays(m)", outside: tests{doses}, own: tests{ownPlan}},
	{name: "pull list", file: "compute/plan/order.go", old: "calc.Min(need, has)", put: "calc.Max(need, has)", outside: tests{books, panels}, own: tests{ownPlan}},
	{name: "pull list", file: "compute/plan/order.go", old: "min(d.Bring, d.OnHand)", put: "max(d.Bring, d.OnHand)", outside: tests{doses}, own: tests{ownPlan}},

	{name: "price for a margin", file: "compute/price/price.go", old: "calc.Sub(calc.Sub(calc.Const(1), share(c)), r.res.Target)", put: "calc.Sub(calc.Add(calc.Const(1), share(c)), r.res.Target)", outside: tests{fromMargin, books, panels}, own: tests{ownPrice}},
	{name: "price for a margin", file: "compute/price/price.go", old: "calc.Div(calc.Add(cost, r.fixedFees(c)), left)", put: "calc.Mul(calc.Add(cost, r.fixedFees(c)), calc.Sub(calc.Const(2), left))", outside: tests{fromMargin, books, panels}, own: tests{ownPrice}},
	{name: "price ending", file: "compute/price/price.go", old: "math.Ceil(v[0]-math.Abs(v[0])*1e-9-v[1]) + v[1]", put: "math.Floor(v[0]-math.Abs(v[0])*1e-9-v[1]) + v[1]", outside: tests{fromMargin, books, panels}, own: tests{ownPrice}},
	{name: "margin after fees", file: "compute/price/price.go", old: "calc.Sub(calc.Sub(price, r.fees(c, price)), cost), price)", put: "calc.Sub(calc.Sub(price, r.fees(c, price)), cost), cost)", outside: tests{fromMargin, books, panels}, own: tests{ownPrice}},
	{name: "wholesale price", file: "compute/price/price.go", old: "calc.Mul(p.List, calc.Sub(calc.Const(1), r.engine.Setting(book.WholesaleDisc)))", put: "calc.Mul(p.List, r.engine.Setting(book.WholesaleDisc))", outside: tests{books}, own: tests{ownPrice}},
	{name: "wholesale price", file: "compute/price/price.go", old: "calc.Div(calc.Sub(whole, p.UnitCost.Total), whole)", put: "calc.Div(calc.Sub(whole, p.UnitCost.Total), p.List)", outside: tests{fromMargin, books, panels}, own: tests{ownPrice}},
	{name: "place in the range", file: "compute/stat/regress.go", old: "calc.Const(float64(len(x)-2))", put: "calc.Const(float64(len(x)-1))", outside: tests{lines}},
	{name: "place in the range", file: "compute/stat/regress.go", old: "calc.Div(calc.Mul(d, d), l.sxx)", put: "calc.Div(d, l.sxx)", outside: tests{lines}},
	{name: "place in the range", file: "compute/stat/regress.go", old: "Quantile(1 - v[0]/2)", put: "Quantile(1 - v[0])", outside: tests{lines}},
	{name: "place in the range", file: "compute/stat/regress.go", old: "calc.Sub(my, calc.Mul(l.Slope, mx))", put: "calc.Add(my, calc.Mul(l.Slope, mx))", outside: tests{lines}},
	{name: "place in the range", file: "compute/price/range.go", old: "calc.Ln(p.Fill)), append(y, calc.Ln(p.Price))", put: "p.Fill), append(y, calc.Ln(p.Price))", outside: tests{panels}, own: tests{ownPrice}},
	{name: "place in the range", file: "compute/price/range.go", old: "calc.Exp(calc.Sub(at, half))", put: "calc.Exp(calc.Add(at, half))", outside: tests{panels}, own: tests{ownPrice}},
	{name: "launch cost", file: "compute/price/price.go", old: "calc.Mul(p.TestJars, parts)", put: "calc.Add(p.TestJars, parts)", outside: tests{books, panels}, own: tests{ownPrice}},
	{name: "first run by finish", file: "compute/price/first.go", old: "calc.Mul(p.UsualBatch, share)", put: "calc.Div(p.UsualBatch, share)", outside: tests{first}, own: tests{ownPrice}},
	{name: "part of the command line", file: "compute/unitcost/cost.go", old: "calc.Div(f, e.good)", put: "f", outside: tests{books, panels}, own: tests{ownUnitcost}},
}
