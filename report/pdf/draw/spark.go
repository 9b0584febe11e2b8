package draw

// Sparkline is a small line of values with a disc and a word at its end. A
// value that is NaN leaves a gap.
type Sparkline struct {
	Values []float64
	Level  *float64 // a dotted line
	Label  string
}

// Draw draws the line into a rectangle; the label stands right of it.
func (c Sparkline) Draw(p *Page, r Rect) {
	values := c.Values
	if c.Level != nil {
		values = append([]float64{*c.Level}, values...)
	}
	s := tight(values, r)
	step := r.W / float64(max(len(c.Values)-1, 1))
	if c.Level != nil && usableValue(*c.Level) {
		p.dashed(r.X, s.at(*c.Level), r.Right(), s.at(*c.Level), 0.25, Secondary, dots)
	}
	last, any := Point{}, false
	for i, v := range c.Values {
		if !usableValue(v) {
			any = false
			continue
		}
		q := Point{r.X + float64(i)*step, s.at(v)}
		if any {
			p.Line(last.X, last.Y, q.X, q.Y, 0.4, Black)
		}
		last, any = q, true
	}
	if any {
		p.Disc(last.X, last.Y, 0.9, Black)
		p.Text(last.X+1.9, Small.Middle(last.Y), c.Label, Small)
	}
}

// tight is an upright scale just as large as its values.
func tight(values []float64, r Rect) scale {
	s := scale{from: r.Bottom(), to: r.Y}
	first := true
	for _, v := range values {
		if !usableValue(v) {
			continue
		}
		if first {
			s.low, s.high, first = v, v, false
		}
		s.low, s.high = min(s.low, v), max(s.high, v)
	}
	if s.low == s.high {
		s.low, s.high = s.low-1, s.high+1
	}
	return s
}

// LoadBar shows how much of a day's limit is used.
type LoadBar struct {
	Used, Limit float64
	Label       string // below
}

// Draw draws the bar along the top of a rectangle; over the limit it is rust,
// with a triangle.
func (c LoadBar) Draw(p *Page, r Rect) {
	bar := Rect{r.X, r.Y, r.W, 1.8}
	part, k := 0.0, Black
	if c.Limit > 0 && c.Used > 0 {
		part = min(c.Used/c.Limit, 1)
	}
	over := c.Used > c.Limit && usableValue(c.Used)
	if over {
		part, k = 1, Rust
	}
	p.Fill(bar, White)
	p.Fill(Rect{bar.X, bar.Y, bar.W * part, bar.H}, k)
	p.Outline(bar, 0.25, Black)
	st := Style{Size: SizeLabel, Ink: Secondary}
	if over {
		st = Style{Face: Bold, Size: SizeLabel, Ink: Rust}
	}
	w := p.Fit(r.Right(), r.Y+4.5, r.W-3, c.Label, st, 5, AlignRight)
	if over {
		p.Mark(Alarm, r.Right()-w-2, r.Y+3.6, 2.2, Rust)
	}
}
