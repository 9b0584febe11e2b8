package pdf

import (
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/plan"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

const (
	weighBox    = 7.5
	weighName   = 13.0 // where the name starts
	weighActual = 33.0 // width of the box for what was weighed
	weighError  = 21.0 // width of the dose error
	weighHeads  = 3.6
	potHeight   = 10.5
)

// weighHeight is the height of the first section.
func (c *card) weighHeight() float64 {
	h := cardGap + draw.SectionHeight + weighHeads + potHeight
	for _, w := range c.weigh {
		h += c.lineHeight(w)
	}
	return h
}

func (c *card) lineHeight(w plan.Weigh) float64 {
	h := c.pitch
	if n, ok := w.Drops.Value(); ok {
		h += draw.DropsHeight(c.f.Width()-weighName, int(n)) + 1
	}
	return h
}

// targets is where the weights stand: the x of their points, the room left of
// it, and the x of the units.
type targets struct{ point, whole, unit float64 }

func (c *card) targets() targets {
	whole, tail, unitW := 0.0, 0.0, 0.0
	for _, w := range c.weigh {
		number, unitName := c.target(w)
		a, b := c.BenchWidth(number, draw.Weight)
		whole, tail, unitW = max(whole, a), max(tail, b), max(unitW, c.Width(unitName, draw.Item))
	}
	unitX := c.f.Right() - weighActual - weighError - 5 - unitW
	return targets{unitX - tail - 1.6, whole, unitX}
}

// target is what to weigh or to count.
func (c *card) target(w plan.Weigh) (number, unitName string) {
	if n, ok := w.Drops.Value(); ok {
		return show.Decimals(n, 0), templates.Text("plan.drops", "n", show.Decimals(n, 0))
	}
	return c.grams(w.Grams), "g"
}

// weighing lists what goes into the pot, in order.
func (c *card) weighing() {
	keep := c.pitch + weighHeads
	c.section("1", templates.Text("plan.card.weigh"), templates.Text("plan.card.weigh.aside"), keep)
	t := c.targets()
	c.weighColumns(t)
	for i, w := range c.weigh {
		page := c.f.Page
		r := c.f.Take(c.lineHeight(w))
		if c.f.Page == page && i > 0 {
			c.f.Hair(r.X, r.Right(), r.Y)
		}
		c.line(r, t, w)
	}
	c.pot(t)
}

func (c *card) weighColumns(t targets) {
	y := c.f.Y + 2
	c.f.Text(c.f.Left()+weighName, y, draw.Caps(templates.Text("plan.card.what")), draw.Label)
	c.f.TextRight(t.point, y, draw.Caps(templates.Text("plan.card.target")), draw.Label)
	c.f.TextRight(c.f.Right()-weighActual-4, y, draw.Caps(templates.Text("plan.card.error")), draw.Label)
	c.f.Text(c.f.Right()-weighActual, y, draw.Caps(templates.Text("plan.card.actual")), draw.Label)
	c.f.Y += weighHeads
}

// line is a material to weigh: box, name, target, dose error, room for what was
// weighed, and a ring for each drop.
func (c *card) line(r draw.Rect, t targets, w plan.Weigh) {
	f, mid := c.f, r.Y+c.pitch/2
	f.TickBox(r.X+0.6, mid-weighBox/2, weighBox)
	c.name(r.X+weighName, mid, t.point-t.whole-4-r.X-weighName, w.Material, c.sub(w))
	number, unitName := c.target(w)
	f.Bench(t.point, draw.Weight.Middle(mid), number, unitName, draw.Weight, t.unit)
	c.doseError(r.Right()-weighActual-4, mid, w)
	f.WriteIn(draw.Rect{X: r.Right() - weighActual, Y: r.Y + 1, W: weighActual, H: c.pitch - 2.4}, "", unitName)
	if n, ok := w.Drops.Value(); ok {
		f.Drops(r.X+weighName, r.Y+c.pitch-0.6, r.W-weighName, int(n))
	}
}

// name sets a material's name as large as it fits in up to three lines, and
// what belongs to it below.
func (c *card) name(x, mid, w float64, name, sub string) {
	st, most := draw.Item, 1
	for _, try := range []struct {
		size float64
		most int
	}{{13, 1}, {11, 1}, {11, 2}, {9, 2}, {8, 3}} {
		st, most = draw.Item.At(try.size), try.most
		if len(c.Lines(name, st, w, 0)) <= try.most {
			break
		}
	}
	lines := float64(len(c.Lines(name, st, w, most)))
	subs := c.Lines(sub, draw.Small, w, 1)
	block := lines*st.Leading() + float64(len(subs))*draw.Small.Leading()
	y := mid - block/2 + st.Leading()*0.78
	y = c.f.Wrap(x, y, w, name, st, most)
	if len(subs) > 0 {
		c.f.Fit(x, y-st.Leading()+draw.Small.Leading()+0.7, w, sub, draw.Small.With(draw.Secondary), 6, draw.AlignLeft)
	}
}

// sub is how the recipe gives a material, and the flash point of a fragrance.
func (c *card) sub(w plan.Weigh) string {
	var parts []string
	if w.Of == nil {
		return ""
	}
	kind := templates.Text("plan.kind." + string(w.Of.Kind))
	if c.x.Of != nil && w.Of.Kind != book.Wax {
		for _, i := range c.x.Of.Ingredients {
			if i.Material == w.Of && i.Amount.OK() {
				kind += ", " + show.Decimals(i.Amount.V, decimalsOf2(i.Amount.V)) + " " + i.Rate.Name
				break
			}
		}
	}
	parts = append(parts, kind)
	if w.Drops.Known() && w.Grams.Known() {
		parts = append(parts, templates.Text("plan.card.or-grams", "grams", c.grams(w.Grams)))
	}
	if s := w.Of.FlashPoint.V; s != "" {
		parts = append(parts, templates.Text("plan.card.flash", "at", both(s)))
	}
	return strings.Join(parts, " · ")
}

// both is a temperature with the other scale in brackets.
func both(s string) string {
	t := readTemperature(s)
	if t.Other == "" {
		return t.Own
	}
	return t.Own + " (" + t.Other + ")"
}

// decimalsOf2 is how many decimals a recipe's amount needs, at most two.
func decimalsOf2(v float64) int32 {
	for n, s := range []string{show.Decimals(v, 0), show.Decimals(v, 1)} {
		if show.Decimals(v, 2) == s+[]string{".00", "0"}[n] {
			return int32(n)
		}
	}
	return 2
}

func (c *card) doseError(right, mid float64, w plan.Weigh) {
	v, ok := w.DoseError.Value()
	if !ok {
		return
	}
	if !c.beyond(v) {
		c.f.TextRight(right, draw.Plain.Middle(mid), signedShare(v), draw.Plain)
		return
	}
	st := draw.Strong.With(draw.Rust).At(draw.SizeBody)
	width := c.f.TextRight(right, st.Middle(mid), signedShare(v), st)
	c.f.Mark(draw.Alarm, right-width-3, mid, 3.4, draw.Rust)
}

// pot is the weight of everything in the pot.
func (c *card) pot(t targets) {
	r := c.f.Take(potHeight)
	c.f.Line(r.X, r.Y, r.Right(), r.Y, draw.WeightEnd, draw.Black)
	mid := r.Y + potHeight/2
	st := draw.Large
	number := c.grams(c.x.Blend)
	whole, _ := c.BenchWidth(number, st)
	w := c.f.Text(r.X+weighName, draw.Item.At(11).Middle(mid), templates.Text("plan.card.pot"), draw.Item.At(11))
	c.f.Fit(r.X+weighName+w+3, draw.Plain.Middle(mid), t.point-whole-6-r.X-weighName-w, c.potText(), draw.Plain.With(draw.Secondary), 6, draw.AlignLeft)
	c.f.Bench(t.point, st.Middle(mid), number, "g", st, t.unit)
}

// section begins a section of the card, closer to the one before than on other pages.
func (c *card) section(number, title, aside string, keep float64) {
	c.f.Need(cardGap + draw.SectionHeight + keep)
	if c.f.Y > c.f.Top() {
		c.f.Y += cardGap
	}
	c.f.Y = c.f.Page.Section(c.f.Left(), c.f.Y, c.f.Width(), number, title, aside)
}
