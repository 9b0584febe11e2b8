package pdf

import (
	"cmp"
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// card is a batch card in the making.
type card struct {
	*planPages
	x     *plan.Pour
	f     *draw.Flow
	weigh []plan.Weigh // in the order in which they go in
	pitch float64      // height of a line to weigh
}

// Heights of a line to weigh: roomy, and where the card is full.
const (
	roomy   = 18.0
	compact = 13.0
	// cardGap is the room before a section.
	cardGap = 2.5
)

// mostOnCard is how many ingredients share a sheet with the rest of the card.
const mostOnCard = 7

// cards draws a card for each pour.
func (p *planPages) cards() {
	for i := range p.r.Pours {
		p.card(i)
	}
}

func (p *planPages) card(i int) {
	x := &p.r.Pours[i]
	c := &card{planPages: p, x: x, weigh: inPotOrder(x.Weigh), pitch: roomy}
	c.f = p.Flow(draw.Header{
		Title: batchName(x) + " " + x.Recipe, Bare: true, Tab: batchDigits(x), TabStep: i,
		Name: templates.Text("plan.card.name", "batch", batchName(x), "n", i+1, "of", len(p.r.Pours)),
	})
	sheet := c.f.Page
	p.cardAt[x.Batch] = sheet.Number()
	c.head()
	c.fit()
	c.warn()
	c.weighing()
	if c.f.Page == sheet && len(c.weigh) > mostOnCard {
		c.f.Next()
	}
	c.heat()
	if c.f.Rest()+0.1 < c.jarsHeight()+footHeight {
		c.f.Next() // jars and what is written down afterwards stay together
	}
	c.jars()
	c.foot()
}

// fit shares the room of the sheet among the lines to weigh.
func (c *card) fit() {
	if len(c.weigh) == 0 {
		return
	}
	c.pitch = 0
	rest := c.f.Rest() - c.warningHeight() - c.weighHeight()
	if len(c.weigh) <= mostOnCard {
		rest -= c.heatHeight() + c.jarsHeight() + footHeight
	}
	c.pitch = min(roomy, rest/float64(len(c.weigh)))
	if c.pitch < compact {
		c.pitch = roomy // a second sheet is needed anyway
	}
}

// inPotOrder is the materials in the order in which they go in: what melts
// first, dye at the hottest point, fragrance last.
func inPotOrder(weigh []plan.Weigh) []plan.Weigh {
	place := func(w plan.Weigh) int {
		if w.Of == nil {
			return 4
		}
		return slices.Index([]book.Kind{book.Wax, book.Additive, book.Dye, book.Fragrance}, w.Of.Kind)
	}
	out := slices.Clone(weigh)
	slices.SortStableFunc(out, func(a, b plan.Weigh) int { return cmp.Compare(place(a), place(b)) })
	return out
}

const (
	headHeight = 28.0
	headFacts  = 52.0
)

// head is the batch number, what is poured, and when.
func (c *card) head() {
	p, x := c.f.Page, c.x
	top := c.f.Y
	p.Text(p.Left(), top+3.4, draw.Caps(templates.Text("plan.card.batch")), draw.Label)
	w := p.Text(p.Left()-0.6, top+18.6, batchName(x), draw.Batch)
	left, room := p.Left()+w+6, p.Width()-w-6-headFacts-5
	c.recipe(left, top, room)
	p.Swatch(draw.Rect{X: left, Y: top + 15.4, W: 9, H: 5.6}, *c.swatch(x))
	p.Fit(left+11.5, top+20, room-11.5, c.finish(), draw.Body, draw.SizeSmall, draw.AlignLeft)
	made := making(x)
	if c.Width(made, draw.Strong) > room {
		made = fills(x)
	}
	p.Fit(left, top+25.2, room, made, draw.Strong.At(draw.SizeBody), draw.SizeSmall, draw.AlignLeft)
	c.facts(top)
	c.f.Y = top + headHeight
}

// finish is the color, and which of the batch's pours this is.
func (c *card) finish() string {
	s := color(c.x)
	if c.x.PoursOf > 1 {
		s = templates.Text("plan.card.split", "n", c.x.PourOf, "of", c.x.PoursOf) + " · " + s
	}
	return s
}

// recipe sets the recipe's name as large as it fits, in two lines if it must.
func (c *card) recipe(x, top, w float64) {
	for _, st := range []draw.Style{draw.Title, draw.Title.At(22), draw.Large} {
		if c.Width(c.x.Recipe, st) <= w {
			c.f.Text(x-0.3, top+11.6, c.x.Recipe, st)
			return
		}
	}
	st := draw.Item
	for st.Size > 8 && len(c.Lines(c.x.Recipe, st, w, 0)) > 2 {
		st.Size--
	}
	lines := c.Lines(c.x.Recipe, st, w, 3)
	c.f.Wrap(x, top+12.4-float64(len(lines)-1)*st.Leading(), w, c.x.Recipe, st, 3)
}

func (c *card) facts(top float64) {
	x, p := c.x, c.f.Page
	minutes := draw.Nil
	if x.Minutes.Known() {
		minutes = templates.Text("plan.min", "n", show.Decimal(x.Minutes, 0))
	}
	facts := [][2]string{
		{templates.Text("plan.card.pour"), show.ShortDate(x.Day)},
		{templates.Text("plan.card.order"), templates.Text("plan.card.order.is", "n", x.Order, "of", c.onDay(x.Day))},
		{templates.Text("plan.card.takes"), minutes},
		{templates.Text("plan.card.before"), c.before()},
	}
	if dated(x.Due) {
		facts = append(facts, [2]string{templates.Text("plan.card.due"), show.ShortDate(x.Due)})
	}
	left := p.Right() - headFacts
	p.Line(left, top+1.4, left, top+headHeight-1.5, draw.WeightHair, draw.Hairline)
	for i, f := range facts {
		base := top + 4.6 + float64(i)*4.9
		w := p.Text(left+3.5, base, draw.Caps(f[0]), draw.Label)
		st := draw.Strong.At(draw.SizeBody)
		if i > 0 {
			st = draw.Plain.In(draw.Medium)
		}
		p.Fit(p.Right(), base, headFacts-w-7, f[1], st, draw.SizeLabel, draw.AlignRight)
	}
}

func (c *card) onDay(d day.Date) int {
	return len(c.pick(func(x *plan.Pour) bool { return x.Day == d }))
}

// before is what has to be done to the pot before the pour.
func (c *card) before() string {
	v, ok := c.x.Changeover.Value()
	switch {
	case !ok:
		return draw.Nil
	case v == 0:
		return templates.Text("plan.card.before.none")
	case v == c.book.Settings.Num(book.WashMinutes).V:
		return templates.Text("plan.card.before.wash", "n", show.Decimals(v, 0))
	}
	return templates.Text("plan.card.before.wipe", "n", show.Decimals(v, 0))
}

// warnings are the sentences of the card's panel: its title, and what it says.
func (c *card) warnings() (title, text string) {
	var titles, texts []string
	for _, flag := range c.x.Flags {
		titles = append(titles, flagTitle(flag))
		texts = append(texts, c.flagSentence(flag))
	}
	if n, ok := c.inHand(c.x); ok && n < 0 {
		titles = append(titles, templates.Text("plan.card.late"))
		texts = append(texts, templates.Text("plan.card.late.text", "n", count(-n)))
	}
	if len(titles) == 1 {
		return titles[0], texts[0]
	}
	return strings.Join(titles, " · "), strings.Join(texts, " ")
}

// flagSentence is what a flag asks for, with the figures of this pour.
func (c *card) flagSentence(flag string) string {
	s := flagText(flag)
	if flag != plan.FlagDose {
		return s
	}
	for _, w := range c.weigh {
		v, ok := w.DoseError.Value()
		if !ok || !c.beyond(v) {
			continue
		}
		s += " " + templates.Text("plan.card.dose", "material", w.Material, "percent", signedShare(v), "exact", c.exact(w))
		if w.CureBatch.Known() {
			s += " " + templates.Text("plan.card.cure-batch", "weight", show.Decimal(w.CureBatch, 0), "limit", c.limit())
		}
	}
	return s
}

func (c *card) limit() string {
	return show.Share(c.book.Settings.Num(book.DoseErrorLimit).V, 0)
}

// beyond reports whether a dose error is over the limit.
func (c *card) beyond(v float64) bool {
	limit := c.book.Settings.Num(book.DoseErrorLimit).V
	return v > limit+1e-9 || v < -limit-1e-9
}

// exact is the dose before it was rounded.
func (c *card) exact(w plan.Weigh) string {
	if w.ExactDrops.Known() {
		return templates.Text("plan.n-drops", "n", show.Decimal(w.ExactDrops, 2))
	}
	return show.Decimal(w.ExactGrams, c.places+2) + " g"
}

func signedShare(v float64) string {
	s := show.Share(v, 1)
	if v > 0 && !strings.HasPrefix(s, "0.0") {
		return "+" + s
	}
	return s
}

func (c *card) warningHeight() float64 {
	title, text := c.warnings()
	if title == "" {
		return 0
	}
	return c.f.WarningHeight(c.f.Width(), title, text) + 2.5
}

func (c *card) warn() {
	if title, text := c.warnings(); title != "" {
		c.f.Warning(title, text)
	}
}

// potFigure is the weight in the pot, and what it is for.
func (c *card) potText() string {
	var fills []string
	for _, j := range c.x.Jars {
		if j.Fill.Known() {
			fills = append(fills, templates.Text("plan.card.fills", "n", j.Units, "grams", c.grams(j.Fill)))
		}
	}
	s := strings.Join(fills, " + ")
	if loss := c.book.Settings.Num(book.PourLoss); loss.OK() && loss.V > 0 {
		s += templates.Text("plan.card.loss", "percent", show.Share(loss.V, 0))
	}
	return s
}
