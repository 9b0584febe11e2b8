package costdoc

import (
	"math"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/report/show"
)

// customers are those who buy natural only, colored only, or both.
func (m *maker) customers() *Table {
	c := m.r.Split.Customers
	if c == nil || c.NaturalOnly.Count.Or(0)+c.ColoredOnly.Count.Or(0)+c.Both.Count.Or(0) == 0 {
		return nil
	}
	t := &Table{Title: text("cost.customers"), Aside: text("cost.customers.aside")}
	t.Columns = []Column{
		{Title: text("cost.customers.col.who"), Kind: Name},
		{Title: text("cost.customers.col.count"), Kind: Number},
		{Title: text("cost.net-sales"), Kind: Number},
		{Title: text("cost.contribution"), Kind: Number},
	}
	for _, x := range []struct {
		key string
		g   cost.CustomerGroup
	}{{"natural", c.NaturalOnly}, {"colored", c.ColoredOnly}, {"both", c.Both}} {
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: text("cost.customers." + x.key)},
			{Text: show.Units(x.g.Count)},
			{Text: m.money.Number(x.g.NetSales)},
			{Text: m.money.Number(x.g.Contribution)},
		}})
	}
	return t
}

// dropping says what giving up either finish would do.
func (m *maker) dropping() []string {
	s := &m.r.Split
	var out []string
	if d := s.DropNatural; d != nil {
		out = append(out, m.dropNatural(d))
	}
	if d := s.DropColor; d != nil {
		out = append(out, m.dropColor(d))
	}
	if w := s.Wholesale; w != nil && (w.Colored.Or(0) != 0 || w.Natural.Or(0) != 0) {
		out = append(out, text("cost.drop.wholesale", "colored", show.Units(w.Colored), "natural", show.Units(w.Natural)))
	}
	return notEmpty(out)
}

func (m *maker) dropNatural(d *cost.DropNatural) string {
	risk := m.atRisk(d)
	v, ok := d.BreakEvenSwitch.Value()
	switch {
	case !ok:
		return risk
	case v <= 0:
		return sentences(risk, text("cost.drop.natural.free"))
	case v > 1:
		return sentences(risk, text("cost.drop.natural.never", "percent", show.Share(v, 0)))
	}
	return sentences(risk, text("cost.drop.natural.switch", "percent", show.Share(v, 0)))
}

// atRisk is what the customers who buy natural only contribute; "" when the
// sales name no customers.
func (m *maker) atRisk(d *cost.DropNatural) string {
	c := m.r.Split.Customers
	v, ok := d.AtRisk.Value()
	switch {
	case !ok || m.customers() == nil:
		return ""
	case c.NaturalOnly.Count.Or(0) == 0:
		return text("cost.drop.natural.nobody")
	case v > 0:
		return text("cost.drop.natural.risk", "amount", m.money.Of(v))
	}
	return text("cost.drop.natural.no-risk", "amount", m.money.Of(v))
}

func (m *maker) dropColor(d *cost.DropColor) string {
	saved, ok := d.Saved.Value()
	if !ok {
		return ""
	}
	v, ok := d.BreakEvenLoss.Value()
	switch {
	case !ok:
		return text("cost.drop.color.saved", "amount", m.money.Of(saved))
	case v <= 0 || saved <= 0:
		return text("cost.drop.color.nothing", "amount", m.money.Of(saved))
	case v >= 1:
		return text("cost.drop.color.always", "amount", m.money.Of(saved), "percent", show.Share(v, 0))
	}
	return text("cost.drop.color.loss", "amount", m.money.Of(saved), "percent", show.Share(v, 1))
}

// colorCost is what color costs beside the natural twin, and what it earns.
func (m *maker) colorCost(out *Split) {
	t := Table{Title: text("cost.twin"), Aside: text("cost.twin.aside", "currency", m.money.Code)}
	t.Columns = []Column{{Title: text("cost.unit.col.product"), Kind: Name}}
	for _, key := range []string{"dye", "labor", "overhead", "parts", "total", "price", "earns"} {
		t.Columns = append(t.Columns, Column{Title: text("cost.twin.col." + key), Kind: Number, Bold: key == "total"})
	}
	best, worst := math.Inf(-1), math.Inf(1)
	for _, x := range m.r.Twins {
		if x.Colored == nil || x.Natural == nil {
			continue
		}
		more, earns := twinEarns(x)
		row := Row{Cells: []Cell{{Text: text("cost.in-jar", "recipe", x.Colored.Recipe, "jar", x.Colored.Jar)}}}
		for _, s := range m.column([]*calc.Figure{x.Dye, x.Labor, x.Overhead, x.Parts}) {
			row.Cells = append(row.Cells, Cell{Text: s})
		}
		row.Cells = append(row.Cells, Cell{Text: m.money.Number(x.Total)}, Cell{Text: m.signed(more)},
			Cell{Text: m.signed(earns), Alarm: earns.Known() && earns.Or(0) < -0.005})
		t.Rows = append(t.Rows, row)
		if v, ok := earns.Value(); ok {
			best, worst = max(best, v), min(worst, v)
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	out.Twins = &t
	switch {
	case best < worst:
	case worst >= 0:
		out.TwinsNote = text("cost.twin.pays")
	case best < 0:
		out.TwinsNote = text("cost.twin.costs")
	default:
		out.TwinsNote = text("cost.twin.mixed")
	}
}

// twinEarns is how much more a colored candle is priced than its natural twin,
// and what of that is left after what color costs.
func twinEarns(x cost.Twin) (more, earns *calc.Figure) {
	more = calc.Sub(above0(x.Colored.ListPrice), above0(x.Natural.ListPrice))
	return more, calc.Sub(more, x.Total)
}

// above0 is a price that was given: 0 is none.
func above0(f *calc.Figure) *calc.Figure {
	if f.Or(0) <= 0 {
		return nil
	}
	return f
}
