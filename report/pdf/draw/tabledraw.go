package draw

var headStyle = Style{Face: Regular, Size: 7, Ink: Secondary}

// head is the style and the text of a column's head.
func (g *grid) head(col int) (string, Style) {
	if g.CapsHeads {
		return Caps(g.Columns[col].Title), Label
	}
	return g.Columns[col].Title, headStyle
}

// headLines breaks a head into up to three lines where one would be too wide.
func (g *grid) headLines(col int) []string {
	s, st := g.head(col)
	if s == "" {
		return nil
	}
	return g.doc.Lines(s, st, g.w[col]+0.5, 3)
}

func (g *grid) headHeight() float64 {
	n := 0
	for i := range g.Columns {
		n = max(n, len(g.headLines(i)))
	}
	if n == 0 {
		return 0
	}
	return 2.2 + float64(n)*2.9
}

// drawHeads draws the heads and returns the y below.
func (g *grid) drawHeads(p *Page, y float64) float64 {
	if g.heads == 0 {
		return y
	}
	for col, c := range g.Columns {
		_, st := g.head(col)
		lines := g.headLines(col)
		base := y + g.heads - 1.7 - 2.9*float64(len(lines)-1)
		for _, line := range lines {
			x, align := g.x[col], AlignLeft
			switch {
			case c.Bench > 0:
				x, align = g.point(col), AlignRight
			case c.Align == AlignRight || c.Align == AlignDecimal:
				x, align = g.x[col]+g.w[col], AlignRight
			case c.Align == AlignCenter:
				x, align = g.x[col]+g.w[col]/2, AlignCenter
			}
			p.Fit(x, base, g.w[col]+0.5, line, st, 5, align)
			base += 2.9
		}
	}
	left, right := g.span()
	p.Hair(left, right, y+g.heads)
	return y + g.heads
}

// again draws the heads on a following page, with the name and "continued".
func (g *grid) again(p *Page, y float64) float64 {
	if g.Name != "" {
		left, right := g.span()
		w := p.Fit(left, y+3.4, (right-left)*0.7, g.Name, Strong, SizeSmall, AlignLeft)
		p.Text(left+w+2, y+3.4, p.doc.opt.Words.Continued, Aside)
		y += 5
	}
	return g.drawHeads(p, y)
}

func (g *grid) span() (left, right float64) {
	n := len(g.x) - 1
	if n < 0 {
		return 0, 0
	}
	return g.x[0], g.x[n] + g.w[n]
}

// between draws the hairline over a row, where there is one.
func (g *grid) between(p *Page, y float64, row int) {
	if row > 0 && (g.EveryRow || g.Rows[row].Group) && !g.Rows[row].Total {
		left, right := g.span()
		p.Hair(left, right, y)
	}
}

// drawRow draws a row and returns the y below.
func (g *grid) drawRow(p *Page, y float64, row int) float64 {
	h := g.rowHeight(row)
	for col := range min(len(g.Columns), len(g.Rows[row].Cells)) {
		g.drawCell(p, y, h, row, col)
	}
	return y + h
}

func (g *grid) drawCell(p *Page, y, h float64, row, col int) {
	cell, st := g.Rows[row].Cells[col], g.style(row, col)
	if cell.WriteIn {
		p.WriteIn(Rect{g.x[col], y + 0.9, g.w[col], h - 1.8}, "", cell.Unit)
		return
	}
	if g.Columns[col].Bench > 0 {
		g.drawBench(p, y+h/2, row, col)
		return
	}
	lines := g.lines(row, col)
	block := float64(len(lines)-1) * st.Leading()
	if cell.Sub != "" {
		block += Small.Leading() + 0.4
	}
	base := st.Middle(y+h/2) - block/2
	left := g.x[col]
	start := left
	for i, line := range lines {
		at := g.drawLine(p, base+float64(i)*st.Leading(), line, row, col)
		if i == 0 {
			start = at
		}
	}
	if cell.Sub != "" {
		sub := base + float64(len(lines)-1)*st.Leading() + Small.Leading() + 0.4
		p.Fit(left+g.lead(cell), sub, g.w[col]-g.lead(cell), cell.Sub, Small.With(Secondary), SizeLabel, AlignLeft)
	}
	g.drawSign(p, base-st.Cap()/2, h, start, row, col)
}

