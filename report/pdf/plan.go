package pdf

import (
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// Plan draws the production plan. It returns the PDF, and the texts that hold
// letters which could not be printed. An error is a fault of the program.
func Plan(r *plan.Result, o Options) ([]byte, []string, error) {
	p := newPlanPages(r, o)
	p.parts = p.pack()
	p.first()
	for i := range p.parts {
		p.parts[i].from = p.Sheets() + 1
		p.parts[i].draw()
		p.parts[i].to = p.Sheets()
	}
	return finish(p.document)
}

// planPages is a production plan in the making. Sections are numbered within a page.
type planPages struct {
	*document
	r       *plan.Result
	book    *book.Book
	money   show.Currency
	outings []plan.Outing // of a plan for markets
	places  int32         // decimals that the scale shows
	looks   map[string]int
	parts   []part
	cardAt  map[int]int // first sheet of a batch's card
	f       *draw.Flow
	n       int
}

// part is a part of the pack after page one: from and to are its sheets.
type part struct {
	key, name string
	draw      func()
	from, to  int
}

// The parts; their words are "plan.part.<key>".
const (
	partCalendar = "calendar"
	partOrder    = "order"
	partPull     = "pull"
	partCards    = "cards"
	partTests    = "tests"
	partPacking  = "packing"
	partNotes    = "notes"
)

func newPlanPages(r *plan.Result, o Options) *planPages {
	p := &planPages{r: r, book: r.Source, money: show.In(r.Currency), cardAt: map[int]int{}}
	if p.book == nil {
		p.book = &book.Book{}
	}
	if r.Market != nil {
		p.outings = append([]plan.Outing{{Market: r.Market, ExpectedTotal: r.ExpectedTotal, Demand: r.Demand, From: r.From, FromWhat: r.FromWhat}}, r.Also...)
	}
	p.document = o.open(p.docTitle())
	p.places = decimalsOf(p.book.Settings.Num(book.ScaleResolution).V)
	var names []string
	for _, x := range r.Pours {
		names = append(names, x.Recipe)
	}
	p.looks = draw.Patterns(names)
	return p
}

// docTitle names the document at the foot of every sheet, where there is not
// much room.
func (p *planPages) docTitle() string {
	const letters = 32
	if what := p.purpose(); len(p.outings) > 0 && len(what) <= letters {
		return templates.Text("plan.doc.market", "what", what, "date", show.LongDate(p.last()))
	}
	return templates.Text("plan.doc", "date", show.LongDate(p.last()))
}

// pack lists the parts that the plan has, in the order in which they are needed.
func (p *planPages) pack() []part {
	var out []part
	add := func(key string, n int, draw func()) {
		if n > 0 {
			out = append(out, part{key: key, name: templates.Text("plan.part."+key, "n", n), draw: draw})
		}
	}
	pours := len(p.r.Pours)
	add(partWhatIf, p.changed(), p.whatIf)
	add(partCalendar, pours, p.calendar)
	add(partOrder, len(p.r.Buy), p.orderList)
	add(partPull, len(p.r.Days), p.pullLists)
	add(partCards, pours, p.cards)
	add(partTests, len(p.r.Tests), p.testSheets)
	add(partPacking, pours+p.handed(), p.packing)
	add(partNotes, 1, p.notes)
	return out
}

// start begins a page of the plan.
func (p *planPages) start(h costdoc.Head, name string) {
	p.f, p.n = p.page(h, name), 0
}

// head begins a section; keep is the height that must follow it.
func (p *planPages) head(title, aside string, keep float64) {
	p.n++
	p.f.Section(show.Decimals(float64(p.n), 0), title, aside, keep)
}

// purpose is what the plan is for: the markets, or nothing where there is none.
func (p *planPages) purpose() string {
	var names []string
	for _, o := range p.outings {
		names = append(names, o.Market.Market)
	}
	if len(names) == 0 {
		return templates.Text("plan.wanted")
	}
	return listed(names)
}

// last is the day of the last market, or the day the candles are wanted.
func (p *planPages) last() day.Date {
	if n := len(p.outings); n > 0 {
		return p.outings[n-1].Market.Date
	}
	if !dated(p.r.By) {
		return day.None
	}
	return p.r.By
}

// wanted is the day a pour's candles are wanted, and for what.
func (p *planPages) wanted(x *plan.Pour) (day.Date, string) {
	for _, o := range p.outings {
		if x.Market == "" || x.Market == o.Market.Market {
			return o.Market.Date, o.Market.Market
		}
	}
	return p.last(), templates.Text("plan.wanted")
}

// inHand is the days between a pour being cured and being wanted; false when
// it is wanted on no day.
func (p *planPages) inHand(x *plan.Pour) (int, bool) {
	at, _ := p.wanted(x)
	if !dated(at) || !dated(x.Cured) {
		return 0, false
	}
	return int(at - x.Cured), true
}

// bringing is how many candles are to be brought to all markets.
func (p *planPages) bringing() int {
	n := 0
	for _, o := range p.outings {
		for _, d := range o.Demand {
			n += d.Bring
		}
	}
	return n
}

// handed is how many candles to bring are on hand.
func (p *planPages) handed() int {
	n := 0
	for _, o := range p.outings {
		for _, d := range o.Demand {
			n += min(d.Bring, d.OnHand)
		}
	}
	return n
}

// started is how many candles a pour starts.
func started(x *plan.Pour) int {
	n := 0
	for _, j := range x.Jars {
		n += j.Units
	}
	return n
}

// good is how many of started units can be sold, as the reject rate goes.
func (p *planPages) good(started int) int {
	return int(calc.FloorOf(float64(started) * (1 - p.book.Settings.Num(book.RejectRate).V)))
}

// notes are the plan's assumptions, the problems of the book, and the cautions.
func (p *planPages) notes() {
	p.start(costdoc.Head{
		Title: templates.Text("plan.part.notes"), Subtitle: templates.Text("plan.notes.subtitle"),
		Finding: costdoc.Found(p.r.Problems, p.money),
	}, templates.Text("plan.part.notes"))
	p.document.last = p.f
	p.n = problems(p.f, p.r.Problems, p.money, p.n)
	p.head(templates.Text("plan.terms"), templates.Text("plan.terms.aside"), 20)
	terms := []string{templates.Text("plan.term.recipes"), templates.Text("plan.term.stock")}
	if len(p.outings) > 0 {
		terms = append(terms, templates.Text("plan.term.prices"), templates.Text("plan.term.swap"))
	}
	if len(p.r.LeftOut) > 0 {
		terms = append(terms, templates.Text("plan.term.left"))
	}
	terms = append(terms, templates.Text("plan.term.drops"), templates.Text("plan.term.swatch"))
	bullets(p.f, terms)
	cautions(p.document)
}

// dated reports whether a day is one; 0 stands for none in a result made by hand.
func dated(d day.Date) bool { return d != day.None && d != 0 }

// listed joins names: "a", "a and b", "a, b and c".
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return templates.Text("plan.and", "first", strings.Join(names[:last], ", "), "last", names[last])
}
