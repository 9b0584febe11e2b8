package pdf

import (
	"math"
	"sort"

	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// paper is the flow of a document made of parts: a part begins below the one
// before where there is room, and names every page that it goes on to.
type paper struct {
	*document
	o    Options
	f    *draw.Flow
	part costdoc.Head
	n    int     // sections of the part
	top  float64 // where the content of the page begins
}

func newPaper(o Options, title string) *paper { return &paper{document: o.open(title), o: o} }

// roomToBegin is the room in mm from which a part that goes on to another page
// begins below the one before.
const roomToBegin = 80

// begin draws a part: below the one before where all of it fits or enough of
// it, else on a page of its own.
func (p *paper) begin(h costdoc.Head, content func()) {
	if p.f != nil && (p.f.Rest() >= roomToBegin || p.height(h, content) <= p.f.Rest()) {
		p.below(h)
	} else {
		p.start(h)
	}
	content()
}

// height is the height of a part below another; infinite when it takes more
// than a page. It is drawn for that on a sheet that is thrown away.
func (p *paper) height(h costdoc.Head, content func()) float64 {
	real := *p
	defer func() { *p = real }()
	p.document = p.o.open("")
	p.f = p.Flow(draw.Header{Bare: true})
	from := p.f.Y
	p.top = from
	p.below(h)
	content()
	if p.Sheets() > 1 {
		return math.Inf(1)
	}
	return p.f.Y - from
}

// start begins a part on a page of its own.
func (p *paper) start(h costdoc.Head) {
	p.part, p.n = h, 0
	p.f = p.page(h, h.Title)
	p.top = p.f.Y
}

// below begins a part below another one: its rule, its name and what it found.
func (p *paper) below(h costdoc.Head) {
	const gap, title = 8, 10.5
	p.part, p.n = h, 0
	f := p.f
	f.Also(h.Title)
	p.space(gap)
	f.Fill(draw.Rect{X: f.Left(), Y: f.Y, W: f.Width(), H: draw.WeightTop}, draw.Black)
	f.Fit(f.Left(), f.Y+draw.WeightTop+7.4, f.Width(), h.Title, draw.Large, draw.SizeSection, draw.AlignLeft)
	f.Y += draw.WeightTop + title
	p.paragraph(h.Finding, draw.Finding)
	p.space(1)
}

// next goes on to a new page of the part.
func (p *paper) next() {
	p.f = p.Flow(draw.Header{Bare: true, Name: p.part.Title})
	f := p.f
	word := templates.Text("doc.continued")
	y := f.Y + 7
	w := f.Fit(f.Left(), y, f.Width()-p.Width(word, draw.Body)-3, p.part.Title, draw.Large, draw.SizeSection, draw.AlignLeft)
	f.Text(f.Left()+w+3, y, word, draw.Body.With(draw.Secondary))
	f.Y = y + 5
	p.top = f.Y
}

// need goes on to a new page when h mm are not left.
func (p *paper) need(h float64) {
	if h > p.f.Rest() && p.f.Y > p.top {
		p.next()
	}
}

// space leaves room; at the top of a page it does nothing.
func (p *paper) space(h float64) {
	if p.f.Y > p.top {
		p.f.Y = min(p.f.Y+h, p.f.Bottom())
	}
}

// take reserves a rectangle of the full width, h high, on a new page if needed.
func (p *paper) take(h float64) draw.Rect {
	p.need(h)
	r := draw.Rect{X: p.f.Left(), Y: p.f.Y, W: p.f.Width(), H: h}
	p.f.Y += h
	return r
}

// section begins a section; keep is the height that must follow it on the page.
func (p *paper) section(title, aside string, keep float64) {
	p.space(4)
	p.need(draw.SectionHeight + keep)
	p.n++
	p.f.Y = p.f.Page.Section(p.f.Left(), p.f.Y, p.f.Width(), show.Decimals(float64(p.n), 0), title, aside)
}

// paragraph sets a text over the full width, on to new pages line by line.
func (p *paper) paragraph(s string, st draw.Style) {
	for _, line := range p.Lines(s, st, p.f.Width(), 0) {
		p.need(st.Leading())
		p.f.Text(p.f.Left(), p.f.Y+st.Cap()+0.5, line, st)
		p.f.Y += st.Leading()
	}
}

// bullets is bullets, on to new pages of the part.
func (p *paper) bullets(sentences []string) {
	for _, s := range sentences {
		lines := p.Lines(s, draw.Plain, p.f.Width()-bulletIndent, 0)
		p.need(min(float64(len(lines)), 6) * draw.Plain.Leading())
		for i, line := range lines {
			p.need(draw.Plain.Leading())
			p.f.Y = bullet(p.f.Page, p.f.Y, line, i == 0)
		}
		p.space(0.8)
	}
}

// table draws a table under its heading.
func (p *paper) table(t costdoc.Table) {
	if len(t.Rows) == 0 {
		return
	}
	p.drawTable(t.Title, t.Aside, tableOf(p.Document, t, p.f.Width()))
}

// leastRows is how many rows begin a table at the foot of a page.
const leastRows = 3

// drawTable draws a table under its heading, and on to further pages between
// rows. Totals stay with the row above, and a group that goes on is named again.
func (p *paper) drawTable(title, aside string, t draw.Table) {
	begin := t
	begin.Rows = t.Rows[:min(len(t.Rows), leastRows)]
	p.section(title, aside, min(p.TableHeight(begin, p.f.Width()), 80))
	rest, group := t.Rows, ""
	for {
		n := p.fitting(t, rest)
		part := t
		part.Rows = rest[:n]
		p.f.Y = p.f.Page.Table(p.f.Left(), p.f.Y, p.f.Width(), part)
		group = lastGroup(part.Rows, group)
		if rest = rest[n:]; len(rest) == 0 {
			return
		}
		rest = named(rest, group)
		p.next()
		w := p.f.Fit(p.f.Left(), p.f.Y+3.4, p.f.Width()*0.7, title, draw.Strong, draw.SizeSmall, draw.AlignLeft)
		p.f.Text(p.f.Left()+w+2, p.f.Y+3.4, templates.Text("doc.continued"), draw.Aside)
		p.f.Y += 5
	}
}

// fitting is how many of the rows fit the page, at least one.
func (p *paper) fitting(t draw.Table, rows []draw.Row) int {
	n := sort.Search(min(len(rows), t.MostRows(p.f.Rest())), func(n int) bool {
		t.Rows = rows[:n+1]
		return p.TableHeight(t, p.f.Width()) > p.f.Rest()
	})
	for n > 1 && n < len(rows) && rows[n].Total {
		n--
	}
	return max(n, 1)
}

// lastGroup is what the last row belongs to, by the first cells.
func lastGroup(rows []draw.Row, group string) string {
	for _, r := range rows {
		if len(r.Cells) > 0 && r.Cells[0].Text != "" {
			group = r.Cells[0].Text
		}
	}
	return group
}

// named puts the group's name before the first of the rows where it has none.
func named(rows []draw.Row, group string) []draw.Row {
	first := rows[0]
	if first.Total || len(first.Cells) == 0 || first.Cells[0].Text != "" {
		return rows
	}
	cells := append([]draw.Cell{}, first.Cells...)
	cells[0].Text, cells[0].Muted = group, true
	first.Cells = cells
	return append([]draw.Row{first}, rows[1:]...)
}
