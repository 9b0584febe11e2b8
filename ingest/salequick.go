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
	if !r.Plain || r.Hidden || w.single != nil || w.titles != nil || len(w.open) != 1 || w.open[0].sales == nil || len(w.plan) > 0 {
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
	for i := range r.Len() {
		field, at := noField, r.Column(i)-1-q.b.first
		inside := at >= 0 && at < len(q.fields)
		if inside {
			field = q.fields[at]
		}
		if (!inside || !q.cell(r, i, &x, field)) && !r.Blank(i) {
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

// cell takes in a cell; false for one that is blank or has to be taken in full.
func (q *quick) cell(r *grid.RawRow, i int, x *book.Sale, field int) bool {
	switch {
	case field == sDate:
		return q.date(r, i, x)
	case field >= sQuantity && field <= sDiscount:
		a, _, ok := q.number(r, i)
		if ok {
			set(x, field, a)
		}
		return ok
	}
	if n, ok := r.Shared(i); ok {
		return q.sharedName(r, i, x, field, n)
	}
	if text, ok := r.Text(i); ok {
		return q.name(r, i, x, field, text)
	}
	// A number that stands for a name is the text that it shows.
	_, text, ok := q.number(r, i)
	if field == noField || !ok {
		return ok
	}
	return isWhole(text) && setName(x, field, q.texts[field].ofBytes(text))
}

// number reads a plain number, and notes it for the sums of its column.
func (q *quick) number(r *grid.RawRow, i int) (a money.Amount, text []byte, ok bool) {
	if text, ok = r.Number(i, grid.PlainFormat); ok {
		if a, ok = money.ParsePlain(text); ok {
			q.values = append(q.values, footValue{r.Column(i) - 1, a.Float64()})
		}
	}
	return a, text, ok
}

func (q *quick) date(r *grid.RawRow, i int, x *book.Sale) bool {
	text, ok := r.Number(i, grid.DateFormat)
	if !ok {
		return false
	}
	if string(text) != string(q.serial) {
		if len(text) > 7 || !isWhole(text) {
			return false
		}
		n, err := strconv.Atoi(string(text))
		if err != nil {
			return false
		}
		q.serial, q.day = append(q.serial[:0], text...), r.Day(float64(n))
	}
	x.Day = q.day
	return q.day != day.None
}

// sharedName numbers a shared text. Of a text that is a plain number, which is
// in the sums of its column, the number is kept with a minus, and one less.
func (q *quick) sharedName(r *grid.RawRow, i int, x *book.Sale, field, shared int) bool {
	const takeInFull = -1
	if field == noField {
		return textKindOf(q.sheet.Text(shared)) == ordinary
	}
	if q.shared[field] == nil {
		q.shared[field] = make([]int32, q.sheet.Texts())
	}
	id := &q.shared[field][shared]
	if *id == 0 {
		switch s := q.sheet.Text(shared); textKindOf(s) {
		case ordinary:
			*id = q.first(field, s)
		case numeric:
			*id = -q.first(field, s) - 1
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
	return q.numeric(r, i, q.texts[field].At(n)) && setName(x, field, n)
}

// first numbers a shared text that its column has for the first time; whether it has
// it from elsewhere too is seen when the column is settled, if it is.
func (q *quick) first(field int, s string) int32 {
	if field == sOrder || field == sCustomer {
		return q.texts[field].Add([]byte(s))
	}
	return q.texts[field].of(s)
}

func (q *quick) name(r *grid.RawRow, i int, x *book.Sale, field int, text []byte) bool {
	switch textKindOf(string(text)) {
	case ordinary:
	case numeric:
		if field == noField || !q.numeric(r, i, string(text)) {
			return false
		}
	default:
		return false
	}
	return field == noField || setName(x, field, q.texts[field].ofBytes(text))
}

// numeric notes a text that is a plain number for the sums of its column.
func (q *quick) numeric(r *grid.RawRow, i int, s string) bool {
	v, err := strconv.ParseFloat(s, 64)
	q.values = append(q.values, footValue{r.Column(i) - 1, v})
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
