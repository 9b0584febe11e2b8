package draw

// Figure is a large number with its unit or name below.
type Figure struct{ Value, Label string }

// FiguresHeight is the height of a row of figures.
const FiguresHeight = 17.5

// Figures draws a row of large numbers in equal columns and returns the y below.
func (p *Page) Figures(x, y, w float64, figures ...Figure) float64 {
	each := w / float64(max(len(figures), 1))
	st := Style{Face: Bold, Size: 28}
	for _, f := range figures {
		st = st.At(p.figureSize(f.Value, st, each-4))
	}
	for i, f := range figures {
		at := x + float64(i)*each
		if i > 0 {
			p.Line(at, y+1, at, y+FiguresHeight-2.5, WeightHair, Hairline)
			at += 3
		}
		p.Fit(at, y+9.2, each-4, f.Value, st, neverCut, AlignLeft)
		p.Fit(at, y+14.2, each-4, f.Label, Body.With(Secondary), SizeSmall, AlignLeft)
	}
	return y + FiguresHeight
}

// figureSize keeps all figures of a row at one size.
func (p *Page) figureSize(s string, st Style, w float64) float64 {
	_, fitted := fit(p.doc.clean(s, st), st, w, SizeBody)
	return fitted.size()
}

// Step draws a lettered disc, a title, and a line on to the next step at x+w.
// The base line of the title is y.
func (p *Page) Step(x, y, w float64, letter, title string, last bool) {
	const radius = 2.9
	c := y - Item.Cap()/2
	mark := Style{Face: Bold, Size: 9.5, Ink: White}
	p.Disc(x+radius, c, radius, Black)
	p.TextCenter(x+radius, mark.Middle(c)-0.1, letter, mark)
	end := x + 2*radius + 2
	end += p.Fit(end, y, w-2*radius-4, title, Item, SizeTable, AlignLeft) + 2
	if !last && end < x+w {
		p.Line(end, c, x+w, c, 0.45, Black)
	}
}
