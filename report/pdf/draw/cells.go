package draw

// cells are columns of figures at the right of a chart, as wide as they need.
type cells struct {
	names []string
	right []float64 // right edges
	each  []float64 // widths
	width float64   // of all
}

const (
	cellGap   = 5.0
	cellLeast = 11.0
	cellShare = 0.42 // of a chart's width for all columns
)

func cellColumns(d *Document, r Rect, heads []string, rows [][]Cell) cells {
	c := cells{names: heads, each: make([]float64, len(heads)), right: make([]float64, len(heads))}
	for i, s := range heads {
		w := max(cellLeast, d.Width(Caps(s), Label))
		for _, row := range rows {
			if i < len(row) {
				w = max(w, cellWidth(d, row[i]))
			}
		}
		if i > 0 {
			w += cellGap
		}
		c.each[i] = w
		c.width += w
	}
	shrink := min(1, r.W*cellShare/max(c.width, 1))
	c.width *= shrink
	x := r.Right() - c.width
	for i := range c.each {
		c.each[i] *= shrink
		x += c.each[i]
		c.right[i] = x
	}
	return c
}

func cellStyle(c Cell) Style { return c.over(Style{Size: 9.5}) }

// over is a style as the cell changes it.
func (c Cell) over(st Style) Style {
	if c.Bold || c.Alarm {
		st.Face = Bold
	}
	switch {
	case c.Alarm:
		st.Ink = Rust
	case c.Muted:
		st.Ink = Secondary
	}
	return st
}

func cellWidth(d *Document, c Cell) float64 {
	w := d.Width(Number(c.Text), cellStyle(c))
	if c.Alarm {
		w += signWidth
	}
	return w
}

func (c cells) heads(p *Page, y float64) {
	for i, s := range c.names {
		p.Fit(c.right[i], y, c.each[i]-1, Caps(s), Label, 5, AlignRight)
	}
}

func (c cells) draw(p *Page, y float64, row []Cell) {
	for i := range min(len(row), len(c.right)) {
		cell := row[i]
		st := cellStyle(cell)
		room := c.each[i]
		if i > 0 {
			room -= 1
		}
		if cell.Alarm {
			room -= signWidth
		}
		w := p.Fit(c.right[i], st.Middle(y), room, Number(cell.Text), st, neverCut, AlignRight)
		if cell.Alarm {
			p.Mark(Alarm, c.right[i]-w-signWidth+1.8, y, 2.9, Rust)
		}
	}
}
