package money

import (
	"testing"

	"github.com/shopspring/decimal"
)

func FuzzParse(f *testing.F) {
	for _, s := range []string{"", "-", ".", "0", "-0", "1.", ".5", "-1234.50", "4.4E-2", "1e30", "1e31", "1e-40", "1e-41", "999999999999.999999", "9999999999999", "1e999999999999", "1_0", "+1", "0x1", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := Parse(s)
		if plain, ok := ParsePlain([]byte(s)); ok && (err != nil || plain.Cmp(a) != 0) {
			t.Errorf("%q is plainly %v, else %v, %v", s, plain, a, err)
		}
		if err != nil {
			return
		}
		if want, werr := decimal.NewFromString(s); werr == nil && a.String() != of(want).String() {
			t.Errorf("%q is %v, want %v", s, a, want)
		}
		if again, err := Parse(a.String()); err != nil || again.Cmp(a) != 0 {
			t.Errorf("%q is %v, and that is %v, %v", s, a, again, err)
		}
	})
}
