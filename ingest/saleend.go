package ingest

import (
	"maps"
	"math"
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// notPieces is the finding of a quantity that is not in pieces.
func notPieces(q parse.Quantity) parse.Finding {
	if q.Unit.Dim == unit.Count {
		return parse.Finding{}
	}
	return parse.Finding{
		Severity: problem.Error, Code: problem.BadUnit, Say: "kind",
		Args: []any{"read", q.Raw, "field", "quantity", "want", unit.Count.String()},
	}
}

// finish reads what had to wait, matches the references, and gives the lines
// that can be used to the book.
func (s *saleSink) finish() {
	e := &saleEnd{
		odd:      slices.Sorted(maps.Keys(s.found)),
		saleSink: s, waited: s.readWaiting(), sheet: int32(len(s.book.SaleSheets)),
		channels: map[int32]int32{}, markets: make([]int32, s.texts[sMarket].Len()),
	}
	s.book.SaleSheets = append(s.book.SaleSheets, s.b.sheet)
	e.products = make([]reference, s.texts[sProduct].Len())
	e.dead = s.deadColumns()
	e.clean = !slices.Contains(e.dead[:], true)
	var changes book.Columns
	if !e.settle(sOrder, &s.orders) {
		changes |= book.Orders
	}
	if !e.settle(sCustomer, &s.customers) {
		changes |= book.Customers
	}
	e.places.add, e.combos.add = s.lines.AddPlace, s.lines.AddAmounts
	s.lines.KeepMany(book.Days|book.Places|book.Amounts, changes, e.keepAll, e.keep)
	s.lines.Turn(e.places.list, e.combos.list)
	if s.book.Sales.Len() == 0 {
		s.book.Sales = s.lines
	} else {
		for _, x := range s.lines.All() {
			s.book.Sales.Add(x)
		}
	}
	s.lines, s.later, s.found = book.Sales{}, nil, nil
}

// deadColumns are the amounts that cannot be used: two headings fit, or the
// heading has another currency, which is said once.
func (s *saleSink) deadColumns() [saleFields]bool {
	var dead [saleFields]bool
	for f, name := range saleNames {
		dead[f] = slices.Contains(s.b.unsure, name)
		c, ok := s.b.column(name)
		if ok && f >= sPrice && f <= sDiscount && s.foreign(c.unit) {
			dead[f] = true
			s.add(problem.Problem{
				Severity: problem.Error, Code: problem.BadNumber, Say: "currency", At: s.b.at(s.b.head.Row, c.index),
				Args: []any{"read", c.heading, "found", c.unit, "currency", strings.ToUpper(s.currency())},
			})
		}
	}
	return dead
}

// waited are the texts that needed their whole column, read, by number.
type waited struct {
	days    []parse.Day
	amounts [saleFields][]parse.Result
}

func (s *saleSink) readWaiting() (w waited) {
	if len(s.later) == 0 {
		return w
	}
	custom := parse.Custom(s.currency())
	for f := range s.texts {
		list := &s.texts[f].Texts
		switch {
		case list.Len() == 1:
		case f == sDate:
			w.days = readDates(list)
		case f >= sQuantity && f <= sDiscount:
			w.amounts[f] = s.readAmounts(f, list, custom)
		}
	}
	return w
}

// fill gives a line what had to wait.
func (e *saleEnd) fill(i int32, p *book.PackedSale) {
	for ; len(e.later) > 0 && e.later[0].line == i; e.later = e.later[1:] {
		w := e.later[0]
		if w.field == sDate {
			d := e.days[w.text]
			e.note(i, sDate, d.Finding)
			if d.OK() {
				p.Day = d.V
			}
			continue
		}
		r := e.waited.amounts[w.field][w.text]
		e.note(i, int(w.field), r.Finding)
		if r.OK() {
			x := e.lines.Unpack(*p)
			set(&x, int(w.field), r.A)
			*p = e.lines.Pack(&x)
		}
	}
}

func readDates(list *book.Texts) []parse.Day {
	var e parse.DateEvidence
	for _, t := range list.All() {
		e.Look(grid.Cell{Kind: grid.Text, Raw: t})
	}
	out := make([]parse.Day, list.Len())
	for i, t := range list.All() {
		out[i] = parse.DateIn(grid.Cell{Kind: grid.Text, Raw: t}, e.Order())
	}
	return out
}

func (s *saleSink) readAmounts(f int, list *book.Texts, custom parse.Style) []parse.Result {
	var e parse.Evidence
	if s.point[f] {
		e.Look("0.5")
	}
	for _, t := range list.All() {
		e.Look(t)
	}
	out := make([]parse.Result, list.Len())
	for i, t := range list.All() {
		out[i] = s.read(f, grid.Cell{Kind: grid.Text, Raw: t}, e.Style(custom))
	}
	return out
}

// saleEnd makes lines of the book of a sink's lines.
type saleEnd struct {
	*saleSink
	waited
	sheet    int32
	dead     [saleFields]bool
	products []reference
	channels map[int32]int32
	markets  []int32             // the book's numbers of its texts, 0 for those not met yet
	spelled  [saleFields][]int32 // the book's numbers of a column's texts; nil where they are the same
	odd      []int32             // lines on which something was found at once, in order
	// clean: no column has amounts that cannot be used.
	clean bool
	// what places and amounts of the sink become in the book
	places become[book.SalePlace]
	combos become[book.SaleAmounts]
}

// keep completes a line as it is packed; false leaves it out. What a place and
// amounts have become is kept for the lines that have the same.
func (e *saleEnd) keep(i int, p *book.PackedSale) bool {
	if e.over != nil {
		return false
	}
	e.fill(int32(i), p)
	clean := e.clean && p.Day != day.None && (len(e.found) == 0 || len(e.found[int32(i)]) == 0)
	if clean && e.places.knows(p.Place) && e.combos.knows(p.Amounts) {
		p.Order, p.Customer = e.spelling(sOrder, p.Order), e.spelling(sCustomer, p.Customer)
		e.tellAhead(p.Day, p.Row)
		return true
	}
	x := e.lines.Unpack(*p)
	if !e.line(int32(i), &x) {
		e.b.lost++
		return false
	}
	p.Order, p.Customer = x.Order, x.Customer
	if !clean {
		p.Place, p.Amounts = e.places.number(x.SalePlace), e.combos.number(x.SaleAmounts)
		return true
	}
	e.places.set(p.Place, x.SalePlace)
	e.combos.set(p.Amounts, x.SaleAmounts)
	e.places.known[p.Place], e.combos.known[p.Amounts] = true, true
	return true
}

// keepAll is keep for lines that have nothing of their own: nothing waited or was
// found, and what their places and amounts become is known.
func (e *saleEnd) keepAll(n *book.Stretch) bool {
	last := int32(n.First + n.Len - 1)
	if e.over != nil || !e.clean || len(e.later) > 0 && e.later[0].line <= last {
		return false
	}
	if i, _ := slices.BinarySearch(e.odd, int32(n.First)); i < len(e.odd) && e.odd[i] <= last {
		return false
	}
	latest := day.Date(math.MaxInt32)
	if e.opts.Today > 0 {
		latest = e.opts.Today
	}
	for _, d := range n.Days {
		if d := day.Date(d); d == day.None || d > latest {
			return false
		}
	}
	if !e.places.knowsAll(n.Places) || !e.combos.knowsAll(n.Amounts) {
		return false
	}
	for j, id := range n.Orders {
		n.Orders[j] = e.spelling(sOrder, id)
	}
	for j, id := range n.Customers {
		n.Customers[j] = e.spelling(sCustomer, id)
	}
	return true
}

func (e *saleEnd) tellAhead(d day.Date, row int32) {
	if e.at[sDate] >= 0 && e.opts.Today > 0 && d > e.opts.Today {
		e.ahead(e.b, book.Date{V: d, At: e.b.at(int(row), e.at[sDate])})
	}
}

// line completes a line; false leaves it out, with its problems and its money.
func (e *saleEnd) line(i int32, x *book.Sale) bool {
	var said []problem.Problem
	var broken [saleFields]bool
	for _, f := range e.found[i] {
		said = append(said, f.Problem(e.b.at(int(x.Row), e.at[f.field])))
		broken[f.field] = broken[f.field] || f.Bad()
	}
	for f := range e.dead {
		broken[f] = broken[f] || e.dead[f]
	}
	e.kill(x, broken)
	text := x.Product
	lost := e.required(x, broken, &said)
	if text > 0 {
		ref := e.product(text)
		x.Product = ref.index
		if p := ref.problem; p.Code != "" {
			p.At = e.b.at(int(x.Row), e.at[sProduct])
			said, lost = append(said, p), lost || ref.index < 0
		}
	}
	e.say(said, lost, x)
	if lost {
		return false
	}
	if broken[sTotal] || broken[sDiscount] || broken[sPrice] && x.Has&book.HasTotal == 0 || broken[sChannel] || broken[sOrder] {
		x.Has |= book.BadMoney
	}
	x.Has &^= hasQuantity
	e.others(x)
	e.tellAhead(x.Day, x.Row)
	return true
}

// kill takes out the amounts of columns that cannot be used.
func (e *saleEnd) kill(x *book.Sale, broken [saleFields]bool) {
	for f, bit := range map[int]book.SaleHas{sQuantity: hasQuantity, sPrice: book.HasPrice, sTotal: book.HasTotal, sDiscount: book.HasDiscount} {
		if broken[f] && x.Has&bit != 0 {
			set(x, f, money.Amount{})
			x.Has &^= bit
		}
	}
}

// required reports whether a needed field is blank or cannot be read.
func (e *saleEnd) required(x *book.Sale, broken [saleFields]bool, said *[]problem.Problem) (lost bool) {
	need := func(f int, have bool) {
		if have {
			return
		}
		lost = true
		if !broken[f] && e.at[f] >= 0 {
			say := ""
			if f == sDate {
				say = "sale-date"
			}
			*said = append(*said, problem.Problem{
				Severity: problem.Error, Code: problem.MissingField, Say: say, At: e.b.at(int(x.Row), e.at[f]),
				Args: []any{"field", saleNames[f], "table", string(e.b.spec.name)},
			})
		}
	}
	need(sDate, x.Day != day.None)
	need(sProduct, x.Product > 0)
	need(sQuantity, x.Has&hasQuantity != 0)
	if x.Has&(book.HasPrice|book.HasTotal) == 0 {
		f := sPrice
		if e.at[sPrice] < 0 || broken[sTotal] {
			f = sTotal
		}
		need(f, false)
	}
	return lost
}

// say gives the problems of a line to the book; the first error of a line that
// is left out has its money.
func (e *saleEnd) say(said []problem.Problem, lost bool, x *book.Sale) {
	worth, known := lineWorth(x)
	for _, p := range said {
		if lost && known && p.Severity == problem.Error {
			p.Amount, p.HasAmount, known = worth, true, false
		}
		e.add(p)
	}
	if lost && known {
		e.b.worth += worth
	}
}

// lineWorth is the money on a line: its total, or quantity x price - discount.
func lineWorth(x *book.Sale) (float64, bool) {
	switch {
	case x.Has&book.HasTotal != 0:
		return x.Total.Float64(), true
	case x.Has&book.HasPrice != 0 && x.Has&hasQuantity != 0:
		return x.Qty.Mul(x.Price).Sub(x.Discount).Float64(), true
	}
	return 0, false
}
