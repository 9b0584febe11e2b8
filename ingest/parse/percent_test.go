package parse

import (
	"testing"

	"pgregory.net/rapid"

	"pourbook/ingest/grid"
	"pourbook/templates"
)

func shownAsPercent(f float64) grid.Cell {
	c := number(f)
	c.Percent = true
	return c
}

func TestPercentIn(t *testing.T) {
	fractions := PercentRule{Suspect: 1, Fraction: true}
	for _, c := range []struct {
		cell grid.Cell
		rule PercentRule
		want string
		code string
	}{
		{number(8), WholePercent, "0.08", ""},
		{number(4.4), RatePercent, "0.044", ""},
		{shownAsPercent(0.08), WholePercent, "0.08", ""},
		{shownAsPercent(8), WholePercent, "8", ""},
		{typed("8"), WholePercent, "0.08", ""},
		{typed("8 %"), WholePercent, "0.08", ""},
		{typed("8%"), WholePercent, "0.08", ""},
		{typed("12,5 %"), WholePercent, "0.125", ""},
		{typed("8 percent"), WholePercent, "0.08", ""},
		{typed("8 Pct"), WholePercent, "0.08", ""},
		{number(-5), RatePercent, "-0.05", ""},
		{number(-0.1), RatePercent, "-0.001", ""},
		{number(0), WholePercent, "0", ""},
		{number(1), WholePercent, "0.01", ""},
		{number(100), WholePercent, "1", ""},

		{number(0.6), WholePercent, "", "percent-as-fraction"},
		{typed("0.6"), WholePercent, "", "percent-as-fraction"},
		{typed("0.6 %"), WholePercent, "0.006", ""},
		{number(0.999), WholePercent, "", "percent-as-fraction"},
		{number(0.15), RatePercent, "", "percent-as-fraction"},
		{number(0.2), RatePercent, "0.002", ""},
		{number(0.5), RatePercent, "0.005", ""},
		{number(0.08), LoadPercent, "", "percent-as-fraction"},
		{number(0.3), LoadPercent, "0.003", ""},
		{number(0.05), AnyPercent, "0.0005", ""},
		{number(0.6), fractions, "0.6", ""},
		{typed("60 %"), fractions, "0.6", ""},

		{typed("$8"), WholePercent, "", "bad-number.money"},
		{typed("8 oz"), WholePercent, "", "bad-number"},
		{typed("n/a"), WholePercent, "", "bad-number.no-figure"},
		{grid.Cell{Kind: grid.Error, Raw: "#DIV/0!"}, WholePercent, "", "cell-error"},
	} {
		r := PercentIn(c.cell, Style{}, c.rule)
		if code(r.Finding) != c.code || r.OK() && r.A.String() != c.want || r.OK() == (c.want == "") {
			t.Errorf("%+v, rule %v: %v %q, want %s %q", c.cell, c.rule, r.A, code(r.Finding), c.want, c.code)
		}
		inWords(t, r.Finding)
	}
}

func TestPercentAsFractionAsks(t *testing.T) {
	f := PercentIn(number(0.6), Style{}, WholePercent).Finding
	if got, want := templates.Text("problem.percent-as-fraction", f.Args...), "0.6 would be read as 0.6 %, but probably 60 % is meant."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// 8, "8 %" and 0.08 shown as a percent are the same.
func TestPercentFormsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := float64(rapid.IntRange(100, 9900).Draw(t, "hundredths")) / 100
		want := PercentIn(typed(number(n).Raw+" %"), Style{Decimal: '.', Known: true}, WholePercent)
		bare, shown := PercentIn(number(n), Style{}, WholePercent), PercentIn(shownAsPercent(want.V), Style{}, WholePercent)
		if !bare.OK() || !shown.OK() || bare.V != want.V || shown.V != want.V || want.PerHundred() != n {
			t.Fatalf("%v: %v, %v, %v", n, bare.V, shown.V, want.V)
		}
	})
}

func TestYesNo(t *testing.T) {
	for s, want := range map[string]bool{"yes": true, "Y": true, "TRUE": true, "1": true, "x": true, " X ": true, "no": false, "N": false, "False": false, "0": false} {
		if a := YesNo(typed(s)); !a.OK() || a.V != want {
			t.Errorf("%q: %+v", s, a)
		}
	}
	for _, c := range []struct {
		cell grid.Cell
		want bool
		code string
	}{
		{grid.Cell{Kind: grid.Bool, Num: 1, Raw: "TRUE"}, true, ""},
		{grid.Cell{Kind: grid.Bool, Raw: "FALSE"}, false, ""},
		{number(1), true, ""},
		{number(0), false, ""},
		{number(2), false, "bad-number.yes-no"},
		{typed("maybe"), false, "bad-number.yes-no"},
		{grid.Cell{Kind: grid.Error, Raw: "#N/A"}, false, "cell-error"},
	} {
		a := YesNo(c.cell)
		if a.V != c.want || code(a.Finding) != c.code {
			t.Errorf("%+v: %+v", c.cell, a)
		}
		inWords(t, a.Finding)
	}
}

func TestText(t *testing.T) {
	for _, c := range []struct {
		cell grid.Cell
		want string
	}{
		{typed("  Amber \u00a0 & Oak\u200b "), "Amber & Oak"},
		{typed("Cre\u0301me"), "Cr\u00e9me"},
		{number(1001), "1001"},
		{grid.Cell{}, ""},
		{typed("=A1"), "=A1"},
	} {
		if got, f := Text(c.cell); got != c.want || !f.None() {
			t.Errorf("%+v: %q %v", c.cell, got, f)
		}
	}
	if _, f := Text(grid.Cell{Kind: grid.NoValue, Raw: "=A1"}); code(f) != "cell-error.no-value" {
		t.Error(code(f))
	}
}
