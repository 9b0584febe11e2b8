package costdoc

import (
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// Use is the dye and fragrance that each season took.
type Use struct {
	Head
	Charts []UseChart
	Table  Table
	Grams  *Table // by material and season
}

// UseChart is the use of a kind by season, in a unit named by its title.
type UseChart struct {
	Title  string
	Labels []string
	Values []float64
}

// seasonUse is what one season took.
type seasonUse struct {
	season string
	year   int
	rows   []cost.Use
}

func (s *seasonUse) of(k book.Kind) []cost.Use {
	var out []cost.Use
	for _, u := range s.rows {
		if u.Kind == k {
			out = append(out, u)
		}
	}
	return out
}

// sum adds a figure of the rows of a kind; unknown where there is none.
func (s *seasonUse) sum(k book.Kind, of func(cost.Use) *calc.Figure) *calc.Figure {
	var f []*calc.Figure
	for _, u := range s.of(k) {
		f = append(f, of(u))
	}
	return sum(f)
}

func grams(u cost.Use) *calc.Figure   { return u.Grams }
func drops(u cost.Use) *calc.Figure   { return u.Drops }
func bottles(u cost.Use) *calc.Figure { return u.Bottles }
func costOf(u cost.Use) *calc.Figure  { return u.Cost }

func (m *maker) seasons() []*seasonUse {
	var out []*seasonUse
	for _, u := range m.r.Use {
		n := len(out)
		if n == 0 || out[n-1].season != u.Season || out[n-1].year != u.SeasonYear {
			out = append(out, &seasonUse{season: u.Season, year: u.SeasonYear})
			n++
		}
		out[n-1].rows = append(out[n-1].rows, u)
	}
	return out
}

// rowsInFull is about how many rows of season and material are shown in full;
// the last season always is.
const rowsInFull = 16

func (m *maker) use() *Use {
	all := m.seasons()
	if len(all) == 0 {
		return nil
	}
	first := len(all) - 1
	for rows := len(all[first].rows); first > 0 && rows+len(all[first-1].rows) <= rowsInFull; first-- {
		rows += len(all[first-1].rows)
	}
	u := &Use{Table: m.useTable(all[first:])}
	u.Head = Head{
		Title: text("cost.use.title"), Subtitle: text("cost.use.subtitle"),
		Facts:   m.facts(Fact{text("cost.fact.use"), m.useBasis()}),
		Finding: m.useFinding(all),
	}
	for _, k := range []book.Kind{book.Fragrance, book.Dye} {
		if c, ok := m.useChart(all, k); ok {
			u.Charts = append(u.Charts, c)
		}
	}
	if first > 0 {
		t := m.gramsTable(all)
		u.Grams = &t
	}
	return u
}

// useFinding says what the last season took.
func (m *maker) useFinding(all []*seasonUse) string {
	s := all[len(all)-1]
	name := m.season(s.season, s.year)
	key := "cost.use.took"
	if m.running(s.season, s.year) {
		key = "cost.use.so-far"
	}
	f, d := s.sum(book.Fragrance, grams), s.sum(book.Dye, grams)
	switch {
	case f.Or(0) > 0 && d.Or(0) > 0:
		key += ".both"
	case f.Or(0) > 0:
		key += ".fragrance"
	case d.Or(0) > 0:
		key += ".dye"
	default:
		return text("cost.use.nothing", "season", name)
	}
	return sentences(text(key, "season", name, "fragrance", show.Weight(f), "dye", show.Weight(d),
		"fragrance-cost", m.money.Amount(s.sum(book.Fragrance, costOf)), "dye-cost", m.money.Amount(s.sum(book.Dye, costOf))),
		m.dyeFinding(s, d), m.useAgainst(all, s, f))
}

// dyeFinding says how many drops and bottles the dye came to.
func (m *maker) dyeFinding(s *seasonUse, d *calc.Figure) string {
	if d.Or(0) <= 0 {
		return ""
	}
	n, b := s.sum(book.Dye, drops), s.sum(book.Dye, bottles)
	switch {
	case n.Or(0) > 0 && b.Or(0) > 0:
		return text("cost.use.drops", "drops", show.Decimal(n, 0), "bottles", show.Decimal(b, 1))
	case b.Or(0) > 0:
		return text("cost.use.bottles", "bottles", show.Decimal(b, 1))
	}
	return ""
}

// useAgainst compares the fragrance with that of the same season a year before.
func (m *maker) useAgainst(all []*seasonUse, s *seasonUse, f *calc.Figure) string {
	if m.running(s.season, s.year) || f.Or(0) <= 0 {
		return ""
	}
	for _, x := range all {
		if x.season != s.season || x.year != s.year-1 {
			continue
		}
		was := x.sum(book.Fragrance, grams).Or(0)
		if was <= 0 {
			return ""
		}
		share := f.Or(0)/was - 1
		key := "cost.use.more"
		switch {
		case show.Share(math.Abs(share), 0) == show.Share(0, 0):
			key = "cost.use.same"
		case share < 0:
			key = "cost.use.less"
		}
		return text(key, "percent", show.Share(math.Abs(share), 0), "season", m.season(x.season, x.year))
	}
	return ""
}

// seasonsInChart is as many columns as can be told apart side by side.
const seasonsInChart = 9

func (m *maker) useChart(all []*seasonUse, k book.Kind) (UseChart, bool) {
	c := UseChart{Title: text("cost.use.chart." + string(k))}
	any := false
	for _, s := range all[max(0, len(all)-seasonsInChart):] {
		v := nan(s.sum(k, grams))
		if !math.IsNaN(v) {
			any = true
		}
		c.Labels = append(c.Labels, m.shortSeason(s))
		c.Values = append(c.Values, v)
	}
	return c, any
}

// shortSeason is a season's name in a narrow place: "Aut 25".
func (m *maker) shortSeason(s *seasonUse) string {
	name := []rune(s.season)
	if len(name) == 0 {
		name = []rune(show.Nil)
	}
	return text("cost.season.short", "season", string(name[:min(3, len(name))]), "year", show.Decimals(float64(s.year%100)+100, 0)[1:])
}

func (m *maker) useTable(all []*seasonUse) Table {
	t := Table{Title: text("cost.use.table"), Aside: text("cost.use.table.aside")}
	t.Columns = []Column{
		{Title: text("cost.use.col.season"), Kind: Text},
		{Title: text("cost.col.material"), Kind: Name},
		{Title: "", Kind: Text},
		{Title: text("cost.use.col.g"), Kind: Number},
		{Title: text("cost.use.col.ml"), Kind: Number},
		{Title: text("cost.use.col.drops"), Kind: Number},
		{Title: text("cost.use.col.bottles"), Kind: Number},
		{Title: text("cost.use.col.per-kg"), Kind: Number},
		{Title: text("cost.use.col.cost", "currency", m.money.Code), Kind: Number},
	}
	for i := len(all) - 1; i >= 0; i-- {
		s := all[i]
		name := m.season(s.season, s.year)
		rows := append(s.of(book.Fragrance), s.of(book.Dye)...)
		figures := make([]*calc.Figure, len(rows))
		for j, u := range rows {
			figures[j] = u.Cost
		}
		for j, costs := range m.column(figures) {
			u := rows[j]
			t.Rows = append(t.Rows, Row{Group: j == 0, Cells: []Cell{
				{Text: name, Bold: true},
				{Text: u.Material},
				{Text: text("cost.kind." + string(u.Kind))},
				{Text: show.Decimal(u.Grams, 1)},
				{Text: show.Decimal(u.ML, 1)},
				{Text: nilOr(u.Drops, 0)},
				{Text: show.Decimal(u.Bottles, 2)},
				{Text: show.Decimal(u.PerKilo(), 2)},
				{Text: costs},
			}})
			name = ""
		}
	}
	return t
}

// nilOr is an en dash for a figure that does not apply.
func nilOr(f *calc.Figure, n int32) string {
	if !f.Known() {
		return show.Nil
	}
	return show.Decimal(f, n)
}

// gramsTable is what each season took of each material; of dyes also the drops.
func (m *maker) gramsTable(all []*seasonUse) Table {
	all = all[max(0, len(all)-seasonsInChart):]
	t := Table{Title: text("cost.use.grams"), Aside: text("cost.use.grams.aside")}
	t.Columns = []Column{{Title: text("cost.col.material"), Kind: Name}, {Title: "", Kind: Text}}
	for _, s := range all {
		t.Columns = append(t.Columns, Column{Title: m.shortSeason(s), Kind: Number})
	}
	row := func(name, unit string, k book.Kind, of func(cost.Use) *calc.Figure, n int32) Row {
		r := Row{Group: name != "", Cells: []Cell{{Text: name}, {Text: unit}}}
		for _, s := range all {
			text := show.Nil
			if i := slices.IndexFunc(s.rows, func(u cost.Use) bool { return u.Material == name && u.Kind == k }); i >= 0 {
				text = show.Decimal(of(s.rows[i]), n)
			}
			r.Cells = append(r.Cells, Cell{Text: text})
		}
		return r
	}
	for _, k := range []book.Kind{book.Fragrance, book.Dye} {
		for _, name := range m.usedMaterials(all, k) {
			t.Rows = append(t.Rows, row(name, text("cost.use.col.g"), k, grams, 1))
			if k == book.Dye && anyDrops(all, name) {
				drop := row(name, text("cost.use.col.drops"), k, drops, 0)
				drop.Cells[0].Text, drop.Group = "", false
				t.Rows = append(t.Rows, drop)
			}
		}
	}
	return t
}

// usedMaterials are the names of the materials of a kind, in the order of the book.
func (m *maker) usedMaterials(all []*seasonUse, k book.Kind) []string {
	var out []string
	used := map[string]bool{}
	for _, s := range all {
		for _, u := range s.of(k) {
			if !used[u.Material] {
				used[u.Material] = true
				out = append(out, u.Material)
			}
		}
	}
	place := map[string]int{}
	for i, x := range m.b.Materials {
		place[x.Name.V] = i
	}
	slices.SortStableFunc(out, func(a, b string) int { return place[a] - place[b] })
	return out
}

func anyDrops(all []*seasonUse, name string) bool {
	for _, s := range all {
		for _, u := range s.rows {
			if u.Material == name && u.Drops.Or(0) != 0 {
				return true
			}
		}
	}
	return false
}
