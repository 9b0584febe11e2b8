package draw

// Months are upright columns, one group a month, a chart fill for each series.
type Months struct {
	Labels []string
	Series []Series
	Axis   AxisFormat
	Format Format // of the values when Print is set
	Print  bool   // values over the columns where they have room
}

// Series is a row of values with a name; a value that is NaN is not drawn.
type Series struct {
	Name   string
	Values []float64
}

func (c Months) names() []string {
	out := make([]string, len(c.Series))
	for i, s := range c.Series {
		out[i] = s.Name
	}
	return out
}

// Draw draws the chart into a rectangle.
func (c Months) Draw(p *Page, r Rect) {
	y := r.Y
	if len(c.Series) > 1 {
		y = p.Legend(r.X, y, r.W, c.names())
	}
	var all []float64
	for _, s := range c.Series {
		all = append(all, s.Values...)
	}
	plot := Rect{r.X, y + 3, r.W, r.Bottom() - axisHeight - y - 3}
	ticks, s := linear(all, true, plot.Bottom(), plot.Y, int(max(2, plot.H/9)))
	plot.X += c.upright(p, s, ticks, r)
	plot.W = r.Right() - plot.X
	each := plot.W / float64(max(len(c.Labels), 1))
	for i, label := range c.Labels {
		c.month(p, s, plot.X+float64(i)*each, each, i)
		p.Fit(plot.X+(float64(i)+0.5)*each, plot.Bottom()+3.9, each-0.6, label, Small, 5, AlignCenter)
	}
	p.Line(plot.X, s.at(0), plot.Right(), s.at(0), 0.4, Black)
}

// upright draws the level grid lines with their numbers and returns the width
// of the numbers.
func (c Months) upright(p *Page, s scale, ticks []float64, r Rect) float64 {
	texts := c.Axis.texts(ticks)
	st := Small.With(Secondary)
	w := 0.0
	for _, s := range texts {
		w = max(w, p.doc.Width(s, st))
	}
	w = min(w, r.W/4)
	for i, t := range ticks {
		y := s.at(t)
		p.Fit(r.X+w, st.Middle(y), w, texts[i], st, 5, AlignRight)
		p.Hair(r.X+w+1.5, r.Right(), y)
	}
	return w + 1.5
}

// month draws the columns of one month.
func (c Months) month(p *Page, s scale, x, each float64, i int) {
	n := float64(max(len(c.Series), 1))
	w := min(each*0.74/n, 9)
	x += (each - w*n) / 2
	for j, series := range c.Series {
		if i >= len(series.Values) || !usableValue(series.Values[i]) {
			continue
		}
		v := series.Values[i]
		top, foot := s.at(max(v, 0)), s.at(min(v, 0))
		p.ChartFill(Rect{x + float64(j)*w, top, w, foot - top}, j)
		if text := c.Format.text(v); c.Print && v > 0 && p.doc.Width(text, Small) < w+each*0.2/n {
			p.onGround(x+(float64(j)+0.5)*w, top-1.9, text, Small, AlignCenter)
		}
	}
}
