package show

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"pourbook/compute/calc"
	"pourbook/compute/oracle"
)

func TestDecimals(t *testing.T) {
	for _, c := range []struct {
		v    float64
		n    int32
		want string
	}{
		// Half away from zero, and the binary trap of 2.675 and 1.005 (arithmetic).
		{2.675, 2, "2.68"},
		{1.005, 2, "1.01"},
		{10.5, 0, "11"},
		{-10.5, 0, Minus + "11"},
		{1234567.891, 2, "1,234,567.89"},
		{-0.001, 2, "0.00"},
		{999.995, 2, "1,000.00"},
	} {
		if got := Decimals(c.v, c.n); got != c.want {
			t.Errorf("Decimals(%v, %d) = %q, want %q", c.v, c.n, got, c.want)
		}
	}
	oracle.Cases(t, 7)
}

func TestCurrency(t *testing.T) {
	for _, c := range []struct {
		code string
		v    float64
		want string
	}{
		{"USD", 1234.5, "$1,234.50"},
		{"usd", -3.2, Minus + "$3.20"},
		{"EUR", 2, "€2.00"},
		{"GBP", 2.345, "£2.35"},
		{"JPY", 1234.5, "¥1,235"},
		{"XQZ", 1, "XQZ 1.00"},
	} {
		if got := In(c.code).Of(c.v); got != c.want {
			t.Errorf("In(%q).Of(%v) = %q, want %q", c.code, c.v, got, c.want)
		}
	}
	if got := In("USD").Amount(nil); got != Unknown {
		t.Errorf("an unknown amount is shown as %q", got)
	}
}

// The examples of the encyclopedia article "Largest remainder method": votes
// for 10 seats, and the Alabama paradox at 25 and 26 seats.
func TestApportionPublished(t *testing.T) {
	for _, c := range []struct {
		votes []float64
		seats float64
		want  []float64
	}{
		{[]float64{47000, 16000, 15800, 12000, 6100, 3100}, 10, []float64{5, 2, 1, 1, 1, 0}},
		{[]float64{1500, 1500, 900, 500, 500, 200}, 25, []float64{7, 7, 4, 3, 3, 1}},
		{[]float64{1500, 1500, 900, 500, 500, 200}, 26, []float64{8, 8, 5, 2, 2, 1}},
	} {
		sum := 0.0
		for _, v := range c.votes {
			sum += v
		}
		shares := make([]float64, len(c.votes))
		for i, v := range c.votes {
			shares[i] = v / sum * c.seats
		}
		if d := cmp.Diff(c.want, Apportion(shares, 0)); d != "" {
			t.Errorf("%v for %v:\n%s", c.votes, c.seats, d)
		}
	}
	oracle.Cases(t, 3)
}

func TestPartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(-50, 5000), 1, 12).Draw(t, "v")
		sum := 0.0
		for _, x := range v {
			sum += x
		}
		got := 0.0
		for i, x := range Apportion(v, 2) {
			got += x
			if math.Abs(x-v[i]) > 0.0101 {
				t.Fatalf("part %v became %v", v[i], x)
			}
		}
		if Decimals(got, 2) != Decimals(sum, 2) {
			t.Fatalf("parts add up to %v, the total is %v", got, sum)
		}
	})
}

func TestUnknown(t *testing.T) {
	if got := Percent(calc.Unknown("x"), 1); got != Unknown {
		t.Errorf("unknown percent is shown as %q", got)
	}
	if got := Ratio(calc.Const(5.2)); got != "5.2 : 1" {
		t.Errorf("Ratio(5.2) = %q", got)
	}
}
