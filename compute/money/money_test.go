package money

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"pourbook/compute/oracle"
)

func amounts() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		if rapid.IntRange(0, 4).Draw(t, "wide") == 0 {
			return decimal.New(rapid.Int64().Draw(t, "mantissa"), rapid.Int32Range(-12, 8).Draw(t, "exponent")).String()
		}
		return decimal.New(rapid.Int64Range(-1e9, 1e9).Draw(t, "cents"), -rapid.Int32Range(0, 4).Draw(t, "places")).String()
	})
}

func parse(t *rapid.T, s string) Amount {
	a, err := Parse(s)
	if err != nil {
		t.Fatalf("Parse(%q): %v", s, err)
	}
	return a
}

// The decimal library is the referee of every operation.
func TestAmountsEqualTheDecimalLibrary(t *testing.T) {
	cases := 0
	rapid.Check(t, func(t *rapid.T) {
		s, u := amounts().Draw(t, "a"), amounts().Draw(t, "b")
		a, b := parse(t, s), parse(t, u)
		x, y := decimal.RequireFromString(s), decimal.RequireFromString(u)
		for _, c := range []struct {
			name string
			got  Amount
			want decimal.Decimal
		}{
			{"a", a, x},
			{"a+b", a.Add(b), x.Add(y)},
			{"a-b", a.Sub(b), x.Sub(y)},
			{"a*b", a.Mul(b), x.Mul(y)},
			{"-a", a.Neg(), x.Neg()},
			{"|a|", a.Abs(), x.Abs()},
			{"round", a.Round(2), x.Round(2)},
		} {
			cases++
			if !c.got.decimal().Equal(c.want) {
				t.Fatalf("%s of %s and %s = %s, want %s", c.name, s, u, c.got, c.want)
			}
			if c.got.Sign() != c.want.Sign() {
				t.Fatalf("sign of %s of %s and %s", c.name, s, u)
			}
		}
		if a.Cmp(b) != x.Cmp(y) {
			t.Fatalf("Cmp(%s, %s) = %d", s, u, a.Cmp(b))
		}
		if got, want := a.Float64(), x.InexactFloat64(); got != want {
			t.Fatalf("Float64 of %s = %v, want %v", s, got, want)
		}
	})
	oracle.Cases(t, cases)
}

func TestFloat(t *testing.T) {
	for f, want := range map[float64]string{
		4.4000000000000004: "4.4", 12: "12", -0.05: "-0.05", 1e21: "1000000000000000000000",
	} {
		if got := Float(f).String(); got != want {
			t.Errorf("Float(%v) = %s, want %s", f, got, want)
		}
	}
	if got := Float(math.NaN()); got.Sign() != 0 {
		t.Errorf("Float(NaN) = %s", got)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, s := range []string{"", "-", ".", "1,2", "1e9999", "0x10", "1_000", "NaN", "Inf", "12 "} {
		if a, err := Parse(s); err == nil {
			t.Errorf("Parse(%q) = %s", s, a)
		}
	}
}

func BenchmarkParseAndAdd(b *testing.B) {
	b.ReportAllocs()
	var sum Amount
	for b.Loop() {
		a, _ := Parse("1234.56")
		sum = sum.Add(a)
	}
}
