package draw

// Flow writes down a page and on to the next ones of the same name. Y is the
// next free place.
type Flow struct {
	*Page
	Y float64
}

// Flow adds a page and a flow that starts below its head.
func (d *Document) Flow(h Header) *Flow {
	p := d.NewPage(h)
	return &Flow{p, p.Top()}
}

// Rest is the height left on the page.
func (f *Flow) Rest() float64 { return f.Bottom() - f.Y }

// Need goes on to a new page when h mm are not left, and reports whether it did.
func (f *Flow) Need(h float64) bool {
	if h <= f.Rest() || f.Y <= f.Top() {
		return false
	}
	f.Next()
	return true
}

// Next goes on to a new page of the same name, headed "continued".
func (f *Flow) Next() {
	f.Page = f.doc.page(f.head, true)
	f.Y = f.Top()
}

// Take reserves a rectangle of the full width, h high, on a new page if needed.
func (f *Flow) Take(h float64) Rect {
	f.Need(h)
	r := Rect{f.Left(), f.Y, f.Width(), h}
	f.Y += h
	return r
}

// Space leaves room; at the top of a page it does nothing.
func (f *Flow) Space(h float64) {
	if f.Y > f.Top() {
		f.Y = min(f.Y+h, f.Bottom())
	}
}

// SectionHeight is the height of a section heading.
const SectionHeight = 9.6

// Section draws a heading over the full width: rule, number in petrol, title,
// aside. keep is the height that must follow it on the same page.
func (f *Flow) Section(number, title, aside string, keep float64) {
	f.Space(5)
	f.Need(SectionHeight + keep)
	f.Y = f.Page.Section(f.Left(), f.Y, f.Width(), number, title, aside)
}

// Section draws a section heading and returns the y below.
func (p *Page) Section(x, y, w float64, number, title, aside string) float64 {
	p.Line(x, y, x+w, y, WeightSection, Black)
	at := x
	if number != "" {
		at += p.Text(at, y+5.9, number, Item.With(Petrol)) + 2.6
	}
	at += p.Fit(at, y+5.9, x+w-at, title, Item, SizeBody, AlignLeft) + 3.2
	p.Fit(at, y+5.9, x+w-at, aside, Aside, SizeSmall, AlignLeft)
	return y + SectionHeight
}

// Paragraph sets a text over the full width, on to new pages line by line.
func (f *Flow) Paragraph(s string, st Style) {
	for _, line := range f.doc.Lines(s, st, f.Width(), 0) {
		f.Need(st.Leading())
		f.set(f.Left(), f.Y+st.Cap()+0.5, line, st, AlignLeft)
		f.Y += st.Leading()
	}
}

// Warning draws a warning panel over the full width.
func (f *Flow) Warning(title, text string) {
	r := f.Take(f.WarningHeight(f.Width(), title, text))
	f.Page.Warning(r.X, r.Y, r.W, title, text)
	f.Space(2.5)
}
