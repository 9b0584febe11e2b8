package parse

import (
	"strings"

	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// PercentRule tells how a field of percents is read. A bare number strictly
// between 0 and Suspect was probably meant as a fraction and is an error that
// asks. Fraction declares that the column holds fractions.
type PercentRule struct {
	Suspect  float64
	Fraction bool
}

// The rules of the book's percent fields.
var (
	// WholePercent: fill %, target margin, wholesale discount, leftover value, max load %.
	WholePercent = PercentRule{Suspect: 1}
	// RatePercent: any other percent field.
	RatePercent = PercentRule{Suspect: 0.2}
	// LoadPercent: the amount on a fragrance row whose unit says %.
	LoadPercent = PercentRule{Suspect: 0.3}
	// AnyPercent: the amount on another recipe row whose unit says %; a dye is often below 0.1 %.
	AnyPercent = PercentRule{}
)

var (
	hundredth, _ = money.Parse("0.01")
	hundred, _   = money.Parse("100")
)

func perHundred(a money.Amount) money.Amount { return a.Mul(hundred) }

// PercentIn reads a percent as a fraction: 8, "8", "8 %" and 0.08 in percent
// format are 0.08.
func PercentIn(c grid.Cell, st Style, rule PercentRule) Result {
	r, done := numberKind(c)
	if !done {
		r = Number(percentWord(c.Raw), st)
		r.Raw = strings.TrimSpace(c.Raw)
	}
	if !r.OK() {
		return r
	}
	if r.Currency != "" {
		r.Finding = bad(problem.BadNumber, "money", c.Raw)
		return r
	}
	formatted := c.Kind == grid.Number && r.Percent
	switch {
	case formatted, rule.Fraction && !r.Percent:
	case !r.Percent && r.V > 0 && r.V < rule.Suspect:
		r.Finding = bad(problem.PercentFraction, "", strings.TrimSpace(c.Raw), "percent", perHundred(r.A).String())
	default:
		r.A = r.A.Mul(hundredth)
	}
	r.V = r.A.Float64()
	return r
}

// percentWord writes "8 percent" and "8 pct" as "8 %".
func percentWord(s string) string {
	t := strings.TrimSpace(clean(s))
	for _, word := range []string{"percent", "pct", "pct."} {
		if i := len(t) - len(word); i > 0 && strings.EqualFold(t[i:], word) {
			return t[:i] + "%"
		}
	}
	return s
}

// PerHundred is a fraction from PercentIn counted per hundred: 8 for 0.08.
func (r Result) PerHundred() float64 { return perHundred(r.A).Float64() }
