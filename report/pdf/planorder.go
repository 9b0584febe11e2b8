package pdf

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// order is what to buy from one supplier.
type order struct {
	supplier string
	buys     []plan.Buy
	by       day.Date // the first last useful day; day.None when there is none
}

// orders groups what to buy by supplier, the most urgent first.
func (p *planPages) orders() []order {
	var out []order
	for _, b := range p.r.Buy {
		i := slices.IndexFunc(out, func(o order) bool { return o.supplier == b.Supplier })
		if i < 0 {
			i = len(out)
			out = append(out, order{supplier: b.Supplier, by: day.None})
		}
		out[i].buys = append(out[i].buys, b)
		if b.OrderBy != day.None && (out[i].by == day.None || b.OrderBy < out[i].by) {
			out[i].by = b.OrderBy
		}
	}
	for _, o := range out {
		slices.SortStableFunc(o.buys, func(a, b plan.Buy) int { return cmp.Compare(urgency(a.OrderBy), urgency(b.OrderBy)) })
	}
	slices.SortStableFunc(out, func(a, b order) int { return cmp.Compare(urgency(a.by), urgency(b.by)) })
	return out
}

func (o order) name() string {
	if o.supplier == "" {
		return templates.Text("plan.order.nobody")
	}
	return o.supplier
}

// days are the last useful days of what is bought from a supplier, each once.
func (o order) days() []day.Date {
	var out []day.Date
	for _, b := range o.buys {
		if dated(b.OrderBy) && !slices.Contains(out, b.OrderBy) {
			out = append(out, b.OrderBy)
		}
	}
	return out
}

// urgency puts what has no day last.
func urgency(d day.Date) day.Date {
	if d == day.None {
		return math.MaxInt32
	}
	return d
}

// orderList is what to buy, by supplier and last useful day.
func (p *planPages) orderList() {
	orders := p.orders()
	var cost []*calc.Figure
	for _, b := range p.r.Buy {
		cost = append(cost, b.Cost)
	}
	p.start(costdoc.Head{Title: templates.Text("plan.part.order"), Subtitle: templates.Text("plan.order.subtitle"), Finding: p.orderFinding(orders, total(cost))}, templates.Text("plan.part.order"))
	for _, o := range orders {
		p.order(o)
	}
	if len(orders) > 1 && p.f.Rest() > 12 {
		p.f.Space(4)
		at := p.f.Take(8)
		p.f.Text(at.X, at.Y+6, templates.Text("plan.order.spend"), draw.Item)
		p.f.TextRight(at.Right(), at.Y+6, p.spend(total(cost)), draw.Item)
	}
}

func (p *planPages) spend(f *calc.Figure) string {
	if !f.Known() {
		return draw.Nil
	}
	return p.money.Amount(f)
}

func (p *planPages) orderFinding(orders []order, cost *calc.Figure) string {
	s := templates.Text("plan.found.orders", "n", count(len(orders)), "things", count(len(p.r.Buy)))
	if cost.Known() {
		s = templates.Text("plan.found.orders-cost", "n", count(len(orders)), "things", count(len(p.r.Buy)), "amount", p.money.Amount(cost))
	}
	late := 0
	for _, b := range p.r.Buy {
		if b.Late {
			late++
		}
	}
	if late > 0 {
		return s + " " + templates.Text("plan.found.orders-late", "n", count(late))
	}
	if len(orders) > 0 && orders[0].by != day.None {
		s += " " + templates.Text("plan.found.orders-by", "date", show.Date(orders[0].by))
	}
	return s
}

func (p *planPages) order(o order) {
	name := o.name()
	t := draw.Table{Name: name, EveryRow: true, Height: 8.4, CapsHeads: true, Size: 10, Columns: []draw.Column{
		{Width: 6},
		{Title: templates.Text("plan.col.by"), Width: 28, Bold: true},
		{Title: templates.Text("plan.col.item"), Weight: 1, Lines: 5},
		{Title: templates.Text("plan.col.need"), Width: 19, Align: draw.AlignRight},
		{Title: templates.Text("plan.col.have"), Width: 19, Align: draw.AlignRight},
		{Title: templates.Text("plan.col.buy"), Width: 26, Align: draw.AlignRight, Bold: true, Lines: 4},
		{Title: p.money.Code, Width: 18, Align: draw.AlignDecimal},
	}}
	var cost []*calc.Figure
	for _, b := range o.buys {
		cost = append(cost, b.Cost)
		t.Rows = append(t.Rows, p.buyRow(b))
	}
	if len(o.buys) > 1 {
		t.Rows = append(t.Rows, draw.Row{Total: true, Cells: []draw.Cell{{}, {}, {Text: templates.Text("plan.order.all")}, {}, {}, {}, {Text: decimal(total(cost), p.money.Minor)}}})
	}
	p.head(name, templates.Text("plan.order.aside"), 24)
	p.f.Table(t)
}

func (p *planPages) buyRow(b plan.Buy) draw.Row {
	by := draw.Cell{Text: draw.Nil}
	if dated(b.OrderBy) {
		by = draw.Cell{Text: show.ShortDate(b.OrderBy), Alarm: b.Late}
		if b.Late {
			by.Sub = templates.Text("plan.order.late", "n", count(int(p.r.Today-b.OrderBy)))
		}
	}
	return draw.Row{Cells: []draw.Cell{
		{Mark: draw.Tick},
		by,
		{Text: b.Material},
		{Text: amount(b.Need, b.Unit)},
		{Text: amount(b.OnHand, b.Unit)},
		{Text: packs(b)},
		{Text: decimal(b.Cost, p.money.Minor)},
	}}
}

// packs is what to buy in packs, sizes as they stand in the book.
func packs(b plan.Buy) string {
	s := ""
	for i, k := range b.Packs {
		if i > 0 {
			s += " + "
		}
		s += fmt.Sprintf("%d × %s", k.Count, packSize(b, k))
	}
	if s == "" {
		return templates.Text("plan.order.no-pack")
	}
	return s
}

func packSize(b plan.Buy, k plan.Pack) string {
	shown := amount(k.Size, b.Unit)
	if b.Of == nil {
		return shown
	}
	for _, x := range b.Of.Packs {
		if v, ok := k.Size.Value(); ok && x.Dim == b.Of.Dim && math.Abs(x.Size.V-v) <= 1e-9*v {
			return asTyped(x.Size.Raw, shown)
		}
	}
	return shown
}
