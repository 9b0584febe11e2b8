// Package money holds exact decimal amounts. Amounts that fit are integers of
// a fixed scale (millionths), so that adding a price costs nanoseconds; the
// decimal library takes over where a value does not fit.
package money

import (
	"errors"
	"math"
	"math/bits"
	"strconv"

	"github.com/shopspring/decimal"
)

const (
	places = 6
	scale  = 1_000_000
)

// Amount is an exact decimal number: an amount of currency, or a quantity it
// is multiplied with. The zero value is 0.
type Amount struct {
	micro int64
	wide  *decimal.Decimal
}

var errNotNumber = errors.New("not a decimal number")

// Parse reads plain decimal text with a point, such as "-1234.50" or "4.4E-2".
// Other text is an error, and so are more than 40 places and powers of ten
// above the 30th.
func Parse(s string) (Amount, error) {
	if a, ok := parseMicro(s); ok {
		return a, nil
	}
	d, err := decimal.NewFromString(s)
	if err != nil || d.Exponent() > 30 || d.Exponent() < -40 {
		return Amount{}, errNotNumber
	}
	return of(d), nil
}

// ParsePlain reads digits with at most a point and six places, and a minus
// before them; false for any other number, which [Parse] may read.
func ParsePlain(s []byte) (Amount, bool) { return parseMicro(s) }

func parseMicro[T string | []byte](s T) (Amount, bool) {
	neg := len(s) > 0 && s[0] == '-'
	if neg {
		s = s[1:]
	}
	var v int64
	digits, frac := 0, -1
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '.' && frac < 0:
			frac = 0
		case c >= '0' && c <= '9' && digits < 18 && frac < places:
			v = v*10 + int64(c-'0')
			digits++
			if frac >= 0 {
				frac++
			}
		default:
			return Amount{}, false
		}
	}
	if digits == 0 || digits > 12 {
		return Amount{}, false
	}
	for frac = max(frac, 0); frac < places; frac++ {
		v *= 10
	}
	if neg {
		v = -v
	}
	return Amount{micro: v}, true
}

// Float is the amount nearest to f, read from its shortest text: the cell
// 4.4000000000000004 was typed as 4.4. NaN and infinities give 0.
func Float(f float64) Amount {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return Amount{}
	}
	if i := int64(f); float64(i) == f && i > -1e9 && i < 1e9 {
		return Amount{micro: i * scale}
	}
	a, err := Parse(strconv.FormatFloat(f, 'f', -1, 64))
	if err != nil {
		return of(decimal.NewFromFloat(f))
	}
	return a
}

func of(d decimal.Decimal) Amount {
	m := d.Shift(places)
	if m.IsInteger() && m.Abs().LessThan(decimal.New(1, 18)) {
		return Amount{micro: m.IntPart()}
	}
	return Amount{wide: &d}
}

func (a Amount) decimal() decimal.Decimal {
	if a.wide != nil {
		return *a.wide
	}
	return decimal.New(a.micro, -places)
}

// Add is a + b.
func (a Amount) Add(b Amount) Amount {
	if a.wide == nil && b.wide == nil {
		if s := a.micro + b.micro; (s > a.micro) == (b.micro > 0) {
			return Amount{micro: s}
		}
	}
	return of(a.decimal().Add(b.decimal()))
}

// Neg is -a.
func (a Amount) Neg() Amount {
	if a.wide == nil && a.micro != math.MinInt64 {
		return Amount{micro: -a.micro}
	}
	return of(a.decimal().Neg())
}

// Key is a number that tells most amounts apart; of equal amounts it is the same.
func (a Amount) Key() uint64 {
	if a.wide != nil {
		return 0
	}
	return uint64(a.micro)
}

// Sub is a - b.
func (a Amount) Sub(b Amount) Amount { return a.Add(b.Neg()) }

// Mul is a x b, exactly.
func (a Amount) Mul(b Amount) Amount {
	if a.wide == nil && b.wide == nil {
		if p, ok := mulMicro(a.micro, b.micro); ok {
			return Amount{micro: p}
		}
	}
	return of(a.decimal().Mul(b.decimal()))
}

func mulMicro(x, y int64) (int64, bool) {
	neg := (x < 0) != (y < 0)
	hi, lo := bits.Mul64(abs(x), abs(y))
	if hi >= scale {
		return 0, false
	}
	q, r := bits.Div64(hi, lo, scale)
	if r != 0 || q > math.MaxInt64 {
		return 0, false
	}
	if neg {
		return -int64(q), true
	}
	return int64(q), true
}

func abs(x int64) uint64 {
	if x < 0 {
		return uint64(-x)
	}
	return uint64(x)
}

// Sign is -1, 0 or 1.
func (a Amount) Sign() int {
	if a.wide != nil {
		return a.wide.Sign()
	}
	switch {
	case a.micro < 0:
		return -1
	case a.micro > 0:
		return 1
	}
	return 0
}

// Abs is the amount without its sign.
func (a Amount) Abs() Amount {
	if a.Sign() < 0 {
		return a.Neg()
	}
	return a
}

// Cmp compares a with b: -1, 0 or 1.
func (a Amount) Cmp(b Amount) int { return a.Sub(b).Sign() }

// Float64 is the nearest float64.
func (a Amount) Float64() float64 {
	if a.wide != nil {
		return a.wide.InexactFloat64()
	}
	if w := a.micro / scale; w*scale == a.micro {
		return float64(w)
	}
	if abs(a.micro) <= 1<<53 {
		return float64(a.micro) / scale // of two exact numbers, so it is the nearest
	}
	return a.decimal().InexactFloat64()
}

// String is plain decimal text with a point.
func (a Amount) String() string { return a.decimal().String() }

// Round is half away from zero to the given number of decimal places.
func (a Amount) Round(to int32) Amount { return of(a.decimal().Round(to)) }

// Show is v rounded for showing: half away from zero in two steps, to 6 places
// and then to the given number, the same in Go and in a spreadsheet's
// ROUND(ROUND(x,6),n). The text has exactly that many decimals.
func Show(v float64, to int32) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return decimal.NewFromFloat(v).Round(places).Round(to).StringFixed(to)
}

// Minor is the minor unit of a currency, such as 0.01; ISO 4217, from memory.
func Minor(code string) Amount {
	switch code {
	case "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF":
		return Amount{micro: scale}
	case "BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND":
		return Amount{micro: scale / 1000}
	}
	return Amount{micro: scale / 100}
}
