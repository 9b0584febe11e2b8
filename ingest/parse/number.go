package parse

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"pourbook/compute/cell"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

// Result is a number read from a cell. V and A are the same value, as float64
// and exact; neither is of use when Finding.Bad().
type Result struct {
	V     float64
	A     money.Amount
	Raw   string // as typed
	Blank bool   // nothing was typed
	// Currency is the symbol or code that stood with the number, "" for none.
	Currency string
	// Percent tells that a percent sign (V is 8 for "8 %") or a percent format
	// (V is 0.08) stood with it; PercentIn makes both a fraction.
	Percent bool
	Finding Finding
}

// OK reports whether there is a usable number.
func (r Result) OK() bool { return !r.Blank && !r.Finding.Bad() }

// Num is the number as a value of the book.
func (r Result) Num(at cell.Ref) cell.Num {
	return cell.Num{V: r.value(), Raw: r.Raw, At: at, State: r.state()}
}

// Money is the number as an exact value of the book.
func (r Result) Money(at cell.Ref) cell.Of[money.Amount] {
	c := cell.Of[money.Amount]{Raw: r.Raw, At: at, State: r.state()}
	if r.OK() {
		c.V = r.A
	}
	return c
}

func (r Result) value() float64 {
	if r.OK() {
		return r.V
	}
	return 0
}

func (r Result) state() cell.State {
	switch {
	case r.Finding.Bad():
		return cell.Bad
	case r.Blank:
		return cell.Blank
	}
	return cell.Typed
}

var noFigures = sync.OnceValue(func() []string { return templates.List("parse.no-figure") })

// tooLarge bounds what is taken for a number: beyond it a float64 no longer
// holds every cent.
const tooLarge = 1e13

// Number reads text such as "1,234.50", "(12.50)", "1 1/2" or "€ 3". A percent
// sign is read (Percent is set, V counts per hundred) and left to the caller.
func Number(s string, st Style) Result {
	t := tidy(s)
	r := Result{Raw: strings.TrimSpace(s)}
	if t == "" {
		r.Blank = true
		return r
	}
	if slices.Contains(noFigures(), strings.ToLower(t)) {
		r.Finding = bad(problem.BadNumber, "no-figure", s)
		return r
	}
	m, ok := readNumber(t, st)
	if !ok {
		r.Finding = notNumber(s, t, st)
		return r
	}
	r.A, r.V, r.Currency, r.Percent = m.amount, m.amount.Float64(), m.currency, m.percent
	switch {
	case math.Abs(r.V) >= tooLarge:
		r.Finding = bad(problem.BadNumber, "too-large", s)
	case m.unclear:
		r.Finding = warn(problem.NumberStyle, "", s, "as", m.amount.String())
	case m.backward:
		r.Finding = warn(problem.NumberStyle, "minus", s, "as", m.amount.String())
	}
	return r
}

// NumberIn reads a cell that holds a plain number: no percent, no unit. Words
// in also, such as "days", may follow the number.
func NumberIn(c grid.Cell, st Style, also ...string) Result {
	r, done := numberKind(c)
	if !done {
		r = Number(dropWord(c.Raw, also), st)
		r.Raw = strings.TrimSpace(c.Raw)
	}
	switch {
	case r.OK() && r.Percent:
		r.Finding = bad(problem.BadNumber, "percent", shown(c, r))
	case r.OK() && r.Currency != "":
		r.Finding = bad(problem.BadNumber, "money", r.Raw)
	}
	return r
}

// inCents are currencies whose hundredth is written with the cent sign.
var inCents = []string{"USD", "CAD", "AUD", "NZD", "EUR", "MXN", "HKD", "SGD"}

// MoneyIn reads a cell that holds an amount of money. A currency other than
// the book's (a code such as "USD") is an error, never converted.
func MoneyIn(c grid.Cell, st Style, currency string) Result {
	r, done := numberKind(c)
	if !done {
		r = Number(c.Raw, st)
	}
	if r.OK() && r.Currency == "¢" && slices.Contains(inCents, strings.ToUpper(currency)) {
		r.A, r.Currency = r.A.Mul(hundredth), ""
		r.V = r.A.Float64()
	}
	switch {
	case r.OK() && r.Percent:
		r.Finding = bad(problem.BadNumber, "percent", shown(c, r))
	case r.Finding.Bad() && r.Finding.Code == problem.BadNumber && r.Finding.Say == "" && c.Kind == grid.Text && strings.Contains(c.Raw, "%"):
		r.Finding = bad(problem.BadNumber, "percent", r.Raw)
	case r.OK() && !SameCurrency(r.Currency, currency):
		r.Finding = bad(problem.BadNumber, "currency", r.Raw, "found", r.Currency, "currency", strings.ToUpper(currency))
	}
	return r
}

