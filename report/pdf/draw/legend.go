package draw

const (
	legendLine  = 5.2
	legendBox   = 5.2
	legendSpace = 4.6
)

// LegendHeight is the height of a legend of chart fills in a width.
func (d *Document) LegendHeight(w float64, names []string) float64 {
	lines, x := 1, 0.0
	for _, s := range names {
		each := legendBox + 1.6 + d.Width(s, legendStyle)
		if x > 0 && x+each > w {
			lines, x = lines+1, 0
		}
		x += each + legendSpace
	}
	return float64(lines) * legendLine
}

var legendStyle = Style{Face: Regular, Size: 8.5}

// Legend names the chart fills in their order and returns the y below.
func (p *Page) Legend(x, y, w float64, names []string) float64 {
	at := x
	for i, s := range names {
		each := legendBox + 1.6 + p.doc.Width(s, legendStyle)
		if at > x && at+each > x+w {
			at, y = x, y+legendLine
		}
		p.ChartFill(Rect{at, y + 0.6, legendBox, 3.4}, i)
		p.Fit(at+legendBox+1.6, legendStyle.Middle(y+2.3), w, s, legendStyle, SizeLabel, AlignLeft)
		at += each + legendSpace
	}
	return y + legendLine
}

// markLegend names marks in a line; x is its left end.
func (p *Page) markLegend(x, y float64, marks []Mark, names []string) {
	for i, s := range names {
		if s == "" {
			continue
		}
		p.Mark(marks[i], x+1.8, y, 3, Black)
		x += 4.6
		if marks[i] == HatchedBar {
			x += 1.6
		}
		x += p.Text(x, legendStyle.Middle(y), s, legendStyle) + legendSpace
	}
}