// drawLine draws a line of a cell and returns its left edge.
func (g *grid) drawLine(p *Page, base float64, s string, row, col int) float64 {
	c, st, cell := g.Columns[col], g.style(row, col), g.Rows[row].Cells[col]
	lead := g.lead(cell)
	left, right, room := g.x[col]+lead, g.x[col]+g.w[col], g.w[col]-lead
	switch c.Align {
	case AlignDecimal:
		return g.drawDecimal(p, base, s, row, col)
	case AlignRight:
		return right - p.Fit(right, base, room, s, st, SizeLabel, AlignRight)
	case AlignCenter:
		w := p.Fit(left+room/2, base, room, s, st, SizeLabel, AlignCenter)
		return left + (room-w)/2
	}
	p.Fit(left, base, room, s, st, SizeLabel, AlignLeft)
	return left
}

// neverCut is a least size for numbers: one that is cut would be another number.
const neverCut = 1

// drawDecimal sets a number with its point below the others.
func (g *grid) drawDecimal(p *Page, base float64, s string, row, col int) float64 {
	st, right := g.style(row, col), g.x[col]+g.w[col]
	_, tail, ok := splitNumber(s)
	x := right
	if ok {
		x = right - g.tail[col] + g.doc.Width(tail, st)
	}
	s = Number(s)
	room := g.w[col] - (right - x) - g.lead(g.Rows[row].Cells[col])
	if room < g.w[col]/2 {
		x, room = right, g.w[col]
	}
	return x - p.Fit(x, base, room, s, st, neverCut, AlignRight)
}

// point is where the points of a column of bench numbers stand.
func (g *grid) point(col int) float64 {
	unit := 0.0
	for _, row := range g.Rows {
		if col < len(row.Cells) {
			unit = max(unit, g.doc.Width(row.Cells[col].Unit, g.unitStyle(col)))
		}
	}
	if unit > 0 {
		unit += 1.4
	}
	return g.x[col] + g.w[col] - g.tail[col] - unit
}

func (g *grid) unitStyle(col int) Style {
	return Style{Face: Bold, Size: max(SizeBody, min(g.Columns[col].Bench*0.5, SizeSection))}
}

func (g *grid) drawBench(p *Page, y float64, row, col int) {
	cell := g.Rows[row].Cells[col]
	st := g.style(row, col).At(g.Columns[col].Bench)
	x := g.point(col)
	if whole, _ := g.doc.BenchWidth(cell.Text, st); whole > x-g.x[col] {
		st.Size = max(st.Size*(x-g.x[col])/whole, SizeTable)
	}
	p.Bench(x, st.Middle(y), cell.Text, cell.Unit, st, x+g.tail[col]+1.2)
}

const (
	swatchWidth  = 5
	swatchHeight = 3.6
	signWidth    = 4.6
)

// lead is the room before a cell's text for its swatch or mark.
func (g *grid) lead(c Cell) float64 {
	switch {
	case c.Swatch != nil:
		return swatchWidth + 1.6
	case c.Mark == Tick:
		return 9
	case c.Mark != NoMark, c.Alarm:
		return signWidth
	}
	return 0
}

// drawSign draws the swatch or mark of a cell, before the text that starts at x.
func (g *grid) drawSign(p *Page, y, h, x float64, row, col int) {
	cell, st := g.Rows[row].Cells[col], g.style(row, col)
	switch {
	case cell.Swatch != nil:
		p.Swatch(Rect{x - swatchWidth - 1.6, y - swatchHeight/2, swatchWidth, swatchHeight}, *cell.Swatch)
	case cell.Mark == Tick:
		size := max(3.2, min(h-2.2, 6))
		p.Mark(Tick, g.x[col]+size/2+0.4, y, size, Black)
	case cell.Alarm && cell.Mark == NoMark:
		p.Mark(Alarm, x-signWidth+1.8, y, 2.9, Rust)
	case cell.Mark != NoMark:
		p.Mark(cell.Mark, x-signWidth+1.8, y, 2.9, st.Ink)
	}
}
