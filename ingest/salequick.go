package ingest

import (
	"strconv"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/ingest/grid"
)

// quick takes the plain rows of a Sales table as the file gives them: a date, a
// quantity, and texts and numbers in their columns. It takes a row in just the
// way in which the walker and the sink would, or not at all.
type quick struct {
	*saleSink
	sheet  *grid.Sheet
	fields []int // by column from the block's first: the sale's field, -1 for none
	// shared are, by field and number of a shared text, the numbers of the
	// column's texts; 0 for those that were not met.
	shared [saleFields][]int32
	serial []byte // of the last date
	day    day.Date
	values []footValue // of the row in hand
}

// footValue is a number for the sums of a column.
type footValue struct {
	column int
	value  float64
}

const noField = -1

func newQuick(s *saleSink, sheet *grid.Sheet) *quick {
	q := &quick{saleSink: s, sheet: sheet, fields: make([]int, s.b.last-s.b.first+1)}
	for i := range q.fields {
		q.fields[i] = noField
	}
	for f, index := range s.at {
		if index >= 0 {
			q.fields[index-s.b.first] = f
		}
	}
	return q
}

// raw takes in a row as the file gives it.
func (w *walker) raw(r *grid.RawRow) error {
	w.place = cell.Ref{Sheet: w.label, Row: r.N, Col: 1}
	if w.quickly(r) {
		return w.count()
	}
	row := r.Full()
	if len(row.Cells) == 0 {
		return nil
	}
	return w.row(row)
}

func (w *walker) quickly(r *grid.RawRow) bool {
	if !r.Plain || r.Hidden || w.single != nil || len(w.open) != 1 || w.open[0].sales == nil || len(w.plan) > 0 {
		return false
	}
	if s := w.open[0].sales; w.quick == nil || w.quick.saleSink != s {
		w.quick = newQuick(s, w.sheet)
	}
	if !w.quick.row(r) {
		return false
	}
	w.last = r.N
	return true
}

// row takes in a row; false leaves it to be taken in full.
func (q *quick) row(r *grid.RawRow) bool {
	q.values = q.values[:0]
	x := book.Sale{Day: day.None, Row: int32(r.N), SalePlace: book.SalePlace{Channel: -1}}
	for i := range r.Cells {
		c := &r.Cells[i]
		at := c.Col - 1 - q.b.first
		if at < 0 || at >= len(q.fields) || !q.cell(r, &x, q.fields[at], c) {
			return false
		}
	}
	if x.Day == day.None || x.Has&hasQuantity == 0 {
		return false
	}
	for _, v := range q.values {
		q.b.foot.count(v.column, v.value)
	}
	q.b.foot.rows++
	q.b.n++
	q.keep(x)
	return true
}

func (q *quick) cell(r *grid.RawRow, x *book.Sale, field int, c *grid.RawCell) bool {
	switch {
	case field == noField:
		return q.unread(c)
	case field == sDate:
		return q.date(r, x, c)
	case field >= sQuantity && field <= sDiscount:
		a, ok := q.number(c)
		set(x, field, a)
		return ok
	case c.Kind == grid.RawShared:
		return q.sharedName(x, field, c)
	case c.Kind == grid.RawText:
		return q.name(x, field, c)
	}
	// A number that stands for a name is the text that it shows.
	_, ok := q.number(c)
	return ok && isWhole(c.Text) && setName(x, field, q.texts[field].ofBytes(c.Text))
}

// number reads a plain number, and notes it for the sums of its column.
func (q *quick) number(c *grid.RawCell) (money.Amount, bool) {
	if c.Kind != grid.RawNumber || c.Format != grid.PlainFormat {
		return money.Amount{}, false
	}
	a, ok := money.ParsePlain(c.Text)
	if ok {
		q.values = append(q.values, footValue{c.Col - 1, a.Float64()})
	}
	return a, ok
}

func (q *quick) date(r *grid.RawRow, x *book.Sale, c *grid.RawCell) bool {
	if c.Kind != grid.RawNumber || c.Format != grid.DateFormat {
		return false
	}
	if string(c.Text) != string(q.serial) {
		if len(c.Text) > 7 || !isWhole(c.Text) {
			return false
		}
		n, err := strconv.Atoi(string(c.Text))
		if err != nil {
			return false
		}
		q.serial, q.day = append(q.serial[:0], c.Text...), r.Day(float64(n))
	}
	x.Day = q.day
	return q.day != day.None
}

// unread looks at a cell of a column that is no field of a sale.
func (q *quick) unread(c *grid.RawCell) bool {
	switch c.Kind {
	case grid.RawNumber:
		_, ok := q.number(c)
		return ok
	case grid.RawShared:
		return textKindOf(q.sheet.Text(c.Shared)) == ordinary
	}
	return c.Kind == grid.RawText && textKindOf(string(c.Text)) == ordinary
}

// sharedName numbers a shared text. Of a text that is a plain number, which is
// in the sums of its column, the number is kept with a minus, and one less.
func (q *quick) sharedName(x *book.Sale, field int, c *grid.RawCell) bool {
	const takeInFull = -1
	for len(q.shared[field]) <= c.Shared {
		q.shared[field] = append(q.shared[field], 0)
	}
	id := &q.shared[field][c.Shared]
	if *id == 0 {
		switch s := q.sheet.Text(c.Shared); textKindOf(s) {
		case ordinary:
			*id = q.texts[field].of(s)
		case numeric:
			*id = -q.texts[field].of(s) - 1
		default:
			*id = takeInFull
		}
	}
	switch {
	case *id > 0:
		return setName(x, field, *id)
	case *id == takeInFull:
		return false
	}
	n := -*id - 1
	return q.numeric(c, q.texts[field].At(n)) && setName(x, field, n)
}

func (q *quick) name(x *book.Sale, field int, c *grid.RawCell) bool {
	switch textKindOf(string(c.Text)) {
	case ordinary:
	case numeric:
		if !q.numeric(c, string(c.Text)) {
			return false
		}
	default:
		return false
	}
	return setName(x, field, q.texts[field].ofBytes(c.Text))
}

// numeric notes a text that is a plain number for the sums of its column.
func (q *quick) numeric(c *grid.RawCell, s string) bool {
	v, err := strconv.ParseFloat(s, 64)
	q.values = append(q.values, footValue{c.Col - 1, v})
	return err == nil
}

// textKind is what a text may be to those who look at whole rows.
type textKind int

const (
	ordinary textKind = iota
	numeric
	other // blank, or the beginning of an example row
)

func textKindOf(s string) textKind {
	switch {
	case plainAmount(s):
		return numeric
	case strings.TrimSpace(s) == "", strings.HasPrefix(s, exampleWord):
		return other
	}
	return ordinary
}

// isWhole reports whether a text is a whole number as a spreadsheet shows it.
func isWhole(s []byte) bool {
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return len(s) > 0 && (s[0] != '0' || len(s) == 1)
}
