package xlsx

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/unitcost"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// Cost writes a costing as a workbook of live formulas over what was read from
// the book: change a pack price, a load, a drop count, a wage or a sales line
// and everything that rests on it follows. An error is a fault of the program.
func Cost(r *cost.Result, shop string) ([]byte, error) {
	w := &live{digits: show.In(r.Currency).Minor, sales: newSales(r)}
	for _, p := range []page{summary(r), products(r), prices(r), contents(r), channels(r), change(r), use(r), split(r), twins(r), stock(r)} {
		if len(p.rows) > 0 {
			w.pages = append(w.pages, p)
		}
	}
	return w.bytes(title(r), shop)
}

func title(r *cost.Result) string { return text("xlsx.cost.title", "period", words.Period(r.Period)) }

func text(key string, args ...any) string { return templates.Text(key, args...) }

// heads are columns by the codes of their titles.
func heads(f format, codes ...string) []column {
	var out []column
	for _, c := range codes {
		out = append(out, column{text("xlsx." + c), f, 12})
	}
	return out
}

func summary(r *cost.Result) page {
	p := page{name: text("xlsx.cost.summary"), title: title(r), notes: []string{
		text("xlsx.cost.basis", "currency", r.Currency, "method", text("cost.method."+r.Basis.CostMethod), "use", text("cost.basis."+r.Basis.Use)),
	}}
	if r.LinesTotal > len(r.Lines) {
		p.notes = append(p.notes, text("xlsx.cost.many-lines", "n", r.LinesTotal))
	} else {
		p.notes = append(p.notes, text("xlsx.cost.lines", "sums", inputName("sums")))
	}
	p.head = []column{{text("xlsx.what"), plain, 56}, {words.Period(r.Period), amount, 16}}
	all := []*cost.Totals{&r.Totals}
	for _, t := range []struct {
		code string
		is   *cost.Totals
	}{{"previous", r.Previous}, {"year-ago", r.YearAgo}} {
		if t.is != nil {
			p.head, all = append(p.head, column{text("xlsx.cost." + t.code), amount, 16}), append(all, t.is)
		}
	}
	for _, line := range totalLines {
		row := []any{text("xlsx." + line.code)}
		for _, t := range all {
			row = append(row, shown{line.of(t), line.format})
		}
		p.rows = append(p.rows, row)
	}
	for _, d := range r.Decisions {
		p.rows = append(p.rows, []any{text("xlsx.decision."+d.Code, "subject", d.Subject), d.Amount})
	}
	return p
}

// totalLines are the rows of the summary.
var totalLines = []struct {
	code   string
	format format
	of     func(*cost.Totals) *calc.Figure
}{
	{"units", whole, func(t *cost.Totals) *calc.Figure { return t.Units }},
	{"gross-sales", amount, func(t *cost.Totals) *calc.Figure { return t.GrossSales }},
	{"discounts", amount, func(t *cost.Totals) *calc.Figure { return t.Discounts }},
	{"net-sales", amount, func(t *cost.Totals) *calc.Figure { return t.NetSales }},
	{"cost-of-sales", amount, func(t *cost.Totals) *calc.Figure { return t.CostOfSales }},
	{"gross-margin", amount, func(t *cost.Totals) *calc.Figure { return t.GrossMargin }},
	{"fees", amount, func(t *cost.Totals) *calc.Figure { return t.Fees }},
	{"contribution", amount, func(t *cost.Totals) *calc.Figure { return t.Contribution }},
	{"booth-fees", amount, func(t *cost.Totals) *calc.Figure { return t.BoothFees }},
	{"overhead-absorbed", amount, func(t *cost.Totals) *calc.Figure { return t.OverheadAbsorbed }},
	{"overhead", amount, func(t *cost.Totals) *calc.Figure { return t.Overhead }},
	{"stock-differences", amount, func(t *cost.Totals) *calc.Figure { return t.StockDifferences }},
}

// productHead names a product.
func productHead() []column {
	return []column{{text("xlsx.product"), plain, 22}, {text("xlsx.name"), plain, 34}, {text("xlsx.finish"), plain, 11}}
}

func productRow(p *cost.Product, figures ...any) []any {
	return append([]any{p.Product, p.Name, text("word." + string(p.Finish))}, figures...)
}

func products(r *cost.Result) page {
	p := page{
		name: text("xlsx.cost.products"), title: text("xlsx.cost.products.title", "month", show.Month(r.Period.To.Month())),
		notes: []string{text("xlsx.cost.products.note", "currency", r.Currency, "period", words.Period(r.Period))},
		head:  append(productHead(), costHeads()...), chart: costChart,
	}
	p.head = append(p.head, column{text("xlsx.labor-minutes"), grams, 11}, column{text("xlsx.usual-batch"), whole, 11}, column{text("xlsx.list"), amount, 11})
	p.head = append(p.head, salesHeads()...)
	p.head = append(p.head, column{text("xlsx.margin-rate"), share, 11})
	for i := range r.Products {
		x := &r.Products[i]
		c := x.UnitCost
		if c == nil {
			c = &unitcost.Cost{}
		}
		row := append(costParts(c), x.LaborMinutes, x.UsualBatch, x.ListPrice)
		p.rows = append(p.rows, productRow(x, append(append(row, sold(x.Sales)...), x.MarginRate)...))
	}
	return p
}

// salesHeads and sold are what was sold and what it earned.
func salesHeads() []column {
	return append(heads(whole, "units"), heads(amount, "net-sales", "fees", "cost-of-sales", "gross-margin", "contribution")...)
}

