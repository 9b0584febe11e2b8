package report

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
)

// Lines hold the width at any depth, and nothing of a step is lost.
func TestStepsAreFoldedToTheWidth(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		parts := rapid.SliceOfN(rapid.StringMatching(`[a-z0-9+*/ é(-]{0,90}`), 1, 4).Draw(rt, "parts")
		depth, width := rapid.IntRange(0, 60).Draw(rt, "depth"), rapid.IntRange(40, 200).Draw(rt, "width")
		var b bytes.Buffer
		step(&b, append([]string{"a"}, parts...), depth, width)
		for line := range strings.Lines(b.String()) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
				rt.Fatalf("%d letters in %d: %q", n, width, line)
			}
		}
		bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if want := bare("a" + strings.Join(parts, "")); !strings.HasSuffix(bare(b.String()), want) {
			rt.Fatalf("%q of %q", b.String(), want)
		}
	})
}

func TestFurtherLinesStandDeeperThanWhatAStepRestsOn(t *testing.T) {
	var b bytes.Buffer
	step(&b, []string{"wax in one blue candle", "1.25", "= 190*0.0054+190*0.0012", `(Recipes!C5, typed as "8")`}, 2, 48)
	want := "    wax in one blue candle  1.25\n          = 190*0.0054+190*0.0012\n          (Recipes!C5, typed as \"8\")\n"
	if b.String() != want {
		t.Errorf("%s\nwant\n%s", &b, want)
	}
	b.Reset()
	step(&b, []string{"1.5", "= 1234567+1234567+1234567+1234567+1234567"}, 0, 40)
	if want := "1.5  = 1234567+1234567+1234567+1234567+\n      1234567\n"; b.String() != want {
		t.Errorf("%q, want %q", b.String(), want)
	}
}

// A sum over rows that is more than a sum is explained by what it comes about as.
func TestWhyGoesIntoASum(t *testing.T) {
	sum := calc.Sum(7, "Sales", 3, "fees", nil, "sales.fees", "A", "2026-10-01", "2026-10-31")
	rate := calc.In(cell.Num{V: 3.5, Raw: "3.50", State: cell.Typed, At: cell.Ref{Sheet: "Channels", Row: 2, Col: 3}}, "fee-per-order", "Web")
	inside := calc.Mul(rate, calc.Const(2)).Named("fees.on", "A", "2026-10-01", "2026-10-31", "Web")
	var b bytes.Buffer
	Why(&b, sum, Explanation{Within: func(f *calc.Figure) *calc.Figure {
		if f != sum {
			t.Errorf("asked for what is in %v", f.Name())
		}
		return inside
	}})
	want := `channel fees on A, 2026-10-01 to 2026-10-31  7  (Sales, 3 rows)
  fees of Web on A, 2026-10-01 to 2026-10-31  7  = 3.5*2
    fee per order of Web  3.5  (Channels!C2, typed as "3.50")
`
	if b.String() != want {
		t.Errorf("%s\nwant\n%s", &b, want)
	}
}
