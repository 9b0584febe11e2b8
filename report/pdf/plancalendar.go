package pdf

import (
	"slices"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// calendar shows the weeks from the first pour to the day the candles are
// wanted, and below them each batch from pour to shelf.
func (p *planPages) calendar() {
	c := p.newCalendar()
	p.start(costdoc.Head{
		Title: templates.Text("plan.part.calendar"), Subtitle: templates.Text("plan.calendar.subtitle", "from", show.LongDate(c.from), "to", show.LongDate(c.to)),
		Facts: []costdoc.Fact{
			{Label: templates.Text("plan.fact.pours"), Value: templates.Text("plan.pours-on-days", "pours", len(p.r.Pours), "days", p.pourDays())},
			{Label: templates.Text("plan.fact.candles"), Value: count(p.startedAll())},
			{Label: templates.Text("plan.fact.blend"), Value: show.Weight(p.blendAll())},
		}, Finding: p.calendarFinding(),
	}, templates.Text("plan.part.calendar"))
	c.draw()
	p.shelf()
}

func (p *planPages) startedAll() int {
	n := 0
	for i := range p.r.Pours {
		n += started(&p.r.Pours[i])
	}
	return n
}

func (p *planPages) blendAll() *calc.Figure {
	var all []*calc.Figure
	for _, x := range p.r.Pours {
		all = append(all, x.Blend)
	}
	return total(all)
}

// calendarFinding says when the last pour is, how many days are in hand, and
// which day is the fullest.
func (p *planPages) calendarFinding() string {
	last := p.r.Pours[len(p.r.Pours)-1]
	s := templates.Text("plan.found.last", "date", show.Date(last.Day))
	least, some := 0, false
	for i := range p.r.Pours {
		if n, ok := p.inHand(&p.r.Pours[i]); ok && (!some || n < least) {
			least, some = n, true
		}
	}
	switch {
	case !some:
	case least < 0:
		s += " " + templates.Text("plan.found.late-days", "n", count(-least))
	default:
		s += " " + templates.Text("plan.found.in-hand", "n", count(least))
	}
	var fullest *plan.Day
	for i, d := range p.r.Days {
		if d.Minutes.Known() && (fullest == nil || d.Minutes.Or(0) > fullest.Minutes.Or(0)) {
			fullest = &p.r.Days[i]
		}
	}
	if fullest != nil && fullest.Limit.Known() {
		s += " " + templates.Text("plan.found.fullest", "date", show.ShortDate(fullest.Day), "minutes", show.Decimal(fullest.Minutes, 0), "limit", show.Decimal(fullest.Limit, 0))
	}
	return s
}

// month is a calendar: what happens on each of its days, from a Monday to a Sunday.
type month struct {
	*planPages
	from, to day.Date
	days     map[day.Date]*square
}

// square is what happens on a day.
type square struct {
	pours []*plan.Pour
	ready []*plan.Pour
	notes []note
	load  *plan.Day
}

// note is a line of a square behind a mark.
type note struct {
	mark draw.Mark
	text string
}

func (p *planPages) newCalendar() *month {
	c := &month{planPages: p, days: map[day.Date]*square{}}
	for i := range p.r.Days {
		c.at(p.r.Days[i].Day).load = &p.r.Days[i]
	}
	for i := range p.r.Pours {
		x := &p.r.Pours[i]
		if dated(x.Day) {
			c.at(x.Day).pours = append(c.at(x.Day).pours, x)
		}
		if dated(x.Cured) {
			c.at(x.Cured).ready = append(c.at(x.Cured).ready, x)
		}
	}
	for _, o := range p.outings {
		c.note(o.Market.Date, draw.SolidFlag, o.Market.Market)
	}
	if len(p.outings) == 0 && dated(p.last()) {
		c.note(p.last(), draw.SolidFlag, templates.Text("plan.wanted"))
	}
	for _, o := range p.orders() {
		for _, d := range o.days() {
			c.note(max(d, p.r.Today), draw.Tick, templates.Text("plan.calendar.order", "who", o.name()))
		}
	}
	c.bounds()
	return c
}

func (c *month) at(d day.Date) *square {
	if c.days[d] == nil {
		c.days[d] = &square{}
	}
	return c.days[d]
}

func (c *month) note(d day.Date, m draw.Mark, s string) {
	if !dated(d) || slices.Contains(c.at(d).notes, note{m, s}) {
		return
	}
	c.at(d).notes = append(c.at(d).notes, note{m, s})
}

// bounds stretches the calendar to whole weeks.
func (c *month) bounds() {
	c.from, c.to = day.None, day.None
	for d := range c.days {
		if c.from == day.None || d < c.from {
			c.from = d
		}
		c.to = max(c.to, d)
	}
	c.from -= weekday(c.from)
	c.to += 6 - weekday(c.to)
}

// weekday counts from 0 for Monday.
func weekday(d day.Date) day.Date { return day.Date((int(d.Time().Weekday()) + 6) % 7) }

const (
	dayHead   = 9.6  // the day's number and its load
	pourBox   = 12.2 // a pour with three lines
	pourLine  = 5.4  // a pour with one line
	manyPours = 4    // from here on pours have one line
	leastWeek = 15.0
	weekHead  = 5.0
)

func (c *month) draw() {
	c.heads()
	for d := c.from; d <= c.to; {
		if n := c.emptyWeeks(d); n > 1 {
			c.skip(d, n)
			d += day.Date(7 * n)
			continue
		}
		c.week(d)
		d += 7
	}
	c.f.Line(c.f.Left(), c.f.Y, c.f.Right(), c.f.Y, draw.WeightSection, draw.Black)
	c.f.Space(3)
}

// emptyWeeks is how many weeks from a Monday on hold nothing.
func (c *month) emptyWeeks(monday day.Date) int {
	n := 0
	for ; monday+day.Date(7*n) <= c.to; n++ {
		for d := range day.Date(7) {
			if c.days[monday+day.Date(7*n)+d] != nil {
				return n
			}
		}
	}
	return n
}

func (c *month) column() float64 { return c.f.Width() / 7 }

func (c *month) heads() {
	for i, name := range templates.List("plan.weekdays") {
		c.f.Text(c.f.Left()+float64(i)*c.column()+1, c.f.Y+3.4, name, draw.Strong)
	}
	c.f.Y += weekHead
}

// skip stands for weeks in which nothing happens.
func (c *month) skip(from day.Date, n int) {
	const h = 7
	c.room(h)
	c.f.Line(c.f.Left(), c.f.Y, c.f.Right(), c.f.Y, draw.WeightEnd, draw.Black)
	c.f.Text(c.f.Left()+1, c.f.Y+4.8, templates.Text("plan.calendar.skip", "n", n, "from", show.ShortDate(from), "to", show.ShortDate(from+day.Date(7*n)-1)), draw.Aside)
	c.f.Y += h
}

// room goes on to a new page, with the weekdays, when h is not left.
func (c *month) room(h float64) {
	page, y := c.f.Page, c.f.Y
	if c.f.Need(h) {
		page.Line(page.Left(), y, page.Right(), y, draw.WeightEnd, draw.Black)
		c.heads()
	}
}

func (c *month) week(monday day.Date) {
	h := leastWeek
	for i := range day.Date(7) {
		h = max(h, c.squareHeight(c.days[monday+i]))
	}
	h = min(h, c.f.Bottom()-c.f.Top()-weekHead)
	c.room(h)
	for i := range day.Date(7) {
		r := draw.Rect{X: c.f.Left() + float64(i)*c.column(), Y: c.f.Y, W: c.column(), H: h}
		if i > 4 && c.days[monday+i] == nil { // white behind small type: it stays clean in one-bit print
			c.f.Fill(r, draw.Panel)
		}
		if i > 0 {
			c.f.Line(r.X, r.Y, r.X, r.Bottom(), draw.WeightHair, draw.Hairline)
		}
		c.square(r, monday+i)
	}
	c.f.Line(c.f.Left(), c.f.Y, c.f.Right(), c.f.Y, draw.WeightEnd, draw.Black)
	c.f.Y += h
}

// readyLine is the batches that are cured on a day, in one text.
func readyLine(pours []*plan.Pour) string {
	var names []string
	for _, x := range pours {
		names = append(names, batchDigits(x))
	}
	return templates.Text("plan.calendar.ready", "batches", strings.Join(names, ", "))
}

var squareText = draw.Small

func (c *month) lines(s string) []string { return c.Lines(s, squareText, c.column()-6, 4) }

func (c *month) squareHeight(s *square) float64 {
	if s == nil {
		return 0
	}
	h := dayHead + 1.5 + float64(len(s.pours))*c.pourHeight(s)
	for _, n := range c.allNotes(s) {
		h += float64(len(c.lines(n.text)))*squareText.Leading() + 0.8
	}
	return h
}

func (c *month) pourHeight(s *square) float64 {
	if len(s.pours) >= manyPours {
		return pourLine
	}
	return pourBox + 0.8
}

func (c *month) allNotes(s *square) []note {
	out := slices.Clone(s.notes)
	if len(s.ready) > 0 {
		out = append(out, note{draw.OpenFlag, readyLine(s.ready)})
	}
	return out
}

func (c *month) square(r draw.Rect, d day.Date) {
	number := draw.Item
	w := c.f.Text(r.X+1, r.Y+5.4, d.Time().Format("2"), number)
	if _, _, n := d.YMD(); n == 1 || d == c.from {
		c.f.Text(r.X+2+w, r.Y+5.4, d.Time().Format("Jan"), draw.Strong)
		w += 8
	}
	s := c.days[d]
	if s == nil {
		return
	}
	if s.load != nil && s.load.Minutes.Known() && s.load.Limit.Known() {
		used, limit := s.load.Minutes.Or(0), s.load.Limit.Or(0)
		label := templates.Text("plan.calendar.load", "used", show.Decimals(used, 0), "limit", show.Decimals(limit, 0))
		draw.LoadBar{Used: used, Limit: limit, Label: label}.Draw(c.f.Page, draw.Rect{X: r.X + w + 2.5, Y: r.Y + 2.2, W: r.W - w - 3.7, H: 5})
	}
	y := r.Y + dayHead
	for _, x := range s.pours {
		box := draw.Rect{X: r.X + 0.8, Y: y, W: r.W - 1.6, H: c.pourHeight(s) - 0.8}
		c.pour(box, x)
		y += c.pourHeight(s)
	}
	for _, n := range c.allNotes(s) {
		c.f.Mark(n.mark, r.X+2.6, y+1.9, 2.6, draw.Black)
		for _, line := range c.lines(n.text) {
			c.f.Text(r.X+5.2, y+2.8, line, squareText)
			y += squareText.Leading()
		}
		y += 0.8
	}
}

// pour is a pour's box: swatch, batch, recipe, and what it fills.
func (c *month) pour(r draw.Rect, x *plan.Pour) {
	const band = 4
	c.f.Fill(r, draw.White)
	c.f.Page.Swatch(draw.Rect{X: r.X, Y: r.Y, W: band, H: r.H}, *c.swatch(x))
	c.f.Outline(r, 0.4, draw.Black)
	left, w := r.X+band+1, r.W-band-1.6
	id := draw.Strong.At(8.5)
	if r.H < pourBox {
		n := c.f.Text(left, r.Y+3.3, batchDigits(x), id)
		c.f.Fit(left+n+1.2, r.Y+3.3, w-n-1.2, x.Recipe, squareText, draw.SizeLabel, draw.AlignLeft)
		return
	}
	n := c.f.Text(left, r.Y+3.6, batchName(x), id)
	if minutes, ok := calc.Add(x.Minutes, x.Changeover).Value(); ok {
		c.f.Fit(r.Right()-1, r.Y+3.6, w-n-1.5, templates.Text("plan.min", "n", show.Decimals(minutes, 0)), squareText, 5.5, draw.AlignRight)
	}
	c.f.Fit(left, r.Y+7.2, w, x.Recipe, squareText.At(8), 6, draw.AlignLeft)
	c.f.Fit(left, r.Y+10.7, w, fills(x), squareText.In(draw.Medium), 6, draw.AlignLeft)
}

// fills is what a pour makes, in a few letters.
func fills(x *plan.Pour) string {
	if s := making(x); len(x.Jars) == 1 && len(s) < 24 {
		return s
	}
	return templates.Text("plan.n-candles", "n", count(started(x)))
}
