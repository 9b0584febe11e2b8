package pdf

import (
	"pourbook/compute/calc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// launch is what bringing the jar out costs, and what its dials would change.
func (p *pricePages) launch() {
	t := draw.Table{Name: templates.Text("price.launch"), CapsHeads: true, Height: 4.6, Size: tableSize, Columns: []draw.Column{
		{Title: templates.Text("price.col.recipe"), Weight: 2},
		{Title: templates.Text("price.col.finish"), Width: 18},
		{Title: templates.Text("price.col.launch"), Width: 16, Align: draw.AlignRight},
		{Title: templates.Text("price.col.break-even"), Width: 19, Align: draw.AlignRight},
		{Title: templates.Text("price.col.batch"), Width: 15, Align: draw.AlignRight},
		{Title: templates.Text("price.col.first"), Width: 16, Align: draw.AlignRight},
		{Title: templates.Text("price.col.load"), Width: 16, Align: draw.AlignRight},
		{Title: templates.Text("price.col.drop"), Width: 19, Align: draw.AlignRight},
	}}
	for _, x := range p.r.Prices {
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{
			{Text: x.Recipe, Bold: true},
			{Text: finishName(x.Finish)},
			{Text: p.money.Number(x.Launch)},
			{Text: breakEven(x.BreakEven)},
			{Text: show.Units(x.UsualBatch)},
			{Text: show.Units(x.FirstRun)},
			{Text: step(x.LoadStep)},
			{Text: step(x.DropStep)},
		}})
	}
	p.f.Section("4", templates.Text("price.launch"), templates.Text("price.launch.aside", "currency", p.r.Currency), p.f.Document().TableHeight(begin(t), p.f.Width()))
	p.together(t)
}

// breakEven is the whole number of candles that pays for the launch.
func breakEven(f *calc.Figure) string {
	if v, ok := f.Value(); ok {
		return show.Decimals(calc.CeilOf(v), 0)
	}
	return show.Unknown
}

// step is a small amount of money, to a tenth of a cent.
func step(f *calc.Figure) string {
	if !f.Known() {
		return show.Nil
	}
	return show.Decimal(f, 3)
}

// burn is the list of burn tests to do before selling.
func (p *pricePages) burn() {
	t := draw.Table{Name: templates.Text("price.burn"), CapsHeads: true, Height: 7.5, EveryRow: true, Columns: []draw.Column{
		{Title: "", Width: 8},
		{Title: templates.Text("price.col.recipe"), Weight: 2},
		{Title: templates.Text("price.col.finish"), Width: 20},
		{Title: templates.Text("price.col.jars"), Width: 24, Align: draw.AlignRight},
		{Title: templates.Text("price.col.result"), Width: 40},
	}}
	for _, x := range p.r.Prices {
		t.Rows = append(t.Rows, draw.Row{Cells: []draw.Cell{
			{Mark: draw.Tick}, {Text: x.Recipe, Bold: true}, {Text: finishName(x.Finish)}, {Text: show.Units(x.TestJars)}, {WriteIn: true},
		}})
	}
	title, text := templates.Text("price.burn.title"), templates.Text("price.burn.text")
	keep := p.f.WarningHeight(p.f.Width(), title, text) + p.f.Document().TableHeight(begin(t), p.f.Width()) + 3
	p.f.Section("5", templates.Text("price.burn"), templates.Text("price.burn.aside"), keep)
	p.f.Warning(title, text)
	p.together(t)
}

// fewestRows is how many rows a table leaves for its last page, or half of it.
const fewestRows = 4

// begin is a table with the rows that must follow its head: all of a short one.
func begin(t draw.Table) draw.Table {
	const short = 5
	if len(t.Rows) > short {
		t.Rows = t.Rows[:fewestRows]
	}
	return t
}

// together draws a table so that no page ends up with fewer rows than the fewest.
func (p *pricePages) together(t draw.Table) {
	rest := t.Rows
	for len(rest) > 0 {
		n := len(rest)
		for n > 1 && p.f.Document().TableHeight(withRows(t, rest[:n]), p.f.Width()) > p.f.Rest() {
			n--
		}
		if left := len(rest) - n; left > 0 && left < fewestRows {
			n = max(len(rest)-fewestRows, len(rest)/2)
		}
		n = beforeGroup(rest, n)
		p.f.Y = p.f.Page.Table(p.f.Left(), p.f.Y, p.f.Width(), withRows(t, rest[:n]))
		if rest = rest[n:]; len(rest) > 0 {
			p.f.Next()
			w := p.f.Fit(p.f.Left(), p.f.Y+3.4, p.f.Width()*0.7, t.Name, draw.Strong, draw.SizeSmall, draw.AlignLeft)
			p.f.Text(p.f.Left()+w+2, p.f.Y+3.4, templates.Text("doc.continued"), draw.Aside)
			p.f.Y += 5
		}
	}
}

// beforeGroup is where to break rows, at n or before it, so that no group is parted;
// n where no group begins before it.
func beforeGroup(rows []draw.Row, n int) int {
	for i := n; i > 0 && i < len(rows); i-- {
		if rows[i].Group {
			return i
		}
	}
	return n
}

func withRows(t draw.Table, rows []draw.Row) draw.Table {
	t.Rows = rows
	return t
}
