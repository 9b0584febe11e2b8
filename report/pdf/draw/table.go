package draw

// Column is a column of a table.
type Column struct {
	Title  string
	Width  float64 // mm; 0 shares what the others leave
	Weight float64 // share of a column without a width; 0 is 1
	Align  Align
	Bold   bool
	Lines  int     // lines a text may take; 0 is one, made to fit
	Bench  float64 // size in points of bench numbers with the cell's Unit; 0: none
}

// Cell is what stands in a row of a column.
type Cell struct {
	Text    string
	Sub     string  // small second line
	Unit    string  // of a bench number or write-in box
	Bold    bool    // for totals and what matters most
	Muted   bool    // secondary ink
	Alarm   bool    // rust, with a triangle
	Mark    Mark    // before the text
	Swatch  *Swatch // before the text
	WriteIn bool    // a box to write in
}

// Row is a row of a table.
type Row struct {
	Cells []Cell
	Group bool // starts a group: a hairline above
	Total bool // bold, the first one under a rule
}

// Table is a table. It breaks between rows only.
type Table struct {
	Name      string // said with "continued" above the heads of the next page; may be empty
	Columns   []Column
	Rows      []Row
	Height    float64 // least height of a row in mm; 0 is 5.4
	Size      float64 // type size in points; 0 is SizeTable
	EveryRow  bool    // a hairline between all rows
	CapsHeads bool    // heads in capitals; units and short words stay
}

const (
	columnGap = 3.0
	rowHeight = 5.4
	mostLines = 16 // a row never outgrows a page
	// shortGroup is the height of a group that is not parted.
	shortGroup = 35.0
)

// MostRows is more rows than a height in mm holds of the table.
func (t Table) MostRows(h float64) int { return int(max(h, 0)/t.least()) + 1 }

// least is the least height of a row.
func (t Table) least() float64 {
	if t.Height <= 0 {
		return rowHeight
	}
	return t.Height
}

// grid is a table laid out for a width.
type grid struct {
	Table
	doc   *Document
	x     []float64 // left edges
	w     []float64 // widths without gap
	tail  []float64 // room right of the decimal points
	heads float64   // height of the heads
}

// Table draws a table over the full width and on to new pages, and returns the
// y below it.
func (f *Flow) Table(t Table) float64 {
	g := f.doc.lay(t, f.Left(), f.Width())
	f.Need(g.heads + g.keep(0))
	f.Y = g.drawHeads(f.Page, f.Y)
	ruled := false
	for i, row := range t.Rows {
		last, y := f.Page, f.Y
		if f.Need(g.keep(i)) {
			last.Hair(f.Left(), f.Right(), y)
			f.Y = g.again(f.Page, f.Y)
			ruled = ruled && !row.Total
		} else {
			g.between(f.Page, f.Y, i)
		}
		if row.Total && !ruled {
			f.Page.Line(f.Left(), f.Y, f.Right(), f.Y, WeightEnd, Black)
			ruled = true
		}
		f.Y = g.drawRow(f.Page, f.Y, i)
	}
	if !ruled {
		f.Page.Line(f.Left(), f.Y, f.Right(), f.Y, WeightEnd, Black)
	}
	f.Y += 0.4
	return f.Y
}

// TableHeight is the height of a whole table in a width, without breaks.
func (d *Document) TableHeight(t Table, w float64) float64 {
	g := d.lay(t, 0, w)
	h := g.heads + 0.4
	for i := range t.Rows {
		h += g.rowHeight(i)
	}
	return h
}

// Table draws a table at a place, without breaks, and returns the y below.
func (p *Page) Table(x, y, w float64, t Table) float64 {
	g := p.doc.lay(t, x, w)
	y = g.drawHeads(p, y)
	ruled := false
	for i, row := range t.Rows {
		g.between(p, y, i)
		if row.Total && !ruled {
			p.Line(x, y, x+w, y, WeightEnd, Black)
			ruled = true
		}
		y = g.drawRow(p, y, i)
	}
	if !ruled {
		p.Line(x, y, x+w, y, WeightEnd, Black)
	}
	return y + 0.4
}

