package pdf

import (
	"fmt"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// first is page one: the finding, six totals, what to look at first, what to
// bring, the pours in order, and where each sheet is.
func (p *planPages) first() {
	p.start(costdoc.Head{
		Title: templates.Text("plan.title"), Subtitle: p.subtitle() + p.supposing(), Facts: p.facts(), Finding: p.finding(),
	}, templates.Text("plan.title"))
	if len(p.r.Pours) > 0 {
		p.f.Space(1)
		p.f.Y = p.f.Figures(p.f.Left(), p.f.Y, p.f.Width(), p.totals()...)
	}
	p.lookFirst()
	early := !p.marketFits()
	if early {
		p.contents()
	}
	for _, o := range p.outings {
		p.market(o)
	}
	p.leftOut()
	if !early {
		p.contents()
	}
	p.inOrder()
	p.byHand()
}

// marketFits reports whether page one has room for what to bring and for the
// list of sheets below it; else the list comes first.
func (p *planPages) marketFits() bool {
	const around, row, title = 18.0, 5.0, 42.0
	h := around + float64(p.contentsRows())*contentsLine
	for _, o := range p.outings {
		h += title + row*float64(len(o.Demand))
	}
	return h+row*float64(len(p.r.LeftOut)) <= p.f.Rest()
}

func (p *planPages) subtitle() string {
	if len(p.outings) == 0 {
		return templates.Text("plan.subtitle.by", "date", show.Date(p.last()))
	}
	s := ""
	for i, o := range p.outings {
		if i > 0 {
			s += "; "
		}
		s += templates.Text("plan.subtitle", "market", o.Market.Market, "date", show.Date(o.Market.Date))
		if o.Market.Days > 1 {
			s += ", " + templates.Text("plan.market-days", "n", o.Market.Days)
		}
	}
	return s
}

func (p *planPages) facts() []costdoc.Fact {
	facts := []costdoc.Fact{{Label: templates.Text("plan.fact.today"), Value: show.Date(p.r.Today)}}
	if at := p.last(); dated(at) && dated(p.r.Today) {
		facts = append(facts, costdoc.Fact{Label: templates.Text("plan.fact.left"), Value: templates.Text("plan.n-days", "n", count(int(at-p.r.Today)))})
	}
	if len(p.outings) == 1 {
		m := p.outings[0].Market
		if m.Channel != "" {
			facts = append(facts, costdoc.Fact{Label: templates.Text("plan.fact.channel"), Value: m.Channel})
		}
	}
	return facts
}

// finding says in a sentence or two what the plan comes to.
func (p *planPages) finding() string {
	left := 0
	var lost []*calc.Figure
	for _, l := range p.r.LeftOut {
		left, lost = left+l.Units, append(lost, l.Contribution)
	}
	cost := ""
	if f := total(lost); f.Known() {
		cost = " " + templates.Text("plan.found.cost", "amount", p.money.Amount(f))
	}
	if len(p.r.Pours) == 0 {
		switch {
		case left > 0:
			return templates.Text("plan.found.none", "n", count(left)) + cost
		case len(p.outings) > 0:
			return templates.Text("plan.found.nothing", "n", count(p.bringing()), "market", p.purpose())
		}
		return templates.Text("plan.found.nothing-by")
	}
	s := p.findingOfPours()
	if left > 0 {
		s += " " + templates.Text("plan.found.left", "n", count(left)) + cost
	}
	return s
}

func (p *planPages) findingOfPours() string {
	units := 0
	for i := range p.r.Pours {
		units += started(&p.r.Pours[i])
	}
	pours := templates.Text("plan.found.pours", "units", count(units), "pours", count(len(p.r.Pours)), "days", count(p.pourDays()))
	if len(p.outings) == 0 {
		return templates.Text("plan.found.by", "pours", pours, "date", show.Date(p.last()))
	}
	hand := p.handed()
	var sold []*calc.Figure
	for _, o := range p.outings {
		for _, d := range o.Demand {
			sold = append(sold, d.ExpectedSold)
		}
	}
	if len(p.r.LeftOut) > 0 {
		s := templates.Text("plan.found.would-bring", "n", count(p.bringing()), "market", p.purpose(), "hand", p.onHand(hand), "pours", pours)
		if p.r.Contribution.Known() {
			s += " " + templates.Text("plan.found.leaves", "amount", p.money.Amount(p.r.Contribution))
		}
		return s
	}
	s := templates.Text("plan.found.bring", "n", count(p.bringing()), "market", p.purpose(), "hand", p.onHand(hand), "pours", pours)
	if spare := units - (p.bringing() - hand); spare > 0 {
		s += " " + templates.Text("plan.found.spare", "n", count(spare), "units", count(units))
	}
	if f := total(sold); f.Known() && p.r.Contribution.Known() {
		s += " " + templates.Text("plan.found.sold", "n", show.Decimal(f, 0), "amount", p.money.Amount(p.r.Contribution))
	}
	return s
}

// onHand says how many candles are on hand.
func (p *planPages) onHand(n int) string {
	if n == 0 {
		return templates.Text("plan.found.no-hand")
	}
	return templates.Text("plan.found.hand", "n", count(n))
}

// pourDays is on how many days something is poured.
func (p *planPages) pourDays() int {
	seen := map[day.Date]bool{}
	for _, x := range p.r.Pours {
		seen[x.Day] = true
	}
	return len(seen)
}

// totals are the six totals of the plan.
func (p *planPages) totals() []draw.Figure {
	units := 0
	var drops, wax, fragrance []*calc.Figure
	for i := range p.r.Pours {
		x := &p.r.Pours[i]
		units += started(x)
		for _, w := range x.Weigh {
			if w.Drops.Known() {
				drops = append(drops, w.Drops)
			}
			switch {
			case w.Of == nil:
			case w.Of.Kind == book.Wax:
				wax = append(wax, w.Grams)
			case w.Of.Kind == book.Fragrance:
				fragrance = append(fragrance, w.Grams)
			}
		}
	}
	figure := func(v float64, places int32, key string) draw.Figure {
		value := draw.Number(show.Decimals(v, places))
		return draw.Figure{Value: value, Label: templates.Text("plan.total."+key, "n", show.Decimals(v, places))}
	}
	return []draw.Figure{
		figure(float64(len(p.r.Pours)), 0, "pours"), figure(float64(p.pourDays()), 0, "days"), figure(float64(units), 0, "units"),
		figure(total(wax).Or(0)/1000, 1, "wax"), figure(total(fragrance).Or(0), 0, "fragrance"), figure(total(drops).Or(0), 0, "drops"),
	}
}

// inOrder lists the pours with a box each.
func (p *planPages) inOrder() {
	if len(p.r.Pours) == 0 {
		return
	}
	t := draw.Table{Name: templates.Text("plan.inorder"), EveryRow: true, Height: 8.4, CapsHeads: true, Columns: []draw.Column{
		{Width: 5},
		{Title: templates.Text("plan.col.pour"), Width: 20, Bold: true},
		{Title: templates.Text("plan.col.batch"), Width: 12, Bold: true},
		{Title: templates.Text("plan.col.recipe"), Weight: 1.2, Lines: 5},
		{Title: templates.Text("plan.col.finish"), Width: 21},
		{Title: templates.Text("plan.col.make"), Weight: 1.5, Lines: 3},
		{Title: templates.Text("plan.col.pot"), Width: 14, Align: draw.AlignDecimal},
		{Title: templates.Text("plan.col.ready"), Width: 20, Align: draw.AlignRight},
		{Title: templates.Text("plan.col.hand"), Width: 14, Align: draw.AlignRight, Bold: true},
	}}
	var blend []*calc.Figure
	last := day.None
	units := 0
	for i := range p.r.Pours {
		x := &p.r.Pours[i]
		blend, units = append(blend, x.Blend), units+started(x)
		t.Rows = append(t.Rows, p.orderRow(x, x.Day == last))
		last = x.Day
	}
	t.Rows = append(t.Rows, draw.Row{Total: true, Cells: []draw.Cell{
		{}, {Text: templates.Text("plan.all")}, {}, {}, {}, {Text: templates.Text("plan.n-candles", "n", count(units))}, {Text: p.grams(total(blend))},
	}})
	p.head(templates.Text("plan.inorder"), templates.Text("plan.inorder.aside"), 24)
	p.f.Table(t)
}

func (p *planPages) orderRow(x *plan.Pour, same bool) draw.Row {
	at := show.ShortDate(x.Day)
	if same {
		at = ""
	}
	hand, late := draw.Nil, false
	if n, ok := p.inHand(x); ok {
		hand, late = days(n), n < 0
	}
	return draw.Row{Cells: []draw.Cell{
		{Mark: draw.Tick},
		{Text: at},
		{Text: batchName(x)},
		{Text: x.Recipe},
		{Text: finishName(x.Finish), Swatch: p.swatch(x)},
		{Text: p.madeBriefly(x)},
		{Text: p.grams(x.Blend)},
		{Text: show.ShortDate(x.Cured)},
		{Text: hand, Alarm: late},
	}}
}

const contentsLine, contentsAcross = 5.6, 3

func (p *planPages) contentsRows() int { return (len(p.parts) + contentsAcross - 1) / contentsAcross }

// contents says on which sheets each part is; the numbers are set when all
// sheets exist.
func (p *planPages) contents() {
	rows := p.contentsRows()
	p.head(templates.Text("plan.sheets"), "", float64(rows)*contentsLine)
	at := p.f.Take(float64(rows)*contentsLine + 1)
	page := p.f.Page
	p.Later(func() {
		const gap = 8
		w := (at.W - gap*(contentsAcross-1)) / contentsAcross
		for i, x := range p.parts {
			sheets := fmt.Sprint(x.from)
			if x.to > x.from {
				sheets = fmt.Sprintf("%d–%d", x.from, x.to)
			}
			page.Leader(at.X+float64(i/rows)*(w+gap), at.Y+4.4+float64(i%rows)*contentsLine, w, x.name, sheets, draw.Body)
		}
	})
}

// byHand leaves lines for changes where the page has room.
func (p *planPages) byHand() {
	const line, label = 8.0, 6.0
	n := min(int((p.f.Rest()-label)/line), 5)
	if n < 1 {
		return
	}
	p.f.Text(p.f.Left(), p.f.Y+4, draw.Caps(templates.Text("plan.by-hand")), draw.Label)
	p.f.DottedLines(p.f.Left(), p.f.Y+4, p.f.Width(), line, n)
	p.f.Y += label + float64(n)*line
}

// madeBriefly is what a pour fills, the jars by name where a few lines hold them.
func (p *planPages) madeBriefly(x *plan.Pour) string {
	const w, most = 27, 3
	if s := making(x); len(p.Lines(s, draw.Plain, w, 0)) <= most {
		return s
	}
	return fills(x)
}
