// Package show writes figures as people read them: rounded half away from zero,
// amounts to the currency's minor unit, parts so that they add up to their total.
package show

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/money"
)

// Minus is the minus sign, Nil what stands for nothing, Unknown for a figure
// that cannot be computed.
const (
	Minus   = "\u2212"
	Nil     = "\u2013"
	Unknown = "-"
)

// Currency shows amounts of one currency.
type Currency struct {
	Code   string // ISO 4217
	Symbol string // "$"; the code and a space where there is no symbol
	Minor  int32  // decimals of the minor unit
}

// In is the currency of an ISO 4217 code; an unknown code is shown as it is,
// with two decimals.
func In(code string) Currency {
	code = strings.ToUpper(strings.TrimSpace(code))
	u, err := currency.ParseISO(code)
	if err != nil {
		return Currency{Code: code, Symbol: code + " ", Minor: 2}
	}
	digits, _ := currency.Standard.Rounding(u)
	symbol := message.NewPrinter(language.AmericanEnglish).Sprint(currency.NarrowSymbol(u))
	if symbol == code || symbol == "" {
		symbol = code + " "
	}
	return Currency{Code: code, Symbol: symbol, Minor: int32(digits)}
}

// Number is the amount without its currency, such as "1,234.50"; "-" when unknown.
func (c Currency) Number(f *calc.Figure) string {
	v, ok := f.Value()
	if !ok {
		return Unknown
	}
	return Decimals(v, c.Minor)
}

// Amount is the amount with its currency, such as "$1,234.50".
func (c Currency) Amount(f *calc.Figure) string {
	v, ok := f.Value()
	if !ok {
		return Unknown
	}
	return c.Of(v)
}

// Of is Amount of a plain number.
func (c Currency) Of(v float64) string {
	s := Decimals(v, c.Minor)
	if rest, neg := strings.CutPrefix(s, Minus); neg {
		return Minus + c.Symbol + rest
	}
	return c.Symbol + s
}

// Signed is Of with a plus sign for gains.
func (c Currency) Signed(v float64) string {
	if s := c.Of(v); v > 0 && !strings.HasPrefix(s, Minus) {
		return "+" + s
	}
	return c.Of(v)
}

// Decimals is v with n decimals, a comma at thousands and a real minus; never "-0".
func Decimals(v float64, n int32) string {
	s := money.Show(v, n)
	digits, neg := strings.CutPrefix(s, "-")
	if strings.Trim(digits, "0.") == "" {
		neg = false
	}
	whole, frac, _ := strings.Cut(digits, ".")
	var b strings.Builder
	if neg {
		b.WriteString(Minus)
	}
	for i, d := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteByte(',')
		}
		b.WriteRune(d)
	}
	if frac != "" {
		b.WriteString("." + frac)
	}
	return b.String()
}

// Decimal is Decimals of a figure; "-" when unknown.
func Decimal(f *calc.Figure, n int32) string {
	if v, ok := f.Value(); ok {
		return Decimals(v, n)
	}
	return Unknown
}

// Units is a number of units: whole where it is whole, else one decimal.
func Units(f *calc.Figure) string {
	v, ok := f.Value()
	if !ok {
		return Unknown
	}
	if v == math.Trunc(v) {
		return Decimals(v, 0)
	}
	return Decimals(v, 1)
}

// Percent is a fraction per hundred with n decimals, such as "64.7 %".
func Percent(f *calc.Figure, n int32) string {
	if v, ok := f.Value(); ok {
		return Share(v, n)
	}
	return Unknown
}

// Share is Percent of a plain fraction.
func Share(v float64, n int32) string { return Decimals(v*100, n) + " %" }

// Ratio is colored to natural, such as "5.2 : 1"; "-" when unknown.
func Ratio(f *calc.Figure) string {
	v, ok := f.Value()
	switch {
	case !ok:
		return Unknown
	case v > 0 && v < 1:
		return Decimals(v, 2) + " : 1"
	}
	return Decimals(v, 1) + " : 1"
}

// Weight is grams as a maker says them: "850 g", "2.45 kg".
func Weight(f *calc.Figure) string {
	v, ok := f.Value()
	switch {
	case !ok:
		return Unknown
	case math.Abs(v) >= 1000:
		return Decimals(v/1000, 2) + " kg"
	case math.Abs(v) < 10 && v != 0:
		return Decimals(v, 2) + " g"
	}
	return Decimals(v, 0) + " g"
}

// Date is "Tue 10 Mar 2026"; "" for no date.
func Date(d day.Date) string { return date(d, "Mon 2 Jan 2006") }

// ShortDate is "Tue 10 Mar".
func ShortDate(d day.Date) string { return date(d, "Mon 2 Jan") }

// LongDate is "10 March 2026".
func LongDate(d day.Date) string { return date(d, "2 January 2006") }

// Month is "October 2026".
func Month(m day.Month) string { return date(m.First(), "January 2006") }

func date(d day.Date, layout string) string {
	if d == day.None {
		return ""
	}
	return d.Time().Format(layout)
}

// Parts rounds figures to n decimals by largest remainder, so that they add up
// to their rounded total; ties go to the earlier one. Unknown figures stay unknown.
func Parts(figures []*calc.Figure, n int32) []string {
	out := make([]string, len(figures))
	for i, v := range Apportion(values(figures), n) {
		out[i] = Unknown
		if figures[i].Known() {
			out[i] = Decimals(v, n)
		}
	}
	return out
}

func values(figures []*calc.Figure) []float64 {
	v := make([]float64, len(figures))
	for i, f := range figures {
		v[i] = f.Or(0)
	}
	return v
}

// Apportion rounds v to n decimals so that the rounded parts add up to the
// rounded sum: each is rounded down, and the units that are then missing go to
// the largest remainders, ties to the earlier one.
func Apportion(v []float64, n int32) []float64 {
	scale := math.Pow10(int(n))
	sum := 0.0
	out := make([]float64, len(v))
	type rest struct {
		i int
		r float64
	}
	rests := make([]rest, len(v))
	floors := 0.0
	for i, x := range v {
		sum += x
		out[i] = calc.FloorOf(x * scale)
		rests[i] = rest{i, x*scale - out[i]}
		floors += out[i]
	}
	total, _ := strconv.ParseFloat(money.Show(sum, n), 64)
	missing := int(math.Round(total*scale - floors))
	sort.SliceStable(rests, func(a, b int) bool { return rests[a].r > rests[b].r+1e-9 })
	for k := range max(0, min(missing, len(rests))) {
		out[rests[k].i]++
	}
	for i := range out {
		out[i] /= scale
	}
	return out
}
