package draw

import (
	"math"
	"strconv"
	"strings"
)

const (
	minus = '−'
	// Nil stands for nothing in a column of numbers.
	Nil = "–"
)

// Report writes a number for a report: n decimals, a thin gap at thousands, a
// real minus. What is no number becomes the en dash.
func Report(v float64, n int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Nil
	}
	return Number(strconv.FormatFloat(v, 'f', max(n, 0), 64))
}

// Number sets the marks of a number that is already written: "-1,234.50"
// becomes "−1 234.50" with a thin gap. Text that is no number stays as it is.
func Number(s string) string {
	whole, tail, ok := splitNumber(s)
	if !ok {
		return s
	}
	sign := ""
	if strings.HasPrefix(whole, "-") || strings.HasPrefix(whole, string(minus)) {
		sign, whole = string(minus), strings.TrimLeft(whole, "-"+string(minus))
		if strings.Trim(whole+strings.TrimPrefix(tail, "."), "0") == "" {
			sign = ""
		}
	}
	digits := strings.TrimLeft(whole, "$€£¥+")
	lead := whole[:len(whole)-len(digits)]
	return sign + lead + group(strings.Map(digit, digits)) + tail
}

// splitNumber cuts at the decimal point, or after the last digit of the whole
// part. ok is false when s does not start like a number.
func splitNumber(s string) (whole, tail string, ok bool) {
	end, seen := len(s), false
	for i, r := range s {
		if r >= '0' && r <= '9' {
			seen = true
			continue
		}
		if strings.ContainsRune("-−+$€£¥", r) && !seen {
			continue
		}
		if seen && (r == ',' || r == thin) && threeDigits(s[i+len(string(r)):]) {
			continue
		}
		end = i
		break
	}
	return s[:end], s[end:], seen
}

// threeDigits reports whether s starts with three digits and no fourth, as
// after a thousands mark.
func threeDigits(s string) bool {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n == 3
}

func digit(r rune) rune {
	if r < '0' || r > '9' {
		return -1
	}
	return r
}

// group puts a thin gap before every three digits.
func group(s string) string {
	var b strings.Builder
	for i := range len(s) {
		if i > 0 && (len(s)-i)%3 == 0 {
			b.WriteRune(thin)
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// benchFraction is the size of a bench number's decimals.
const benchFraction = 0.62

// Bench sets a number as a scale shows it: the whole part ends at x, so that
// points stand below one another, the decimals are smaller, and the unit
// starts at unitX or after the decimals. It returns the right end.
func (p *Page) Bench(x, y float64, number, unit string, st Style, unitX float64) float64 {
	whole, tail, ok := splitNumber(number)
	if !ok {
		whole, tail = number, ""
	}
	whole = strings.Map(func(r rune) rune {
		if r == ',' || r == thin {
			return -1
		}
		return r
	}, strings.ReplaceAll(whole, "-", string(minus)))
	p.TextRight(x, y, whole, st)
	end := x + p.Text(x, y, tail, st.At(st.size()*benchFraction))
	if unit == "" {
		return end
	}
	small := st.At(max(SizeBody, min(st.size()*0.5, SizeSection)))
	at := max(unitX, end+1.2)
	return at + p.Text(at, y, unit, small)
}

// BenchWidth is the width a bench number needs left and right of its point.
func (d *Document) BenchWidth(number string, st Style) (whole, tail float64) {
	w, t, ok := splitNumber(number)
	if !ok {
		w, t = number, ""
	}
	return d.Width(w, st), d.Width(t, st.At(st.size()*benchFraction))
}
