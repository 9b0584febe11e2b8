package costdoc

import (
	"math"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// text is the words of a key. A percent sign stays on the line of its number.
func text(key string, args ...any) string {
	return strings.ReplaceAll(templates.Text(key, args...), " %", "\u00a0%")
}

// sentences joins what is not empty.
func sentences(s ...string) string {
	var out []string
	for _, x := range s {
		if x != "" {
			out = append(out, x)
		}
	}
	return strings.Join(out, " ")
}

// list joins names as people do: "a", "a and b", "a, b and c".
func list(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return text("cost.and", "first", strings.Join(names[:last], ", "), "last", names[last])
}

func (m *maker) periodName() string {
	if m.r.Period.From == m.r.Period.To && m.r.Period.From == 0 {
		return text("cost.no-period")
	}
	return words.Period(m.r.Period)
}

// in is the period after a verb: "in October 2026", "from 1 May 2026 to ...".
func (m *maker) in() string {
	p := m.r.Period
	switch {
	case p.From == 0 && p.To == 0:
		return text("cost.in.none")
	case p.OneMonth():
		return text("cost.in.month", "period", m.period)
	}
	return text("cost.in.range", "period", m.period)
}

// facts are the period and the currency as they stand beside a title, and more.
func (m *maker) facts(more ...Fact) []Fact {
	return append([]Fact{
		{text("cost.fact.period"), m.shortPeriod()},
		{text("cost.fact.money"), text("cost.fact.money.is", "currency", m.money.Code)},
	}, more...)
}

func (m *maker) shortPeriod() string {
	p := m.r.Period
	if p.OneMonth() || p.From == p.To {
		return m.period
	}
	return text("cost.fact.range", "from", shortDate(p.From), "to", shortDate(p.To))
}

func shortDate(d day.Date) string { return d.Time().Format("2 Jan 2006") }

// before and yearAgo name the months that the period is compared with.
func (m *maker) before() string { return show.Month(m.r.Period.From.Month() - 1) }

func (m *maker) yearAgo() string { return show.Month(m.r.Period.From.Month() - 12) }

// season is a season's name with its year; one that runs over new year has both.
func (m *maker) season(name string, year int) string {
	if name == "" {
		return text("cost.season.none", "year", year)
	}
	for _, s := range m.r.Seasons.All() {
		if s.Name.V == name && s.From > s.To {
			return text("cost.season.wraps", "season", name, "year", year, "next", show.Decimals(float64((year+1)%100)+100, 0)[1:])
		}
	}
	return text("cost.season.year", "season", name, "year", year)
}

// briefSeason is a season's name in a narrow place: "Aut 2025".
func (m *maker) briefSeason(name string, year int) string {
	r := []rune(name)
	if len(r) == 0 {
		return text("cost.season.none.short", "year", year)
	}
	return text("cost.season.year", "season", string(r[:min(3, len(r))]), "year", year)
}

// running reports whether a season holds the period's last day and goes on after it.
func (m *maker) running(name string, year int) bool {
	all := &m.r.Seasons
	if len(all.All()) == 0 {
		return false
	}
	now := all.Of(m.r.Period.To)
	return all.Name(now) == name && int(now.Year) == year && all.Of(m.r.Period.To+1) == now
}

func finish(f book.Finish) string { return text("cost.finish." + string(f)) }

// title is a product's name, or its code.
func title(p *cost.Product) string {
	if p.Name != "" {
		return p.Name
	}
	return p.Product
}

// brief is a name in a sentence, cut where it would crowd out what is said.
func brief(name string) string {
	const most = 44
	r := []rune(name)
	if len(r) <= most {
		return name
	}
	return strings.TrimRight(string(r[:most-1]), " ,.;") + "…"
}

// briefTitle is a product's title in a sentence; one that is cut is followed by
// the code, which tells products apart.
func briefTitle(p *cost.Product) string {
	t := title(p)
	if b := brief(t); b != t {
		return text("cost.coded", "title", b, "code", p.Product)
	}
	return t
}

// subject is what a decision is about, in a sentence: a product's title, else
// the name as it is.
func (m *maker) subject(name string) string {
	if name == "" {
		return text("cost.no-channel")
	}
	for i := range m.r.Products {
		if m.r.Products[i].Product == name {
			return briefTitle(&m.r.Products[i])
		}
	}
	return brief(name)
}

// than says how an amount differs from an earlier one: "$12.00 (4 %) more than
// in September 2026"; "" when either is unknown.
func (m *maker) than(now, before *calc.Figure, when string) string {
	d, ok := calc.Sub(now, before).Value()
	if !ok {
		return ""
	}
	shown := m.money.Of(math.Abs(d))
	if shown == m.money.Of(0) {
		return text("cost.than.same", "when", when)
	}
	key := "cost.than.more"
	if d < 0 {
		key = "cost.than.less"
	}
	was := before.Or(0)
	if was <= 0 || now.Or(0) < 0 || math.Abs(d)/was < 0.005 {
		return text(key+".amount", "amount", shown, "when", when)
	}
	return text(key, "amount", shown, "percent", show.Share(math.Abs(d)/was, 0), "when", when)
}

// move says in short how a figure differs from an earlier one: "4 % less than
// in September 2026".
func (m *maker) move(now, before *calc.Figure, when string) string {
	d, ok := calc.Sub(now, before).Value()
	was := before.Or(0)
	if !ok || was <= 0 || now.Or(0) < 0 {
		return m.than(now, before, when)
	}
	share := show.Share(math.Abs(d)/was, 0)
	switch {
	case share == show.Share(0, 0):
		return text("cost.than.about", "when", when)
	case d < 0:
		return text("cost.than.less.share", "percent", share, "when", when)
	}
	return text("cost.than.more.share", "percent", share, "when", when)
}

// nan is a figure's value for a chart, NaN when it is unknown.
func nan(f *calc.Figure) float64 {
	if v, ok := f.Value(); ok {
		return v
	}
	return math.NaN()
}

// known keeps the figures that have a value.
func known(figures []*calc.Figure) []*calc.Figure {
	var out []*calc.Figure
	for _, f := range figures {
		if f.Known() {
			out = append(out, f)
		}
	}
	return out
}

// sum adds what is known; unknown when nothing is.
func sum(figures []*calc.Figure) *calc.Figure {
	if k := known(figures); len(k) > 0 {
		return calc.Add(k...)
	}
	return nil
}

// column rounds the figures of a column so that they add up to their total.
func (m *maker) column(figures []*calc.Figure) []string { return show.Parts(figures, m.money.Minor) }

// signed is an amount with a plus sign for gains.
func (m *maker) signed(f *calc.Figure) string {
	if v, ok := f.Value(); ok {
		return m.money.Signed(v)
	}
	return show.Unknown
}
