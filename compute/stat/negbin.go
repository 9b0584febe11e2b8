package stat

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"pourbook/compute/calc"
)

// NegBin is the negative binomial distribution with a mean and the spread R:
// its variance is Mean + Mean^2 / R. A Mean of 0 is always 0.
type NegBin struct {
	Mean, R float64
}

// chance is the success probability of the usual parametrisation.
func (d NegBin) chance() float64 { return d.R / (d.R + d.Mean) }

// CDF is the probability of at most k. It is the regularized incomplete beta
// function, so it needs no sum and holds for means of any size.
func (d NegBin) CDF(k int) float64 {
	switch {
	case k < 0:
		return 0
	case d.Mean <= 0:
		return 1
	}
	return mathext.RegIncBeta(d.R, float64(k)+1, d.chance())
}

// Above is the probability of more than k, without cancellation.
func (d NegBin) Above(k int) float64 {
	switch {
	case k < 0:
		return 1
	case d.Mean <= 0:
		return 0
	}
	return mathext.RegIncBeta(float64(k)+1, d.R, d.Mean/(d.R+d.Mean))
}

// surest is the highest ratio that Quantile takes at its word; above it the
// answer would run away.
const surest = 1 - 1e-12

// Quantile is the least k whose CDF reaches ratio; 0 for a ratio of 0 or less.
func (d NegBin) Quantile(ratio float64) int {
	if d.Mean <= 0 || !(ratio > 0) {
		return 0
	}
	ratio = min(ratio, surest)
	reached := func(k int) bool { return d.CDF(k) >= ratio }
	high := max(1, int(d.Mean))
	for !reached(high) {
		high *= 2
	}
	low := -1
	for high-low > 1 {
		if mid := low + (high-low)/2; reached(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// ExpectedMin is the expected value of the smaller of the demand and q.
//
// The sum of k times the probability of k, up to q - 1, is Mean times the CDF
// at q - 2 of the distribution with R + 1 and the same chance, so no sum is
// needed.
func (d NegBin) ExpectedMin(q int) float64 {
	if d.Mean <= 0 || q <= 0 {
		return 0
	}
	below := 0.0
	if q >= 2 {
		below = mathext.RegIncBeta(d.R+1, float64(q)-1, d.chance())
	}
	return d.Mean*below + float64(q)*d.Above(q-1)
}

// ExpectedMin is NegBin's as a figure of a mean, a spread and a whole quantity.
func ExpectedMin(mean, r, q *calc.Figure) *calc.Figure { return calc.Call(expectedMin, mean, r, q) }

var expectedMin = &calc.Fn{
	Eval: func(v []float64) (float64, bool) {
		return NegBin{Mean: v[0], R: v[1]}.ExpectedMin(int(math.Round(v[2]))), v[0] >= 0 && v[1] > 0
	},
	Write: func(a []string) string {
		m, r, q := "("+a[0]+")", "("+a[1]+")", "("+a[2]+")"
		chance := r + "/(" + r + "+" + m + ")"
		return "IF(OR(" + m + "<=0," + q + "<=0),0," + m + "*IF(" + q + "<2,0,BETADIST(" + chance + "," + r + "+1," + q + "-1))+" +
			q + "*(1-BETADIST(" + chance + "," + r + "," + q + ")))"
	},
}