// numberKind reads the kinds of cell that are not text.
func numberKind(c grid.Cell) (r Result, done bool) {
	r.Raw = strings.TrimSpace(c.Raw)
	if f := unreadable(c); !f.None() {
		r.Finding = f
		return r, true
	}
	switch c.Kind {
	case grid.Text:
		return r, false
	case grid.Number:
		r.V, r.A, r.Percent = c.Num+0, money.Float(c.Num), c.Percent
		switch {
		case c.Time:
			r.Finding = bad(problem.BadNumber, "time", c.Raw)
		case math.Abs(c.Num) >= tooLarge:
			r.Finding = bad(problem.BadNumber, "too-large", c.Raw)
		}
	case grid.Date:
		r.Finding = bad(problem.BadNumber, "date", c.Raw)
	case grid.Bool:
		r.Finding = bad(problem.BadNumber, "yes-no-cell", c.Raw)
	default:
		r.Blank = true
	}
	return r, true
}

// shown is what the maker sees in a percent cell.
func shown(c grid.Cell, r Result) string {
	if c.Kind == grid.Number && c.Percent {
		return perHundred(r.A).String() + "%"
	}
	return c.Raw
}

func dropWord(s string, also []string) string {
	t := tidy(s)
	for _, w := range also {
		if cut, ok := strings.CutSuffix(strings.ToLower(t), w); ok && cut != "" {
			if c := cut[len(cut)-1]; c == ' ' || isDigit(c) {
				return t[:len(cut)]
			}
		}
	}
	return s
}

// lookalikes are letters that are typed for digits.
var lookalikes = map[byte]byte{'O': '0', 'o': '0', 'l': '1', 'I': '1'}

// digitsFor puts digits for the letters that stand where a digit should: next
// to a digit or separator, and not at the start of a word.
func digitsFor(t string) string {
	b := []byte(t)
	inNumber := func(i int) bool { return i >= 0 && i < len(b) && (isDigit(b[i]) || b[i] == '.' || b[i] == ',') }
	for i, c := range b {
		digit, ok := lookalikes[c]
		word := i+1 < len(b) && letter(b[i+1]) && lookalikes[b[i+1]] == 0
		if ok && !word && (inNumber(i-1) || i == 0 && inNumber(i+1)) {
			b[i] = digit
		}
	}
	return string(b)
}

func notNumber(s, t string, st Style) Finding {
	if amount, per, ok := cutPer(t); ok {
		if m, ok := readNumber(amount, st); ok && m.currency != "" {
			return bad(problem.BadNumber, "per", s, "unit", per)
		}
	}
	if strings.ContainsAny(t, "0123456789") {
		meant := digitsFor(t)
		if _, ok := readNumber(meant, st); ok && meant != t {
			return bad(problem.BadNumber, "letter", s, "meant", meant)
		}
	}
	return bad(problem.BadNumber, "", s)
}

// cutPer takes the unit off "2.95/lb" and "2.95 per lb".
func cutPer(t string) (amount, per string, ok bool) {
	for _, sign := range []string{"/", " per ", " a "} {
		if amount, per, ok = strings.Cut(t, sign); ok {
			u, known := unit.Find(strings.TrimSpace(per))
			return strings.TrimSpace(amount), u.Name, known
		}
	}
	return "", "", false
}

// plainDecimal is digits with at most one point, for money.Parse.
func plainDecimal(s string) (money.Amount, bool) {
	s = strings.TrimSuffix(s, ".")
	if s == "" || len(s) > 40 {
		return money.Amount{}, false
	}
	a, err := money.Parse(s)
	return a, err == nil
}

// exponent reads "1e3" and "1.5E-2".
func exponent(s string, st Style) (money.Amount, bool) {
	i := strings.IndexAny(s, "eE")
	if i < 1 || i == len(s)-1 {
		return money.Amount{}, false
	}
	g := group(s[:i])
	e, err := strconv.Atoi(s[i+1:])
	if !g.ok || g.unclear || err != nil || e < -12 || e > 12 || strings.ContainsAny(s[:i], " '") {
		return money.Amount{}, false
	}
	a, err := money.Parse(g.plain + "e" + strconv.Itoa(e))
	return a, err == nil
}