func sold(s cost.Sales) []any {
	return []any{s.Units, s.NetSales, s.Fees, s.CostOfSales, s.GrossMargin, s.Contribution}
}

// contents is what one unit of each product holds.
func contents(r *cost.Result) page {
	p := page{name: text("xlsx.cost.contents"), title: text("xlsx.cost.contents.title"), head: productHead()}
	for _, k := range []book.Kind{book.Wax, book.Fragrance, book.Dye, book.Additive} {
		p.head = append(p.head, column{text("xlsx.grams-of", "part", text("part."+string(k))), grams, 12})
	}
	p.head = append(p.head, column{text("xlsx.drops"), grams, 12})
	for i := range r.Products {
		x := &r.Products[i]
		g := x.Grams
		if g == nil {
			g = &unitcost.Grams{}
		}
		p.rows = append(p.rows, productRow(x, g.Wax, g.Fragrance, g.Dye, g.Additive, x.Drops))
	}
	return p
}

func channels(r *cost.Result) page {
	p := page{
		name: text("xlsx.cost.channels"), title: text("xlsx.cost.channels.title", "period", words.Period(r.Period)),
		head: append([]column{{text("xlsx.channel"), plain, 26}}, salesHeads()...),
	}
	for _, c := range r.Channels {
		name := c.Channel
		if name == "" {
			name = text("xlsx.no-channel")
		}
		p.rows = append(p.rows, append([]any{name}, sold(c.Sales)...))
	}
	return p
}

func change(r *cost.Result) page {
	p := page{
		name: text("xlsx.cost.change"), title: text("xlsx.cost.change.title", "period", words.Period(r.Period)),
		notes: []string{text("xlsx.cost.change.note")},
		head:  append([]column{{text("xlsx.product"), plain, 36}}, heads(amount, "volume", "price-effect", "cost-effect", "change")...),
	}
	for _, c := range r.Change {
		p.rows = append(p.rows, []any{c.Product, c.Volume, c.Price, c.Cost, c.Total})
	}
	if len(p.rows) > 0 {
		p.rows = append(p.rows, []any{text("xlsx.quantity-effect"), r.QuantityEffect}, []any{text("xlsx.mix-effect"), r.MixEffect})
	}
	return p
}

func use(r *cost.Result) page {
	p := page{
		name: text("xlsx.cost.use"), title: text("xlsx.cost.use.title"), notes: []string{text("xlsx.cost.use.note")},
		head: []column{{text("xlsx.season"), plain, 18}, {text("xlsx.material"), plain, 30}, {text("xlsx.kind"), plain, 12}},
	}
	p.head = append(p.head, heads(grams, "grams", "ml", "drops")...)
	p.head = append(p.head, column{text("xlsx.cost"), amount, 12}, column{text("xlsx.per-kilo"), grams, 14}, column{text("xlsx.packs"), grams, 12})
	for _, u := range r.Use {
		p.rows = append(p.rows, []any{
			season(u.Season, u.SeasonYear), u.Material, text("part." + string(u.Kind)),
			u.Grams, blank(u.ML), blank(u.Drops), u.Cost, u.PerKilo(), blank(u.Bottles),
		})
	}
	return p
}

// blank leaves a figure's cell empty where there is nothing to know.
func blank(f *calc.Figure) any {
	if f.Known() {
		return f
	}
	return nil
}

func season(name string, year int) string {
	if name == "" {
		return text("cost.season.none", "year", year)
	}
	return text("cost.season.year", "season", name, "year", year)
}

func twins(r *cost.Result) page {
	p := page{
		name: text("xlsx.cost.color"), title: text("xlsx.cost.color.title"), notes: []string{text("xlsx.cost.products.note", "currency", r.Currency, "period", words.Period(r.Period))},
		head: []column{{text("xlsx.colored"), plain, 26}, {text("xlsx.twin"), plain, 26}},
	}
	for _, k := range []string{"dye", "labor", "overhead"} {
		p.head = append(p.head, column{text("part." + k), fine, 12})
	}
	p.head = append(p.head, column{text("xlsx.parts"), fine, 22}, column{text("xlsx.cost-of-color"), fine, 14})
	for _, t := range r.Twins {
		p.rows = append(p.rows, []any{t.Colored.Product, t.Natural.Product, t.Dye, t.Labor, t.Overhead, t.Parts, t.Total})
	}
	return p
}

func stock(r *cost.Result) page {
	p := page{
		name: text("xlsx.cost.stock"), title: text("xlsx.cost.stock.title", "period", words.Period(r.Period)),
		notes: []string{text("xlsx.cost.stock.note")},
		head:  []column{{text("xlsx.material"), plain, 30}, {text("xlsx.unit"), plain, 11}},
	}
	p.head = append(p.head, heads(grams, "opening", "purchased", "used", "closing")...)
	p.head = append(p.head, heads(amount, "worth")...)
	p.head = append(p.head, heads(grams, "actual-use")...)
	p.head = append(p.head, heads(amount, "usage-variance", "price-variance")...)
	p.head = append(p.head, heads(fine, "price-before", "price-now")...)
	for _, s := range r.Stock {
		p.rows = append(p.rows, []any{
			s.Item, s.Unit, s.Opening, s.Purchased, s.Used, s.Closing, s.Value, blank(s.ActualUse), blank(s.UsageVariance),
			s.PriceVariance, s.PriceBefore, s.Price,
		})
	}
	return p
}
