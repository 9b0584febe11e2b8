package pdf

import (
	"math"

	"pourbook/compute/day"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

// leastShelf is how many batches begin the chart at the foot of a page.
const leastShelf = 4

// shelf shows each batch from pour to shelf, on as many pages as it takes.
func (p *planPages) shelf() {
	rest := p.shelfRows()
	c := p.shelfAxis()
	c.Rows = rest
	if h := c.Height(p.Document, p.f.Width()) + draw.SectionHeight; h > p.f.Rest() && h <= p.f.Bottom()-p.f.Top() {
		p.f.Next()
	}
	for first := true; len(rest) > 0; first = false {
		c.Rows = rest[:min(len(rest), leastShelf)]
		if first {
			p.f.Section("", templates.Text("plan.shelf"), templates.Text("plan.shelf.aside"), c.Height(p.Document, p.f.Width()))
		} else {
			p.f.Next()
		}
		n := len(rest)
		for c.Rows = rest; n > 1 && c.Height(p.Document, p.f.Width()) > p.f.Rest(); c.Rows = rest[:n] {
			n--
		}
		rest = rest[n:]
		c.Draw(p.f.Page, p.f.Take(c.Height(p.Document, p.f.Width())))
	}
}

func (p *planPages) shelfRows() []draw.TimeRow {
	var out []draw.TimeRow
	for i := range p.r.Pours {
		x := &p.r.Pours[i]
		row := draw.TimeRow{Label: batchName(x), Name: x.Recipe, Sub: finishName(x.Finish), Pour: float64(x.Day), Ready: float64(x.Cured), Wanted: math.NaN()}
		if at, _ := p.wanted(x); dated(at) {
			row.Wanted = float64(at)
		}
		if n, ok := p.inHand(x); ok {
			row.Note, row.Late = days(n), n < 0
		}
		out = append(out, row)
	}
	return out
}

// shelfAxis is the chart without its rows, marked at whole weeks.
func (p *planPages) shelfAxis() draw.Timeline {
	c := draw.Timeline{
		Head: templates.Text("plan.col.hand"), Pour: templates.Text("plan.mark.pour"), Curing: templates.Text("plan.mark.curing"),
		Ready: templates.Text("plan.mark.ready"), Wanted: templates.Text("plan.mark.wanted"),
	}
	from, to := p.r.Pours[0].Day, p.r.Pours[0].Cured
	for i := range p.r.Pours {
		x := &p.r.Pours[i]
		from, to = min(from, x.Day), max(to, x.Cured)
		if at, _ := p.wanted(x); dated(at) {
			to = max(to, at)
		}
	}
	from -= weekday(from)
	c.From, c.To = float64(from), float64(to+2)
	step := day.Date(7 * (1 + int(to-from)/70))
	for d := from; d <= to; d += step {
		c.Ticks = append(c.Ticks, draw.TimeTick{At: float64(d), Label: d.Time().Format("2 Jan")})
	}
	return c
}
