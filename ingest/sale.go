package ingest

import (
	"math"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// The fields of a sale, as indexes.
const (
	sDate = iota
	sProduct
	sQuantity
	sPrice
	sTotal
	sDiscount
	sChannel
	sOrder
	sCustomer
	sMarket
	saleFields
)

var saleNames = [saleFields]string{
	"date", "product", "quantity", "unit price", "line total", "discount", "channel", "order", "customer", "market",
}

// hasQuantity is a bit of SaleHas that only lines in the making have.
const hasQuantity book.SaleHas = 1 << 7

// saleSink takes the rows of a Sales table as they come. A line is as small as
// book.Sale; until the end its texts are numbers of the column's distinct
// texts. What only the whole column or another table can tell (whether 1.234 is
// a thousand, which of 3/4 is the month) waits in later.
type saleSink struct {
	*reader
	b     *block
	at    [saleFields]int // columns, -1 for none
	lines book.Sales
	texts [saleFields]texts
	later []waiting
	found map[int32][]finding
	noted int
	// point tells that a plain text with a decimal point was met.
	point [saleFields]bool
}

// waiting is a text of a line that can be read when the column has been seen.
type waiting struct {
	line  int32
	field uint8
	text  int32
}

// finding is what was found in a field of a line.
type finding struct {
	field uint8
	parse.Finding
}

// texts numbers the distinct texts of a column from 1; 0 is none.
type texts struct {
	book.Texts
	last int32
}

func (t *texts) of(s string) int32 { return t.ofBytes([]byte(s)) }

func (t *texts) ofBytes(s []byte) int32 {
	if !t.Is(t.last, s) {
		t.last = t.NumberOf(s)
	}
	return t.last
}

func newSaleSink(r *reader, b *block) *saleSink {
	s := &saleSink{reader: r, b: b, found: map[int32][]finding{}}
	for f, name := range saleNames {
		s.at[f] = -1
		if c, ok := b.column(name); ok {
			s.at[f] = c.index
		}
	}
	return s
}

// take takes in a row.
func (s *saleSink) take(row grid.Row) {
	i := int32(s.lines.Len())
	x := book.Sale{Day: day.None, Row: int32(row.N), SalePlace: book.SalePlace{Channel: -1}}
	for f, index := range s.at {
		if index < 0 || index >= len(row.Cells) || row.Cells[index].Kind == grid.Blank {
			continue
		}
		c := &row.Cells[index]
		switch {
		case f == sDate:
			s.date(i, &x, c)
		case f >= sQuantity && f <= sDiscount:
			s.amount(i, f, &x, c)
		default:
			s.name(i, f, &x, c)
		}
	}
	s.keep(x)
}

func (s *saleSink) date(i int32, x *book.Sale, c *grid.Cell) {
	switch {
	case c.Kind == grid.Date && c.Day != day.None:
		x.Day = c.Day
	case c.Kind == grid.Text:
		s.wait(i, sDate, c.Raw)
	default:
		d := parse.DateIn(*c, parse.OrderUnknown)
		s.note(i, sDate, d.Finding)
		if d.OK() {
			x.Day = d.V
		}
	}
}

func (s *saleSink) wait(i int32, field int, raw string) {
	s.later = append(s.later, waiting{i, uint8(field), s.texts[field].of(raw)})
}

func (s *saleSink) note(i int32, field int, f parse.Finding) {
	if f.None() {
		return
	}
	if s.noted++; s.noted > maxProblems {
		s.beyond("too-many-problems", maxProblems, s.b.at(s.b.head.Row+int(i)+1, s.at[field]))
	} else {
		s.found[i] = append(s.found[i], finding{uint8(field), f})
	}
}

// amount reads the cells that can be read at once.
func (s *saleSink) amount(i int32, field int, x *book.Sale, c *grid.Cell) {
	switch {
	case c.Kind == grid.Number && !c.Percent && !c.Time && math.Abs(c.Num) < 1e13:
		set(x, field, money.Float(c.Num))
		return
	case c.Kind == grid.Text && plainAmount(c.Raw):
		if a, err := money.Parse(c.Raw); err == nil {
			s.point[field] = s.point[field] || strings.IndexByte(c.Raw, '.') >= 0
			set(x, field, a)
			return
		}
	}
	if c.Kind == grid.Text {
		s.wait(i, field, c.Raw)
		return
	}
	r := s.read(field, *c, parse.Style{})
	s.note(i, field, r.Finding)
	if r.OK() {
		set(x, field, r.A)
	}
}

// plainAmount reports whether a text is digits with at most one point that
// cannot be for thousands.
func plainAmount(s string) bool {
	s = strings.TrimPrefix(s, "-")
	if len(s) == 0 || len(s) > 12 || s[0] == '.' {
		return false
	}
	point := -1
	for i := range len(s) {
		switch {
		case s[i] == '.' && point < 0:
			point = i
		case s[i] < '0' || s[i] > '9':
			return false
		}
	}
	return point < 0 || len(s)-point != 4 && point < len(s)-1
}

func set(x *book.Sale, field int, a money.Amount) {
	switch field {
	case sQuantity:
		x.Qty, x.Has = a, x.Has|hasQuantity
	case sPrice:
		x.Price, x.Has = a, x.Has|book.HasPrice
	case sTotal:
		x.Total, x.Has = a, x.Has|book.HasTotal
	case sDiscount:
		x.Discount, x.Has = a, x.Has|book.HasDiscount
	}
}

// read reads an amount: money, or a quantity of pieces.
func (s *saleSink) read(field int, c grid.Cell, st parse.Style) parse.Result {
	if field != sQuantity {
		return parse.MoneyIn(c, st, s.currency())
	}
	q := parse.QuantityIn(c, st, parse.Units{})
	if q.OK() && !q.Bare() {
		q.Finding = notPieces(q)
		q.A = money.Float(q.Base)
	}
	return q.Result
}

// name numbers a text.
func (s *saleSink) name(i int32, field int, x *book.Sale, c *grid.Cell) {
	if c.Kind == grid.Error || c.Kind == grid.NoValue {
		_, f := parse.Text(*c)
		s.note(i, field, f)
		return
	}
	if c.Kind == grid.Text && strings.TrimSpace(c.Raw) == "" {
		return
	}
	setName(x, field, s.texts[field].of(c.Raw))
}

// setName gives a line the number of a text; there is always one.
func setName(x *book.Sale, field int, id int32) bool {
	switch field {
	case sProduct:
		x.Product = id
	case sChannel:
		x.Channel = id
	case sOrder:
		x.Order = id
	case sCustomer:
		x.Customer = id
	case sMarket:
		x.Market = id
	}
	return true
}

// keep adds a line, and notes where the lines have more names than a maker has.
func (s *saleSink) keep(x book.Sale) {
	s.lines.Add(x)
	for _, f := range [...]int{sProduct, sChannel, sMarket} {
		if s.texts[f].Len() > maxNames {
			s.beyond("too-many-names", maxNames, s.b.at(int(x.Row), s.at[f]))
		}
	}
}
