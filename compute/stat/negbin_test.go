package stat

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/calc"
	"pourbook/compute/oracle"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// pmf is the probability of exactly k.
func (d NegBin) pmf(k int) float64 {
	switch {
	case k < 0:
		return 0
	case d.Mean <= 0:
		if k == 0 {
			return 1
		}
		return 0
	}
	x := float64(k)
	ways, _ := math.Lgamma(x + d.R)
	first, _ := math.Lgamma(d.R)
	same, _ := math.Lgamma(x + 1)
	// log(1 - p) is log(Mean / (R + Mean)), written so that neither end cancels.
	return math.Exp(ways - first - same - d.R*math.Log1p(d.Mean/d.R) - x*math.Log1p(d.R/d.Mean))
}

// The distance to the Poisson is of the order 1 / r; the figures' own rounding
// is half a unit of their last place.
func TestNegBinTendsToThePoisson(t *testing.T) {
	for _, r := range []float64{1e3, 1e4, 1e5, 1e6} {
		// Poisson 4.5, ratio (55 - 32) / (55 - 20): Cachon & Terwiesch, Matching
		// Supply with Demand, "EcoTable Tea" (read in a quotation of it).
		d := NegBin{Mean: 4.5, R: r}
		if got := d.Quantile((55.0 - 32) / (55 - 20)); got != 5 {
			t.Errorf("EcoTable Tea, r %g: bring %d, want 5", r, got)
		}
		near(t, "EcoTable Tea, expected sales at 4", d.ExpectedMin(4), 3.411917, 3/r+5e-7)
		near(t, "EcoTable Tea, left over at 6", 6-d.ExpectedMin(6), 1.823117, 3/r+5e-7)

		// Poisson 6, holding 1, shortage 4: Snyder & Shen, Fundamentals of Supply
		// Chain Theory, example 4.7 (read in a quotation of it).
		d = NegBin{Mean: 6, R: r}
		q := d.Quantile(4.0 / 5)
		if q != 8 {
			t.Errorf("Snyder & Shen 4.7, r %g: bring %d, want 8", r, q)
		}
		sold := d.ExpectedMin(q)
		near(t, "Snyder & Shen 4.7, cost", (float64(q)-sold)*1+(6-sold)*4, 3.570106946, 13/r+1e-9)
	}
	oracle.Cases(t, 5)
}

func TestNegBinAgreesWithItsOwnSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := NegBin{Mean: rapid.Float64Range(0.01, 300).Draw(t, "mean"), R: rapid.Float64Range(2, 50).Draw(t, "r")}
		ratio := rapid.Float64Range(0.01, 0.999).Draw(t, "ratio")
		sum, sold := 0.0, 0.0
		q := d.Quantile(ratio)
		for k := range q + 1 {
			if k == q && q > 0 && sum >= ratio+1e-11 {
				t.Fatalf("%v: %d is not the least, F(%d) = %v reaches %v", d, q, k-1, sum, ratio)
			}
			sum += d.pmf(k)
			sold += 1 - sum
			if f := d.CDF(k); math.Abs(f-sum) > 1e-10 || math.Abs(1-f-d.Above(k)) > 1e-12 {
				t.Fatalf("%v: F(%d) = %v, the sum is %v, above %v", d, k, f, sum, d.Above(k))
			}
		}
		if sum < ratio-1e-11 {
			t.Fatalf("%v: F(%d) = %v does not reach %v", d, q, sum, ratio)
		}
		if got := d.ExpectedMin(q + 1); math.Abs(got-sold) > 1e-9*(1+sold) {
			t.Fatalf("%v: E min(D, %d) = %v, want %v", d, q+1, got, sold)
		}
	})
}

func TestNegBinHoldsForLargeMeans(t *testing.T) {
	d := NegBin{Mean: 2e6, R: 50}
	q := d.Quantile(0.5)
	// The median of a gamma mixture: mean x (1 - 1/(3 r)) to first order.
	near(t, "median", float64(q), 2e6*(1-1.0/150), 2e6*1e-3)
	near(t, "E min far above", d.ExpectedMin(40_000_000), 2e6, 1e-3)
	near(t, "E min far below", d.ExpectedMin(100), 100, 1e-9)
}

func TestNegBinAtTheEnds(t *testing.T) {
	none := NegBin{Mean: 0, R: 4}
	if none.Quantile(0.9) != 0 || none.CDF(0) != 1 || none.pmf(0) != 1 || none.ExpectedMin(5) != 0 || none.Above(0) != 0 {
		t.Error("a mean of 0 is not always 0")
	}
	d := NegBin{Mean: 7, R: 4}
	if d.Quantile(0) != 0 || d.Quantile(-1) != 0 || d.Quantile(math.NaN()) != 0 {
		t.Error("a ratio of 0 or less brings something")
	}
	if q := d.Quantile(1); q < 50 || q > 500 {
		t.Errorf("a ratio of 1 brings %d", q)
	}
	f := ExpectedMin(calc.Const(7), calc.Const(4), calc.Const(9))
	near(t, "the figure", f.Or(-1), d.ExpectedMin(9), 0)
}
