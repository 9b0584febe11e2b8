package sales

import (
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
)

// Total adds lines up. Sums of money are exact.
type Total struct {
	Units, Gross, Net money.Amount
	Fees              float64
	Count             int
	Bad               int // lines whose money is unknown
}

// AddUnits adds the units of a line, and leaves the sums of money.
func (t *Total) AddUnits(w *Worth) {
	t.Count++
	t.Units = t.Units.Add(w.Units)
}

// Add adds a line.
func (t *Total) Add(x *Line) {
	if t.add(x.Worth) {
		t.Fees += x.Fees()
	}
}

// add adds all but the fees; false where they are unknown.
func (t *Total) add(w *Worth) bool {
	t.AddUnits(w)
	if w.Bad {
		t.Bad++
		return false
	}
	t.Gross, t.Net = t.Gross.Add(w.Gross), t.Net.Add(w.Net)
	return true
}

// AddTo adds a line of a stretch with its order, its place and its amounts.
func (l *Ledger) AddTo(t *Total, s *book.Stretch, i int) {
	if t.add(&l.worth[s.Amounts[i]]) {
		t.Fees += l.FeesOf(s, i)
	}
}

// Join adds what another total holds.
func (t *Total) Join(o *Total) {
	t.Units, t.Gross, t.Net = t.Units.Add(o.Units), t.Gross.Add(o.Gross), t.Net.Add(o.Net)
	t.Fees, t.Count, t.Bad = t.Fees+o.Fees, t.Count+o.Count, t.Bad+o.Bad
}

// Field is what is added up.
type Field string

// The fields.
const (
	Units    Field = "units"
	Gross    Field = "gross"
	Discount Field = "discount"
	Net      Field = "net"
	Fees     Field = "fees"
)

// Value is a field of the total; NaN when it is money and a line's is unknown.
func (t *Total) Value(f Field) float64 {
	if f != Units && t.Bad > 0 {
		return math.NaN()
	}
	switch f {
	case Units:
		return t.Units.Float64()
	case Gross:
		return t.Gross.Float64()
	case Discount:
		return t.Gross.Sub(t.Net).Float64()
	case Net:
		return t.Net.Float64()
	}
	return t.Fees
}

// Figure is a field of the total as a sum over rows of Sales.
func (t *Total) Figure(f Field, rows *Rows) *calc.Figure {
	return calc.SumOver(t.Value(f), summands[f], t.Count, rows)
}

var summands = func() map[Field]*calc.Summand {
	out := map[Field]*calc.Summand{}
	for _, f := range []Field{Units, Gross, Discount, Net, Fees} {
		out[f] = &calc.Summand{Table: string(book.TSales), Field: string(f), Key: "sales." + string(f)}
	}
	return out
}()

// Rows are rows of Sales by their days, a field and its value, "" for none, and
// further conditions.
type Rows struct {
	From, To     day.Date
	Field, Value string
	*Further
}

// Further are more fields and values in turn, as in Where; nil for none.
type Further struct {
	More   []string
	Unsaid []string // more that go without words
}

// With is the conditions with more of them.
func (f *Further) With(more ...string) *Further {
	if f == nil {
		return &Further{More: more}
	}
	return &Further{slices.Concat(f.More, more), f.Unsaid}
}

// Where are the conditions of the rows.
func (r *Rows) Where() []calc.Cond {
	var more []string
	if r.Further != nil {
		more = slices.Concat(r.Unsaid, r.More)
	}
	if r.Field != "" {
		more = append(more, r.Field, r.Value)
	}
	return Where(r.From, r.To, more...)
}

// Of are the value, the days and the values of More.
func (r *Rows) Of() []string {
	out := []string{r.Value, r.From.String(), r.To.String()}
	if r.Further != nil {
		for i := 1; i < len(r.More); i += 2 {
			out = append(out, r.More[i])
		}
	}
	return out
}

// Where describes rows by their days and by further fields and values in turn:
// product (code), channel, finish, jar, season ("Winter 2026", or "Winter" of
// all years), wholesale ("yes" or "no"), customers.
func Where(from, to day.Date, more ...string) []calc.Cond {
	out := []calc.Cond{{Field: "from", Value: from.String()}, {Field: "to", Value: to.String()}}
	for i := 0; i+1 < len(more); i += 2 {
		out = append(out, calc.Cond{Field: more[i], Value: more[i+1]})
	}
	return out
}
