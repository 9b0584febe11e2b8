package draw

// Timeline shows each batch from pour to shelf: pour, curing, ready, wanted.
type Timeline struct {
	From, To float64 // days
	Ticks    []TimeTick
	Head     string // of the notes at the right
	Rows     []TimeRow
	// Names of the four marks; empty ones are left out.
	Pour, Curing, Ready, Wanted string
}

// TimeTick is a day with a name.
type TimeTick struct {
	At    float64
	Label string
}

// TimeRow is a batch. Wanted may be NaN.
type TimeRow struct {
	Label, Name, Sub    string
	Pour, Ready, Wanted float64 // days
	Note                string
	Late                bool
}

const (
	timePitch = 6.3
	timeHead  = 5.4
	timeFoot  = 6.5
	timeNotes = 20
)

// Height is the natural height.
func (c Timeline) Height(*Document, float64) float64 {
	return timeHead + float64(len(c.Rows))*timePitch + timeFoot
}

// Draw draws the lines into a rectangle.
func (c Timeline) Draw(p *Page, r Rect) {
	plot := Rect{r.X + r.W*0.3, r.Y + timeHead, r.W*0.7 - timeNotes, r.H - timeHead - timeFoot}
	s := scale{low: c.From, high: c.To, from: plot.X, to: plot.Right() - 4}
	c.grid(p, plot, s)
	p.Fit(r.Right(), plot.Y-2, timeNotes-1, Caps(c.Head), Label, 5, AlignRight)
	pitch := min(plot.H/float64(max(len(c.Rows), 1)), timePitch*1.2)
	label := 0.0
	for _, row := range c.Rows {
		label = max(label, p.doc.Width(row.Label, Strong))
	}
	label = min(label+2.5, r.W*0.1)
	for i, row := range c.Rows {
		y := plot.Y + (float64(i)+0.5)*pitch
		if i > 0 {
			p.Hair(r.X, r.Right(), y-pitch/2)
		}
		w := p.Fit(plot.X-2.5, Aside.Middle(y), 22, row.Sub, Aside, SizeLabel, AlignRight)
		p.Fit(r.X, Strong.Middle(y), label-1.5, row.Label, Strong, SizeLabel, AlignLeft)
		p.Fit(r.X+label, Plain.Middle(y), plot.X-6-w-r.X-label, row.Name, Plain, SizeLabel, AlignLeft)
		c.row(p, s, y, row)
		c.note(p, r.Right(), y, row)
	}
	p.markLegend(plot.X, r.Bottom()-2, []Mark{Square, HatchedBar, OpenFlag, SolidFlag},
		[]string{c.Pour, c.Curing, c.Ready, c.Wanted})
}

func (c Timeline) grid(p *Page, plot Rect, s scale) {
	end := plot.X - 10
	for _, t := range c.Ticks {
		x, out := s.clip(t.At)
		if out != 0 {
			continue
		}
		p.Line(x, plot.Y-1, x, plot.Bottom(), WeightHair, Hairline)
		w := p.doc.Width(t.Label, Small)
		if x < end+1.5 || x+w > plot.Right()+3 {
			continue
		}
		p.Text(x+0.4, plot.Y-2, t.Label, Small)
		end = x + w
	}
}

// row draws the marks, bars first so that flags stand before them.
func (c Timeline) row(p *Page, s scale, y float64, row TimeRow) {
	if !usableValue(row.Pour) || !usableValue(row.Ready) {
		return
	}
	pour, _ := s.clip(row.Pour)
	ready, _ := s.clip(row.Ready)
	p.HatchedBar(Rect{pour, y - 0.9, ready - pour, 1.8}, Black)
	p.Fill(Rect{pour - 1.3, y - 1.3, 2.6, 2.6}, Black)
	if usableValue(row.Wanted) {
		wanted, _ := s.clip(row.Wanted)
		k := Black
		if row.Late {
			k = Rust
			p.Fill(Rect{wanted - 0.5, y - 1.3, 4, 2.6}, White)
		}
		if wanted > ready {
			p.Dotted(ready+0.8, y+0.9, wanted-0.8, y+0.9, Black)
		}
		p.flag(wanted, y, 4.2, k, true)
	}
	p.flag(ready, y, 4.2, Black, false)
}

func (c Timeline) note(p *Page, right, y float64, row TimeRow) {
	st := Style{Face: Bold, Size: 9.5}
	if row.Late {
		st.Ink = Rust
	}
	w := p.Fit(right, st.Middle(y), timeNotes-6, row.Note, st, SizeSmall, AlignRight)
	if row.Late {
		p.Mark(Alarm, right-w-3.2, y, 3.2, Rust)
	}
}