// lay shares the width among the columns and finds where the points stand.
func (d *Document) lay(t Table, x, w float64) *grid {
	t.Height = t.least()
	n := len(t.Columns)
	g := &grid{Table: t, doc: d, x: make([]float64, n), w: make([]float64, n), tail: make([]float64, n)}
	free, weights := w-columnGap*float64(max(n-1, 0)), 0.0
	for _, c := range t.Columns {
		if c.Width > 0 {
			free -= c.Width
		} else {
			weights += c.weight()
		}
	}
	for i, c := range t.Columns {
		g.x[i], g.w[i] = x, c.Width
		if c.Width <= 0 {
			g.w[i] = max(free*c.weight()/weights, 4)
		}
		x += g.w[i] + columnGap
		g.tail[i] = g.tailOf(i)
	}
	g.squeeze(w)
	g.heads = g.headHeight()
	return g
}

// squeeze makes columns narrower that ask for more than there is.
func (g *grid) squeeze(w float64) {
	left, right := g.span()
	if !(right-left > w+0.01) || !(w > 0) {
		return
	}
	for i := range g.x {
		g.x[i] = left + (g.x[i]-left)*w/(right-left)
		g.w[i] *= w / (right - left)
	}
}

func (c Column) weight() float64 {
	if c.Weight > 0 {
		return c.Weight
	}
	return 1
}

// tailOf is the widest part right of the decimal point in a column.
func (g *grid) tailOf(col int) float64 {
	c, tail := g.Columns[col], 0.0
	if c.Align != AlignDecimal && c.Bench == 0 {
		return 0
	}
	for i, row := range g.Rows {
		if col >= len(row.Cells) {
			continue
		}
		st := g.style(i, col)
		if c.Bench > 0 {
			st = st.At(c.Bench * benchFraction)
		}
		if _, t, ok := splitNumber(row.Cells[col].Text); ok {
			tail = max(tail, g.doc.Width(t, st))
		}
	}
	return tail
}

// style is the style of a cell.
func (g *grid) style(row, col int) Style {
	c, r := g.Columns[col], g.Rows[row]
	st := r.Cells[col].over(Plain.At(Style{Size: g.Size}.size()))
	if c.Bold || r.Total || c.Bench > 0 {
		st.Face = Bold
	}
	return st
}

// lines are the lines of a cell's text.
func (g *grid) lines(row, col int) []string {
	cell := g.Rows[row].Cells[col]
	if g.Columns[col].Lines <= 1 || cell.Text == "" {
		return []string{cell.Text}
	}
	w := g.w[col] - g.lead(cell)
	return g.doc.Lines(cell.Text, g.style(row, col), w, min(g.Columns[col].Lines, mostLines))
}

// rowHeight is the height a row needs.
func (g *grid) rowHeight(row int) float64 {
	h := g.Height
	for col := range min(len(g.Columns), len(g.Rows[row].Cells)) {
		st := g.style(row, col)
		need := float64(len(g.lines(row, col))) * st.Leading()
		if g.Rows[row].Cells[col].Sub != "" {
			need += Small.Leading()
		}
		h = max(h, need+1.6)
	}
	return h
}

// keep is the height that must fit with a row: of a short group all, and totals
// stay with the row above.
func (g *grid) keep(row int) float64 {
	if row == len(g.Rows) {
		return 0
	}
	h, end := g.rowHeight(row), row+1
	if g.Rows[row].Group {
		whole, i := h, end
		for ; i < len(g.Rows) && !g.Rows[i].Group && !g.Rows[i].Total; i++ {
			whole += g.rowHeight(i)
		}
		if whole <= shortGroup {
			h, end = whole, i
		}
	}
	for ; end < len(g.Rows) && g.Rows[end].Total; end++ {
		h += g.rowHeight(end)
	}
	return min(h, 60)
}
