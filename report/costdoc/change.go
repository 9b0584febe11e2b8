package costdoc

import (
	"math"
	"sort"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// Change is what products and channels earned, and what moved against the month
// before. Without such a month there are no Effects.
type Change struct {
	Head
	Title, Aside string // of the effects
	Effects      []Effect
	Remarks      []string
	Products     Table
	Channels     Table
	Materials    *Table
}

// Effect is why the gross margin moved; NaN when it is unknown.
type Effect struct {
	Label, Sub string
	Value      float64
}

// effects are the sums of the products' effects.
type effects struct{ volume, price, cost, total *calc.Figure }

func (m *maker) change() *Change {
	moved := m.moved()
	c := &Change{Title: text("cost.change.effects"), Aside: m.money.Code, Products: m.productTable(), Channels: m.channelTable()}
	if len(c.Products.Rows) == 0 && len(moved) == 0 {
		return nil
	}
	c.Head = Head{
		Title: text("cost.earned.title"), Subtitle: text("cost.earned.subtitle"), Facts: m.facts(),
		Finding: sentences(m.earnedFinding(), m.materialFinding(moved)),
	}
	if len(m.r.Change) > 0 {
		e := m.sumEffects()
		c.Head.Title, c.Subtitle = text("cost.change.title"), text("cost.change.subtitle", "period", m.period, "before", m.before())
		c.Finding = sentences(m.changeFinding(e), m.materialFinding(moved))
		c.Effects = m.effectRows(e)
		if n := m.unknownChanges(); n > 0 {
			c.Remarks = append(c.Remarks, text("cost.change.unknown", "n", n))
		}
	}
	if len(moved) > 0 {
		t := m.movedTable(moved)
		c.Materials = &t
	}
	return c
}

func (m *maker) sumEffects() effects {
	var v, p, c, t []*calc.Figure
	for _, x := range m.r.Change {
		if x.Total.Known() {
			v, p, c, t = append(v, x.Volume), append(p, x.Price), append(c, x.Cost), append(t, x.Total)
		}
	}
	return effects{sum(v), sum(p), sum(c), sum(t)}
}

func (m *maker) unknownChanges() int {
	n := 0
	for _, x := range m.r.Change {
		if !x.Total.Known() {
			n++
		}
	}
	return n
}

// changeFinding says which effect moved the gross margin most, and which stood
// against it.
func (m *maker) changeFinding(e effects) string {
	total, ok := e.total.Value()
	switch {
	case !ok:
		return text("cost.change.no-cost")
	}
	shown := m.money.Of(math.Abs(total))
	key := "cost.change.up"
	switch {
	case shown == m.money.Of(0):
		key = "cost.change.same"
	case total < 0:
		key = "cost.change.down"
	}
	with, against := m.leading(e, total)
	return sentences(text(key, "amount", shown, "before", m.before()), with, against)
}

// leading names the largest effect in the direction of the total, and the
// largest against it that is more than a twentieth of it.
func (m *maker) leading(e effects, total float64) (with, against string) {
	most, least := 0.0, 0.0
	for _, x := range []struct {
		key string
		f   *calc.Figure
	}{{"volume", e.volume}, {"price", e.price}, {"cost", e.cost}} {
		v := x.f.Or(0)
		if m.money.Of(math.Abs(v)) == m.money.Of(0) {
			continue
		}
		name, amount := text("cost.change.by."+x.key), m.money.Signed(v)
		if v*total > 0 && math.Abs(v) > most {
			most = math.Abs(v)
			with = text("cost.change.with", "effect", name, "amount", amount)
		}
		if v*total < 0 && math.Abs(v) > max(least, math.Abs(total)/20) {
			least = math.Abs(v)
			against = text("cost.change.against", "effect", name, "amount", amount)
		}
	}
	return with, against
}

func (m *maker) effectRows(e effects) []Effect {
	row := func(key string, f *calc.Figure) Effect {
		return Effect{Label: text("cost.change." + key), Sub: text("cost.change." + key + ".sub"), Value: nan(f)}
	}
	out := []Effect{row("volume", e.volume)}
	if m.r.QuantityEffect.Known() && m.r.MixEffect.Known() {
		out = []Effect{row("quantity", m.r.QuantityEffect), row("mix", m.r.MixEffect)}
	}
	return append(out, row("price", e.price), row("cost", e.cost), row("all", e.total))
}

// moved is a material whose cost is not what it was before the period.
type moved struct {
	stock  *cost.Stock
	share  float64      // change of the cost, 0.1 for 10 % more
	amount *calc.Figure // change x what was used
}

// leastMove is the share from which a material's cost has moved.
const leastMove = 0.005

func (m *maker) moved() []moved {
	var out []moved
	for i := range m.r.Stock {
		s := &m.r.Stock[i]
		was, ok := s.PriceBefore.Value()
		now, known := s.Price.Value()
		if !ok || !known || was <= 0 || math.Abs(now/was-1) < leastMove {
			continue
		}
		out = append(out, moved{s, now/was - 1, calc.Mul(calc.Sub(s.Price, s.PriceBefore), s.Used)})
	}
	sort.SliceStable(out, func(a, b int) bool {
		return math.Abs(out[a].amount.Or(0)) > math.Abs(out[b].amount.Or(0))
	})
	return out
}

func (m *maker) materialFinding(all []moved) string {
	if len(all) == 0 {
		return m.stillFinding()
	}
	top := all[0]
	key := "cost.change.dearer"
	if top.share < 0 {
		key = "cost.change.cheaper"
	}
	s := text(key, "item", brief(top.stock.Item), "percent", show.Share(math.Abs(top.share), 1))
	if v, ok := top.amount.Value(); ok && m.money.Of(math.Abs(v)) != m.money.Of(0) {
		s = text(key+".worth", "item", brief(top.stock.Item), "percent", show.Share(math.Abs(top.share), 1), "amount", m.money.Of(math.Abs(v)))
	}
	return s
}

// stillFinding says that nothing moved, where that is known.
func (m *maker) stillFinding() string {
	for i := range m.r.Stock {
		if s := &m.r.Stock[i]; s.Price.Known() && s.PriceBefore.Known() {
			return text("cost.change.still")
		}
	}
	return ""
}

const movedShown = 4

func (m *maker) movedTable(all []moved) Table {
	t := Table{Title: text("cost.change.materials"), Aside: text("cost.change.materials.aside", "currency", m.money.Code)}
	t.Columns = []Column{
		{Title: text("cost.col.material"), Kind: Name},
		{Title: text("cost.change.col.per"), Kind: Text},
		{Title: text("cost.change.col.before"), Kind: Number},
		{Title: text("cost.change.col.now"), Kind: Number},
		{Title: text("cost.change.col.change"), Kind: Number},
		{Title: text("cost.change.col.worth"), Kind: Number},
	}
	for _, x := range all[:min(len(all), movedShown)] {
		size, per := perUnit(x.stock.Unit)
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: x.stock.Item},
			{Text: per},
			{Text: show.Decimals(x.stock.PriceBefore.Or(0)*size, m.money.Minor+1)},
			{Text: show.Decimals(x.stock.Price.Or(0)*size, m.money.Minor+1)},
			{Text: plus(x.share) + show.Share(x.share, 1), Alarm: x.share > 0.1},
			{Text: m.signed(x.amount)},
		}})
	}
	return t
}

func plus(v float64) string {
	if v > 0 {
		return "+"
	}
	return ""
}

// perUnit is the quantity that a material's cost is shown for.
func perUnit(u string) (float64, string) {
	switch u {
	case "g":
		return 100, text("cost.per.g")
	case "mL":
		return 100, text("cost.per.mL")
	}
	return 1, text("cost.per.each")
}
