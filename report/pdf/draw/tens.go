package draw

// Tens says of every ten to pour how many are colored, could go either way, and
// natural.
type Tens struct {
	Title string
	Rows  []TensRow
}

// TensRow is a row of ten squares.
type TensRow struct {
	Label         string
	Solid, Either int // the rest of the ten is empty
}

const (
	tensPitch = 6.6
	tensHead  = 6.2
	tensGap   = 0.8
)

// Height is the natural height.
func (c Tens) Height(*Document, float64) float64 {
	return tensHead + float64(len(c.Rows))*tensPitch
}

// Draw draws the squares into a rectangle; 60 mm is a good width.
func (c Tens) Draw(p *Page, r Rect) {
	p.Fit(r.X, r.Y+4, r.W, c.Title, Strong.At(SizeBody), SizeSmall, AlignLeft)
	label := 0.0
	for _, row := range c.Rows {
		label = max(label, p.doc.Width(row.Label, Plain))
	}
	label = min(label+2.5, r.W*0.42)
	size := min((r.W-label)/10-tensGap, 4.4)
	for i, row := range c.Rows {
		y := r.Y + tensHead + (float64(i)+0.5)*tensPitch
		p.Fit(r.X, Plain.Middle(y), label-1.5, row.Label, Plain, SizeLabel, AlignLeft)
		for n := range 10 {
			b := Rect{r.X + label + float64(n)*(size+tensGap), y - size/2, size, size}
			p.ten(b, n, row)
		}
	}
}

func (p *Page) ten(b Rect, n int, row TensRow) {
	switch {
	case n < row.Solid:
		p.Fill(b, Black)
	case n < row.Solid+row.Either:
		p.Fill(b, White)
		p.Hatch(b, 45, 0.8, 0.22, Black)
	default:
		p.Fill(b, White)
	}
	p.Outline(b, 0.3, Black)
}
