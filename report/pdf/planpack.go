package pdf

import (
	"pourbook/compute/book"
	"pourbook/compute/plan"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// packing is what goes into the van: a list for each market, or of all that was
// poured where there is no market.
func (p *planPages) packing() {
	name := templates.Text("plan.part.packing")
	if len(p.outings) == 0 {
		items, n := p.pouredItems(), 0
		for _, x := range items {
			n += x.bring
		}
		p.start(costdoc.Head{
			Title: name, Subtitle: templates.Text("plan.subtitle.by", "date", show.Date(p.last())), Finding: templates.Text("plan.found.pack-by", "n", count(n)),
		}, name)
		p.packTable(items)
		p.packNotes()
		return
	}
	for _, o := range p.outings {
		items, n, hand := p.packItems(o)
		p.start(costdoc.Head{
			Title: name, Subtitle: templates.Text("plan.subtitle", "market", o.Market.Market, "date", show.Date(o.Market.Date)),
			Finding: templates.Text("plan.found.pack", "n", count(n), "hand", orNone(hand), "poured", orNone(n-hand)),
		}, name)
		p.packTable(items)
		p.packNotes()
	}
}

// packItem is a product to pack.
type packItem struct {
	of          *book.Product
	code        string
	price       string
	hand, bring int
	from        string // batches
}

// packItems lists what a market gets: what was to be brought, less what is left out.
func (p *planPages) packItems(o plan.Outing) (items []packItem, bring, hand int) {
	for _, d := range o.Demand {
		units, pours := p.pouredFor(o, d)
		n := d.Bring - (d.Need - min(d.Need, p.good(units)))
		if n <= 0 {
			continue
		}
		h := min(n, d.OnHand)
		bring, hand = bring+n, hand+h
		x := packItem{of: d.Of, code: d.Product, hand: h, bring: n}
		if len(pours) > 0 {
			x.from = batchNames(pours)
		}
		if d.Price.Known() {
			x.price = p.money.Amount(d.Price)
		}
		items = append(items, x)
	}
	return items, bring, hand
}

// pouredFor is how many units of a product are started for a market, and in which pours.
func (p *planPages) pouredFor(o plan.Outing, d plan.Demand) (int, []*plan.Pour) {
	n := 0
	pours := p.pick(func(x *plan.Pour) bool {
		if x.Market != "" && x.Market != o.Market.Market {
			return false
		}
		found := false
		for _, j := range x.Jars {
			if j.Product == d.Product {
				n, found = n+j.Units, true
			}
		}
		return found
	})
	return n, pours
}

// pouredItems lists what a plan without a market pours.
func (p *planPages) pouredItems() []packItem {
	var items []packItem
	at := map[string]int{}
	pours := map[string][]*plan.Pour{}
	for i := range p.r.Pours {
		x := &p.r.Pours[i]
		for _, j := range x.Jars {
			if _, ok := at[j.Product]; !ok {
				at[j.Product] = len(items)
				items = append(items, packItem{of: j.Of, code: j.Product})
			}
			items[at[j.Product]].bring += j.Units
			pours[j.Product] = append(pours[j.Product], x)
		}
	}
	for code, i := range at {
		items[i].from = batchNames(pours[code])
		items[i].bring = p.good(items[i].bring)
	}
	return items
}

func (p *planPages) packTable(items []packItem) {
	t := draw.Table{Name: templates.Text("plan.part.packing"), CapsHeads: true, EveryRow: true, Height: 10.4, Columns: []draw.Column{
		{Width: 7},
		{Title: templates.Text("plan.col.bring"), Width: 16, Bench: 17},
		{Title: templates.Text("plan.col.product"), Weight: 2, Lines: 7, Bold: true},
		{Title: templates.Text("plan.col.shelf"), Width: 13, Align: draw.AlignRight},
		{Title: templates.Text("plan.col.batches"), Weight: 1, Lines: 5},
		{Title: templates.Text("plan.col.price"), Width: 18, Align: draw.AlignRight},
		{Title: templates.Text("plan.col.packed"), Width: 18},
		{Title: templates.Text("plan.col.back"), Width: 18},
	}}
	for _, x := range items {
		sub := ""
		if title := titleOf(x.of, x.code); title != x.code {
			sub = x.code
		}
		price := x.price
		if price == "" {
			price = draw.Nil
		}
		from := x.from
		if from == "" {
			from = draw.Nil
		}
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{
			{Mark: draw.Tick},
			{Text: count(x.bring)},
			{Text: titleOf(x.of, x.code), Sub: sub},
			{Text: counted(x.hand)},
			{Text: from},
			{Text: price},
			{WriteIn: true},
			{WriteIn: true},
		}})
	}
	if len(items) == 0 {
		p.f.Paragraph(templates.Text("plan.pack.none"), draw.Body)
		return
	}
	p.head(templates.Text("plan.pack.candles"), templates.Text("plan.pack.aside"), 24)
	p.f.Table(t)
}

// packNotes leaves lines for what the book does not know of.
func (p *planPages) packNotes() {
	const lines, pitch = 4, 8.5
	p.head(templates.Text("plan.pack.more"), templates.Text("plan.pack.more.aside"), lines*pitch)
	p.f.Y = p.f.DottedLines(p.f.Left(), p.f.Y-2, p.f.Width(), pitch, lines)
}

func orNone(n int) string {
	if n == 0 {
		return templates.Text("plan.none")
	}
	return count(n)
}
