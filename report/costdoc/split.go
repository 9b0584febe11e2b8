package costdoc

import (
	"math"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// Split is colored against natural.
type Split struct {
	Head
	Heads      []string // of Range.Cells
	Less, More string   // what lies left and right of level
	Ranges     Ranges
	Tens       *Tens
	Tests      []string
	Customers  *Table
	Dropping   []string
	Twins      *Table
	TwinsNote  string
}

// Ranges are ratios with their 95 % ranges.
type Ranges struct {
	Title, Aside string
	Rows         []Range
}

// Range is a ratio; Mid is NaN where there is none, High +Inf where it has no bound.
type Range struct {
	Group, Label   string
	Low, Mid, High float64
	Thin           bool
	Cells          []Cell
}

// Tens says how many of ten to pour are colored.
type Tens struct {
	Title, Aside string
	Blocks       []TensBlock
	Note         string
}

// TensBlock is a jar.
type TensBlock struct {
	Title string
	Rows  []TensRow
}

// TensRow is a season: Solid colored, Either could go either way, the rest natural.
type TensRow struct {
	Label         string
	Solid, Either int
}

// thin is the effective number of units under which a ratio is shown as open
// (common practice, no source).
const thin = 30

func (m *maker) split() *Split {
	s := &m.r.Split
	if sold(&s.Overall) == 0 {
		return nil
	}
	out := &Split{Less: text("cost.split.less"), More: text("cost.split.more")}
	out.Heads = []string{text("cost.split.col.colored"), text("cost.split.col.natural"), text("cost.split.col.ratio"), text("cost.split.col.range")}
	out.Head = Head{
		Title: text("cost.split.title"), Subtitle: text("cost.split.subtitle"),
		Facts: []Fact{
			{text("cost.fact.window"), text("cost.fact.range", "from", shortDate(s.From), "to", shortDate(s.To))},
			{text("cost.fact.interval"), text("cost.fact.interval.is")},
			{text("cost.fact.thin"), text("cost.fact.thin.is", "n", thin)},
		},
		Finding: sentences(m.ratioFinding(), m.testFinding()),
	}
	out.Ranges = m.ranges()
	out.Tens = m.tens()
	out.Tests = m.tests()
	out.Customers = m.customers()
	out.Dropping = m.dropping()
	m.colorCost(out)
	return out
}

func sold(r *cost.Ratio) float64 { return r.Colored.Or(0) + r.Natural.Or(0) }

// ratioFinding says how many colored are sold for each natural one.
func (m *maker) ratioFinding() string {
	s := &m.r.Split.Overall
	c, n := s.Colored.Or(0), s.Natural.Or(0)
	args := []any{
		"colored", show.Units(s.Colored), "natural", show.Units(s.Natural), "ratio", show.Ratio(s.Ratio),
		"low", show.Ratio(s.RatioLow), "high", show.Ratio(s.RatioHigh), "ten", show.Decimals(10*c/(c+n), 0),
	}
	switch {
	case n == 0:
		return text("cost.split.only-colored", args...)
	case c == 0:
		return text("cost.split.only-natural", args...)
	case isThin(s):
		return text("cost.split.thin", args...)
	case !s.RatioLow.Known() || !s.RatioHigh.Known():
		return text("cost.split.ratio", args...)
	case s.RatioLow.Or(0) > 1:
		return text("cost.split.colored-leads", args...)
	case s.RatioHigh.Or(0) < 1:
		return text("cost.split.natural-leads", args...)
	}
	return text("cost.split.level", args...)
}

func isThin(r *cost.Ratio) bool { return r.NEff.Or(0) < thin }

// likely is the p-value under which a difference is called one.
const likely = 0.05

// testFinding says whether the ratio differs by season and by jar.
func (m *maker) testFinding() string {
	key := "cost.split.differs"
	for _, t := range []*cost.Test{m.r.Split.SeasonTest, m.r.Split.JarTest} {
		answer := "no"
		switch {
		case t == nil || !t.P.Known():
			answer = "open"
		case t.P.Or(1) < likely:
			answer = "yes"
		}
		key += "." + answer
	}
	return text(key)
}

// tests say it with the numbers.
func (m *maker) tests() []string {
	one := func(what string, t *cost.Test) string {
		if t == nil || !t.P.Known() {
			return text("cost.split.test.open", "what", text("cost.split.what."+what))
		}
		p := t.P.Or(1)
		key := "cost.split.test.no"
		switch {
		case p < 0.01:
			key = "cost.split.test.sure"
		case p < likely:
			key = "cost.split.test.likely"
		}
		return text(key, "what", text("cost.split.what."+what), "p", chance(p),
			"chi", show.Decimal(t.ChiSquare, 1), "df", show.Decimal(t.DF, 0))
	}
	return []string{one("season", m.r.Split.SeasonTest), one("jar", m.r.Split.JarTest)}
}

// chance is a probability in words: "1 in 40", or a bound when it is tiny.
func chance(p float64) string {
	switch {
	case p < 0.001:
		return text("cost.chance.tiny")
	case p < 0.1:
		return text("cost.chance.in", "n", show.Decimals(1/p, 0))
	}
	return text("cost.chance.percent", "percent", show.Decimals(100*p, 0))
}

// ranges are the ratios of all jars by season, of all seasons by jar, and of
// each jar in the last year's seasons.
func (m *maker) ranges() Ranges {
	s := &m.r.Split
	out := Ranges{Title: text("cost.split.ranges"), Aside: text("cost.split.ranges.aside")}
	add := func(group, label string, r *cost.Ratio) {
		row := m.rangeRow(r, label)
		row.Group = group
		out.Rows = append(out.Rows, row)
	}
	group := text("cost.split.all-jars")
	for i := range s.BySeason {
		g := &s.BySeason[i]
		add(group, m.briefSeason(g.Season, g.SeasonYear), &g.Ratio)
		group = ""
	}
	add(group, text("cost.split.all-seasons"), &s.Overall)
	if len(s.ByJar) < 2 {
		return out
	}
	recent := m.recentSeasons()
	for i := range s.ByJar {
		jar := &s.ByJar[i]
		group := jar.Jar
		if jar.Natural.Or(0) == 0 || jar.Colored.Or(0) == 0 {
			add(group, text("cost.split.all-seasons"), &jar.Ratio)
			continue
		}
		for j := range s.BySeasonAndJar {
			g := &s.BySeasonAndJar[j]
			if g.Jar == jar.Jar && recent[[2]any{g.Season, g.SeasonYear}] {
				add(group, m.briefSeason(g.Season, g.SeasonYear), &g.Ratio)
				group = ""
			}
		}
		add(group, text("cost.split.all-seasons"), &jar.Ratio)
	}
	return out
}

// byJar puts the groups of a jar together.
func (m *maker) byJar(groups []cost.SplitGroup) []cost.SplitGroup {
	var out []cost.SplitGroup
	seen := map[string]bool{}
	for _, g := range groups {
		if seen[g.Jar] {
			continue
		}
		seen[g.Jar] = true
		for _, h := range groups {
			if h.Jar == g.Jar {
				out = append(out, h)
			}
		}
	}
	return out
}

func (m *maker) rangeRow(r *cost.Ratio, label string) Range {
	row := Range{Label: label, Low: nan(r.RatioLow), Mid: nan(r.Ratio), High: nan(r.RatioHigh), Thin: isThin(r)}
	bounds := show.Unknown
	if r.RatioLow.Known() && r.RatioHigh.Known() {
		bounds = text("cost.range", "low", ratioNumber(r.RatioLow), "high", ratioNumber(r.RatioHigh))
	}
	row.Cells = []Cell{
		{Text: show.Units(r.Colored), Muted: row.Thin},
		{Text: show.Units(r.Natural), Muted: row.Thin},
		{Text: ratioNumber(r.Ratio), Bold: !row.Thin, Muted: row.Thin},
		{Text: bounds, Muted: row.Thin},
	}
	return row
}

// ratioNumber is a ratio without ": 1", for columns.
func ratioNumber(f *calc.Figure) string {
	v, ok := f.Value()
	switch {
	case !ok:
		return show.Unknown
	case v > 0 && v < 1:
		return show.Decimals(v, 2)
	}
	return show.Decimals(v, 1)
}

// tensSeasons is a year of seasons.
const tensSeasons = 4

// tens are, by jar, the last seasons whose range is known.
func (m *maker) tens() *Tens {
	s := &m.r.Split
	t := &Tens{Title: text("cost.split.tens"), Aside: text("cost.split.tens.aside")}
	left := 0
	groups := m.byJar(s.BySeasonAndJar)
	recent := m.recentSeasons()
	for i := range groups {
		g := &groups[i]
		if !recent[[2]any{g.Season, g.SeasonYear}] {
			continue
		}
		row, ok := tensRow(&g.Ratio)
		if !ok {
			left++
			continue
		}
		row.Label = m.season(g.Season, g.SeasonYear)
		if n := len(t.Blocks); n == 0 || t.Blocks[n-1].Title != g.Jar {
			t.Blocks = append(t.Blocks, TensBlock{Title: g.Jar})
		}
		b := &t.Blocks[len(t.Blocks)-1]
		b.Rows = append(b.Rows, row)
	}
	if left > 0 {
		t.Note = text("cost.split.tens.left", "n", left)
	}
	if len(t.Blocks) == 0 {
		return nil
	}
	return t
}

func (m *maker) recentSeasons() map[[2]any]bool {
	out := map[[2]any]bool{}
	all := m.r.Split.BySeason
	for _, g := range all[max(0, len(all)-tensSeasons):] {
		out[[2]any{g.Season, g.SeasonYear}] = true
	}
	return out
}

// tensRow needs both bounds: without a natural one there is no upper bound.
func tensRow(r *cost.Ratio) (TensRow, bool) {
	if !r.RatioLow.Known() || !r.RatioHigh.Known() {
		return TensRow{}, false
	}
	solid := int(math.Round(10 * shareOf(r.RatioLow.Or(0))))
	return TensRow{Solid: solid, Either: int(math.Round(10*shareOf(r.RatioHigh.Or(0)))) - solid}, true
}

func shareOf(ratio float64) float64 { return ratio / (1 + ratio) }
