package parse

import (
	"strings"

	"pourbook/compute/unit"
)

// Heading is a column's heading taken apart: "Price (USD)" is Name "Price",
// Unit "USD"; "Size oz" is "Size", "oz". Note is what stood in brackets without
// being a unit: "Price (with tax)" is "Price", Note "with tax".
type Heading struct{ Name, Unit, Note string }

// SplitHeading takes a heading apart. Some headings of fields end with a unit
// ("fee %", "drops per mL"): look for the whole heading first.
func SplitHeading(s string) Heading {
	t := strings.Join(strings.Fields(clean(s)), " ")
	if name, inner, ok := cutBrackets(t); ok {
		inner = strings.TrimSpace(strings.TrimPrefix(inner, "in "))
		if isUnit(inner) {
			return Heading{Name: name, Unit: inner}
		}
		return Heading{Name: name, Note: inner}
	}
	for i := max(0, len(t)-longestUnit); i < len(t); i++ {
		if t[i] != ' ' && t[i] != ',' && t[i] != '-' {
			continue
		}
		name := strings.TrimRight(t[:i], " ,:-")
		tail := strings.Trim(t[i:], " ,-")
		if in, ok := strings.CutPrefix(strings.ToLower(tail), "in "); ok {
			tail = tail[len(tail)-len(in):]
		}
		if name != "" && !endsInPer(name) && trailingUnit(tail) {
			return Heading{Name: name, Unit: tail}
		}
	}
	return Heading{Name: t}
}

// longestUnit is more than a unit at the end of a heading can measure.
const longestUnit = 24

func cutBrackets(t string) (name, inner string, ok bool) {
	for _, b := range []string{"()", "[]"} {
		if !strings.HasSuffix(t, b[1:]) {
			continue
		}
		i := strings.LastIndex(t, b[:1])
		if i > 0 {
			return strings.TrimSpace(t[:i]), strings.TrimSpace(t[i+1 : len(t)-1]), true
		}
	}
	return "", "", false
}

func endsInPer(name string) bool {
	low := strings.ToLower(name)
	return strings.HasSuffix(low, " per") || strings.HasSuffix(low, "/") || low == "per" || strings.HasSuffix(low, " of")
}

// isUnit takes any unit, for text in brackets.
func isUnit(s string) bool {
	if _, ok := unit.Find(s); ok {
		return true
	}
	_, ok := unit.FindRate(s)
	return ok || IsCurrency(s)
}

// trailingUnit takes the units that are safe without brackets: "Order #" and
// "Item count" are names.
func trailingUnit(s string) bool {
	if u, ok := unit.Find(s); ok {
		return u.Dim != unit.Count && u.Dim != unit.Time && s != "#" && (len(s) > 1 || strings.EqualFold(s, "g"))
	}
	_, ok := unit.FindRate(s)
	return ok || IsCurrency(s)
}
