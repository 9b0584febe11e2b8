package xlsx

import (
	"github.com/xuri/excelize/v2"

	"pourbook/compute/cost"
	"pourbook/report/show"
)

// split is colored against natural: the groups as a table, with a chart of the
// ratios over all, by season and by jar; below it the tests, the customers and
// what dropping either would do.
func split(r *cost.Result) page {
	s := &r.Split
	p := page{
		name: text("xlsx.cost.split"), title: text("xlsx.cost.split.title", "from", show.LongDate(s.From), "to", show.LongDate(s.To)),
		notes: []string{text("xlsx.cost.split.note")},
		head:  []column{{text("xlsx.by"), plain, 16}, {text("xlsx.group"), plain, 54}},
	}
	for _, code := range []string{"colored", "natural"} {
		p.head = append(p.head, column{text("xlsx." + code), whole, 18})
	}
	p.head = append(p.head, column{text("xlsx.ratio"), grams, 16})
	p.head = append(p.head, heads(grams, "ratio-low", "ratio-high")...)
	p.head = append(p.head, heads(share, "share")...)
	p.head = append(p.head, heads(grams, "n-eff")...)
	add := func(by, group string, x cost.Ratio) {
		p.rows = append(p.rows, []any{
			text("xlsx.by." + by), group, x.Colored, x.Natural,
			blank(x.Ratio), blank(x.RatioLow), blank(x.RatioHigh), blank(x.Share), blank(x.NEff),
		})
	}
	add("all", text("xlsx.all"), s.Overall)
	for _, g := range s.BySeason {
		add("season", season(g.Season, g.SeasonYear), g.Ratio)
	}
	for _, g := range s.ByJar {
		add("jar", g.Jar, g.Ratio)
	}
	charted := len(p.rows)
	for _, g := range s.BySeasonAndJar {
		add("both", season(g.Season, g.SeasonYear)+", "+g.Jar, g.Ratio)
	}
	p.chart = func(f *excelize.File, sheet string, first, last int) error {
		return ratioChart(f, sheet, first, first+charted-1, last)
	}
	p.rows = append(p.rows, tests(s)...)
	p.rows = append(p.rows, stakes(s)...)
	return p
}

// heading is text that heads rows within a page.
type heading string

func headings(codes ...string) []any {
	out := []any{nil}
	for _, c := range codes {
		out = append(out, heading(text("xlsx."+c)))
	}
	return out
}

func tests(s *cost.Split) [][]any {
	var out [][]any
	for _, t := range []struct {
		by string
		is *cost.Test
	}{{"season", s.SeasonTest}, {"jar", s.JarTest}} {
		if t.is == nil {
			continue
		}
		if out == nil {
			out = append(out, []any{}, headings("test", "chi-square", "df", "p"))
		}
		out = append(out, []any{text("xlsx.test"), text("xlsx.test." + t.by), shown{t.is.ChiSquare, grams}, shown{t.is.DF, whole}, shown{t.is.P, fine}})
	}
	return out
}

// stakes are wholesale, the customers by what they buy, and what dropping
// either finish puts at stake.
func stakes(s *cost.Split) [][]any {
	var out [][]any
	if w := s.Wholesale; w != nil {
		out = append(out, []any{text("xlsx.wholesale"), text("xlsx.wholesale.units"), w.Colored, w.Natural})
	}
	if c := s.Customers; c != nil {
		out = append(out, []any{}, headings("customers", "count", "net-sales", "contribution"))
		for _, g := range []struct {
			code string
			is   cost.CustomerGroup
		}{{"natural-only", c.NaturalOnly}, {"colored-only", c.ColoredOnly}, {"both", c.Both}} {
			out = append(out, []any{
				text("xlsx.customers"), text("xlsx.customers." + g.code),
				shown{g.is.Count, whole},
				shown{g.is.NetSales, amount},
				shown{g.is.Contribution, amount},
			})
		}
	}
	if d := s.DropNatural; d != nil {
		out = append(out, []any{}, headings("dropping", "amount", "share-of"),
			[]any{text("xlsx.dropping"), text("xlsx.drop-natural"), shown{d.AtRisk, amount}, shown{d.BreakEvenSwitch, share}})
	}
	if d := s.DropColor; d != nil {
		out = append(out, []any{text("xlsx.dropping"), text("xlsx.drop-color"), shown{d.Saved, amount}, shown{d.BreakEvenLoss, share}})
	}
	return out
}
