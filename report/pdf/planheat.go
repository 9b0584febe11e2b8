package pdf

import (
	"fmt"

	"pourbook/compute/book"
	"pourbook/compute/plan"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// stage is a stage at the stove.
type stage struct{ title, what, temperature string }

// steps are melt, dye, scent and pour, as far as the pour has them.
func (c *card) steps() []stage {
	has := func(k book.Kind) bool {
		for _, w := range c.weigh {
			if w.Of != nil && w.Of.Kind == k {
				return true
			}
		}
		return false
	}
	var melt, dye, scent, pour string
	if r := c.x.Of; r != nil {
		melt, dye, scent, pour = r.MeltTemp.V, r.DyeTemp.V, r.FragranceTemp.V, r.PourTemp.V
	}
	out := []stage{{templates.Text("plan.step.melt"), templates.Text("plan.step.melt.what"), melt}}
	if has(book.Dye) {
		out = append(out, stage{templates.Text("plan.step.dye"), templates.Text("plan.step.dye.what"), dye})
	}
	if has(book.Fragrance) {
		out = append(out, stage{templates.Text("plan.step.scent"), templates.Text("plan.step.scent.what"), scent})
	}
	return append(out, stage{templates.Text("plan.step.pour"), templates.Text("plan.step.pour.what"), pour})
}

const heatBody = 31.8

func (c *card) heatHeight() float64 { return cardGap + draw.SectionHeight + heatBody }

// heat is the stages with their temperatures in both scales and room for what
// was read.
func (c *card) heat() {
	c.section("2", templates.Text("plan.card.heat"), templates.Text("plan.card.heat.aside"), heatBody)
	r := c.f.Take(heatBody)
	steps := c.steps()
	w := r.W / float64(len(steps))
	for i, s := range steps {
		at := draw.Rect{X: r.X + float64(i)*w, Y: r.Y, W: w, H: r.H}
		c.f.Step(at.X, at.Y+4, w-0.2, string(rune('a'+i)), s.title, i == len(steps)-1)
		c.step(at, s)
	}
}

func (c *card) step(r draw.Rect, s stage) {
	f := c.f
	t := readTemperature(s.temperature)
	w := r.W - 4
	switch {
	case t.Own == "":
		f.Wrap(r.X, r.Y+10.5, w, templates.Text("plan.step.none"), draw.Plain.With(draw.Secondary), 2)
	case t.Other == "":
		st := draw.Item
		for st.Size > 8 && len(c.Lines(t.Own, st, w, 0)) > 2 {
			st.Size--
		}
		f.Wrap(r.X, r.Y+11, w, t.Own, st, 2)
	default:
		c.bothScales(r, w, t)
	}
	f.Wrap(r.X, r.Y+18.6, w, s.what, draw.Small, 2)
	box := (w - 1.4) / 2
	f.WriteIn(draw.Rect{X: r.X, Y: r.Y + 22.6, W: box, H: 8.6}, "", scaleOf(t.Own))
	f.WriteIn(draw.Rect{X: r.X + box + 1.4, Y: r.Y + 22.6, W: box, H: 8.6}, templates.Text("plan.card.time"), "")
}

// bothScales sets a temperature large, and the other scale beside it, or below
// where there is no room.
func (c *card) bothScales(r draw.Rect, w float64, t temperature) {
	st, other := draw.Style{Face: draw.Bold, Size: draw.SizeFigure}, draw.Item.In(draw.Regular)
	n := c.Width(t.Own, st)
	if n+2+c.Width(t.Other, other) <= w {
		c.f.Text(r.X, r.Y+14, t.Own, st)
		c.f.Text(r.X+n+2, r.Y+14, t.Other, other)
		return
	}
	for st.Size = draw.SizeLarge; st.Size > draw.SizeTable && c.Width(t.Own, st) > w; {
		st.Size--
	}
	c.f.Text(r.X, r.Y+11.6, t.Own, st)
	c.f.Text(r.X, r.Y+15.6, t.Other, draw.Body)
}

// scaleOf is the scale of a temperature that could be read.
func scaleOf(s string) string {
	for _, scale := range []string{"°F", "°C"} {
		if len(s) > len(scale) && s[len(s)-len(scale):] == scale {
			return scale
		}
	}
	return "°"
}

const (
	partRow    = 7.4
	cureHeight = 23.4
	footHeight = 15.6
)

// partColumns is how many columns show all parts in whole names.
func (c *card) partColumns() int {
	for n := 3; n > 1; n-- {
		fits := true
		for _, t := range c.x.Parts {
			number, name := c.partText(t)
			fits = fits && len(c.Lines(name, partStyle, c.partRoom(n, number), 0)) <= 2
		}
		if fits {
			return n
		}
	}
	return 1
}

var partStyle = draw.Plain

// partText is how much of a part to set out.
func (c *card) partText(t plan.Take) (number, name string) {
	if t.Of == nil {
		return amount(t.Quantity, ""), ""
	}
	number, unitName := c.quantity(t.Quantity, t.Of.Dim.String())
	if unitName != "" {
		number += " " + unitName
	}
	return number, t.Of.Name.V
}

func (c *card) partRoom(columns int, number string) float64 {
	return c.f.Width()/float64(columns) - 9 - c.Width(number, draw.Large) - 2 - 3
}

func (c *card) partRows() int {
	n := c.partColumns()
	return (len(c.x.Parts) + n - 1) / n
}

func (c *card) fillRows() int { return min(len(c.x.Jars), mostFills) }

// mostFills is how many jars have their fill weight on the card's last section.
const mostFills = 6

func (c *card) cureHeight() float64 {
	if n := c.fillRows(); n > 1 {
		return max(cureHeight, 6+float64(n)*8.4)
	}
	return cureHeight
}

func (c *card) jarsHeight() float64 {
	return cardGap + draw.SectionHeight + float64(c.partRows())*partRow + 1.4 + c.cureHeight()
}

// jars is what to set out, how far to fill, and until when it cures.
func (c *card) jars() {
	h := float64(c.partRows())*partRow + 1.4
	c.section("3", templates.Text("plan.card.jars"), templates.Text("plan.card.jars.aside"), h+c.cureHeight())
	c.parts(c.f.Take(h))
	r := c.f.Take(c.cureHeight())
	c.f.Hair(r.X, r.Right(), r.Y)
	c.fill(draw.Rect{X: r.X, Y: r.Y + 1.2, W: r.W * 0.56, H: r.H})
	c.f.Line(r.X+r.W*0.58, r.Y+2.5, r.X+r.W*0.58, r.Bottom()-2, draw.WeightHair, draw.Hairline)
	c.cure(draw.Rect{X: r.X + r.W*0.6, Y: r.Y + 1.2, W: r.W * 0.4, H: r.H})
}

func (c *card) parts(r draw.Rect) {
	n, rows := c.partColumns(), c.partRows()
	w := r.W / float64(n)
	for i, t := range c.x.Parts {
		x, mid := r.X+float64(i/max(rows, 1))*w, r.Y+(float64(i%max(rows, 1))+0.5)*partRow
		number, name := c.partText(t)
		c.f.TickBox(x+0.6, mid-2.9, 5.8)
		at := x + 9 + c.f.Text(x+9, draw.Large.Middle(mid), number, draw.Large) + 2
		lines := c.Lines(name, partStyle, x+w-3-at, 2)
		c.f.Wrap(at, partStyle.Middle(mid)-float64(len(lines)-1)*partStyle.Leading()/2, x+w-3-at, name, partStyle, 2)
	}
}

func (c *card) fill(r draw.Rect) {
	f := c.f
	f.Text(r.X, r.Y+2.6, draw.Caps(templates.Text("plan.card.fill")), draw.Label)
	big := draw.Style{Face: draw.Bold, Size: draw.SizeFigure}
	if len(c.x.Jars) == 1 {
		j := c.x.Jars[0]
		f.Bench(r.X+c.wholeWidth(c.grams(j.Fill), big), r.Y+11.4, c.grams(j.Fill), "g", big, 0)
		f.Wrap(r.X+34, r.Y+8, r.W-36, jarName(j), draw.Plain, 2)
		c.checks(draw.Rect{X: r.X, Y: r.Y + 14, W: r.W - 2, H: 9}, j.Units)
		return
	}
	const row = 8.4
	st := draw.Large
	for i, j := range c.x.Jars[:c.fillRows()] {
		base := r.Y + 9.2 + float64(i)*row
		f.Bench(r.X+16, base, c.grams(j.Fill), "g", st, 0)
		name := fmt.Sprintf("%d × %s", j.Units, jarName(j))
		st1 := draw.Plain
		if len(c.Lines(name, st1, r.W-32, 0)) > 1 {
			st1, base = st1.At(8), base-2.2
		}
		f.Wrap(r.X+30, base, r.W-32, name, st1, 2)
	}
}

func (c *card) wholeWidth(number string, st draw.Style) float64 {
	w, _ := c.BenchWidth(number, st)
	return w
}

// checks are boxes for the weight of the first, the middle and the last jar.
func (c *card) checks(r draw.Rect, units int) {
	jars := []int{1}
	if units > 2 {
		jars = append(jars, (units+1)/2)
	}
	if units > 1 {
		jars = append(jars, units)
	}
	w := r.W / 3
	for i, n := range jars {
		c.f.WriteIn(draw.Rect{X: r.X + float64(i)*w, Y: r.Y, W: w - 1.6, H: r.H}, templates.Text("plan.card.jar", "n", n), "g")
	}
}

func (c *card) cure(r draw.Rect) {
	f, x := c.f, c.x
	f.Text(r.X, r.Y+2.6, draw.Caps(templates.Text("plan.card.cure", "n", show.Decimals(float64(x.Cured-x.Day), 0))), draw.Label)
	f.Fit(r.X-0.3, r.Y+11.4, r.W, show.Date(x.Cured), draw.Style{Face: draw.Bold, Size: draw.SizeFigure}, 12, draw.AlignLeft)
	at, what := c.wanted(x)
	if dated(at) {
		f.Fit(r.X, r.Y+16.6, r.W, templates.Text("plan.card.wanted", "what", what, "date", show.ShortDate(at)), draw.Plain, 6, draw.AlignLeft)
	}
	n, ok := c.inHand(x)
	if !ok {
		return
	}
	st, s := draw.Strong, templates.Text("plan.card.in-hand", "n", count(n))
	if n < 0 {
		st, s = st.With(draw.Rust), templates.Text("plan.card.too-late", "n", count(-n))
		f.Mark(draw.Alarm, r.X+1.6, r.Y+19.8, 3, draw.Rust)
		f.Text(r.X+4.6, r.Y+21, s, st)
		return
	}
	f.Text(r.X, r.Y+21, s, st)
}

// foot is what is written down when the pour is done, at the end of the sheet,
// with lines for notes where there is room.
func (c *card) foot() {
	c.f.Need(footHeight - 0.2)
	f := c.f
	const h, line = 12.0, 8.0
	y := f.Bottom() - h - 0.6
	if n := int((y - f.Y - 7) / line); n > 0 {
		f.Text(f.Left(), f.Y+4, draw.Caps(templates.Text("plan.card.notes")), draw.Label)
		f.DottedLines(f.Left(), f.Y+4, f.Width(), line, min(n, 4))
	}
	f.Line(f.Left(), y-2.2, f.Right(), y-2.2, draw.WeightSection, draw.Black)
	x := f.Left()
	for i, box := range []struct{ key, unit string }{
		{"good", templates.Text("plan.card.of", "n", started(c.x))}, {"rejects", ""}, {"left", "g"}, {"by", ""}, {"poured-on", ""}, {"clean", ""},
	} {
		w := f.Width() * []float64{0.18, 0.13, 0.16, 0.2, 0.17, 0.16}[i]
		f.WriteIn(draw.Rect{X: x, Y: y, W: w - 1.8, H: h}, templates.Text("plan.card.box."+box.key), box.unit)
		x += w
	}
	f.Y = f.Bottom()
}
