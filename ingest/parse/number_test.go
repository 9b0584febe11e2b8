package parse

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

func typed(s string) grid.Cell { return grid.Cell{Kind: grid.Text, Raw: s} }

func number(f float64) grid.Cell {
	return grid.Cell{Kind: grid.Number, Num: f, Raw: money.Float(f).String()}
}

// code is a finding as the table tests write it: "bad-number.letter", with "~"
// in front of a warning.
func code(f Finding) string {
	s := string(f.Code)
	if f.Say != "" {
		s += "." + f.Say
	}
	if f.Severity == problem.Warning {
		s = "~" + s
	}
	return s
}

// inWords checks that a finding has words that its values fill.
func inWords(t *testing.T, f Finding) {
	t.Helper()
	if f.None() {
		return
	}
	key := "problem." + strings.TrimPrefix(code(f), "~")
	for _, k := range []string{key, key + ".hint"} {
		if s := templates.Text(k, f.Args...); !templates.Has(k) || strings.ContainsAny(s, "{}") {
			t.Errorf("words of %s: %q", k, s)
		}
	}
}

// The customs of currencies with a decimal comma and with a point.
var comma, point = Style{Decimal: ','}, Style{Decimal: '.'}

// numberCases are texts, how their column is written, and what they are.
var numberCases = []struct {
	read  string
	style Style
	want  string
	code  string
}{
	{"12", point, "12", ""},
	{" 12 ", point, "12", ""},
	{"1,234.50", point, "1234.5", ""},
	{"1,234.50", comma, "1234.5", ""},
	{"1.234,50", point, "1234.5", ""},
	{"1,234,567", comma, "1234567", ""},
	{"1.234.567", point, "1234567", ""},
	{"1,00,000", point, "100000", ""},
	{"12,34,567.5", point, "1234567.5", ""},
	{"12,5", point, "12.5", ""},
	{"12,50", point, "12.5", ""},
	{"12.5000", point, "12.5", ""},
	{"1234,567", point, "1234.567", ""},
	{"0,125", point, "0.125", ""},
	{"0.125", comma, "0.125", ""},
	{".5", point, "0.5", ""},
	{"12.", point, "12", ""},
	{"1,234", point, "1234", "~number-style"},
	{"1,234", comma, "1.234", "~number-style"},
	{"1.234", point, "1.234", "~number-style"},
	{"1.234", comma, "1234", "~number-style"},
	{"1,234", Style{'.', true}, "1234", ""},
	{"1,234", Style{',', true}, "1.234", ""},
	{"1.234", Style{',', true}, "1234", ""},
	{"1.234", Style{'.', true}, "1.234", ""},
	{"1,234", Style{}, "1234", "~number-style"},
	{"1 234,50", point, "1234.5", ""},
	{"1\u00a0234,50", point, "1234.5", ""},
	{"1\u202f234\u202f567,5", point, "1234567.5", ""},
	{"1'234.50", point, "1234.5", ""},
	{"1’234.50", point, "1234.5", ""},
	{"１，２３４．５０", point, "1234.5", ""},
	{"$1,234.50", point, "1234.5", ""},
	{"US$ 12", point, "12", ""},
	{"1.234,50 EUR", point, "1234.5", ""},
	{"12,50 €", point, "12.5", ""},
	{"kr 12,50", point, "12.5", ""},
	{"12.-", point, "12", ""},
	{"12,- kr", point, "12", ""},
	{"-12.50", point, "-12.5", ""},
	{"−12.50", point, "-12.5", ""},
	{"+12", point, "12", ""},
	{"(12.50)", point, "-12.5", ""},
	{"($12.50)", point, "-12.5", ""},
	{"$(12.50)", point, "-12.5", ""},
	{"-$12.50", point, "-12.5", ""},
	{"$-12.50", point, "-12.5", ""},
	{"12.50-", point, "-12.5", "~number-style.minus"},
	{"½", point, "0.5", ""},
	{"1½", point, "1.5", ""},
	{"1 ½", point, "1.5", ""},
	{"1 1/2", point, "1.5", ""},
	{"1-1/2", point, "1.5", ""},
	{"1⁄4", point, "0.25", ""},
	{"3/8", point, "0.375", ""},
	{"-1 1/2", point, "-1.5", ""},
	{"1e3", point, "1000", ""},
	{"1.5E-2", point, "0.015", ""},
	{"-0", point, "0", ""},
	{"4.4", point, "4.4", ""},
	{"\ufeff12\u200b", point, "12", ""},

	{"1,2O", point, "", "bad-number.letter"},
	{"l2.50", point, "", "bad-number.letter"},
	{"1O", point, "", "bad-number.letter"},
	{"n/a", point, "", "bad-number.no-figure"},
	{"N/A", point, "", "bad-number.no-figure"},
	{"-", point, "", "bad-number.no-figure"},
	{"–", point, "", "bad-number.no-figure"},
	{"TBD", point, "", "bad-number.no-figure"},
	{"?", point, "", "bad-number.no-figure"},
	{"#N/A", point, "", "bad-number.no-figure"},
	{"NaN", point, "", "bad-number"},
	{"Inf", point, "", "bad-number"},
	{"+Infinity", point, "", "bad-number"},
	{"0x10", point, "", "bad-number"},
	{"1_000", point, "", "bad-number"},
	{"twelve", point, "", "bad-number"},
	{"12 apples", point, "", "bad-number"},
	{"1.2.3", point, "", "bad-number"},
	{"1,23,4", point, "", "bad-number"},
	{"12,345,67", point, "", "bad-number"},
	{"1.234,567.8", point, "", "bad-number"},
	{"12 50", point, "", "bad-number"},
	{"1 2/0", point, "", "bad-number"},
	{"12/5", point, "", "bad-number"},
	{"3/7", point, "", "bad-number"},
	{"--5", point, "", "bad-number"},
	{"(-5)", point, "", "bad-number"},
	{"()", point, "", "bad-number"},
	{"$", point, "", "bad-number"},
	{"5,", point, "", "bad-number"},
	{"1,234e3", point, "", "bad-number"},
	{"1e99", point, "", "bad-number"},
	{"99999999999999999", point, "", "bad-number.too-large"},
}

func TestNumber(t *testing.T) {
	for _, c := range numberCases {
		r := Number(c.read, c.style)
		if code(r.Finding) != c.code {
			t.Errorf("%q in style %v: found %q, want %q", c.read, c.style, code(r.Finding), c.code)
		}
		inWords(t, r.Finding)
		if c.want == "" {
			if r.OK() {
				t.Errorf("%q was taken for %v", c.read, r.A)
			}
			continue
		}
		if r.A.String() != c.want || math.Abs(r.V-r.A.Float64()) > 0 || !r.OK() {
			t.Errorf("%q in style %v: %v and %v, want %s", c.read, c.style, r.A, r.V, c.want)
		}
		if math.Signbit(r.V) && r.V == 0 {
			t.Errorf("%q: minus zero", c.read)
		}
	}
}

func TestNumberSuggestsTheDigits(t *testing.T) {
	f := Number("1,2O", Style{}).Finding
	if got, want := templates.Text("problem.bad-number.letter.hint", f.Args...), "Did you mean 1,20? Type it again with digits only."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestBlankIsNoFinding(t *testing.T) {
	for _, c := range []grid.Cell{{}, typed(""), typed("  \u00a0 ")} {
		for name, blank := range map[string]bool{
			"number": NumberIn(c, Style{}).Blank, "money": MoneyIn(c, Style{}, "USD").Blank, "percent": PercentIn(c, Style{}, WholePercent).Blank,
			"quantity": QuantityIn(c, Style{}, Units{Column: "oz"}).Blank, "date": DateIn(c, DayFirst).Blank,
			"month and day": MonthDayIn(c, DayFirst).Blank, "yes or no": YesNo(c).Blank, "any": Blank(c),
		} {
			if !blank {
				t.Errorf("%s: %+v is not blank", name, c)
			}
		}
	}
}

func TestNumberInKindsOfCell(t *testing.T) {
	for _, c := range []struct {
		cell grid.Cell
		want string
		code string
	}{
		{number(4.4000000000000004), "4.4", ""},
		{grid.Cell{Kind: grid.Number, Num: 0.08, Percent: true, Raw: "0.08"}, "", "bad-number.percent"},
		{grid.Cell{Kind: grid.Number, Num: 0.0027, Time: true, Raw: "0.0027"}, "", "bad-number.time"},
		{number(1e15), "", "bad-number.too-large"},
		{grid.Cell{Kind: grid.Date, Day: day.Of(2026, 1, 2), Raw: "2026-01-02"}, "", "bad-number.date"},
		{grid.Cell{Kind: grid.Bool, Num: 1, Raw: "TRUE"}, "", "bad-number.yes-no-cell"},
		{grid.Cell{Kind: grid.Error, Raw: "#REF!"}, "", "cell-error"},
		{grid.Cell{Kind: grid.NoValue, Raw: "=A1"}, "", "cell-error.no-value"},
		{typed("8 %"), "", "bad-number.percent"},
		{typed("$8"), "", "bad-number.money"},
		{typed("14 days"), "14", ""},
		{typed("14days"), "14", ""},
		{typed("14 weeks"), "", "bad-number"},
		{typed("days"), "", "bad-number"},
	} {
		r := NumberIn(c.cell, Style{}, "days", "day")
		if code(r.Finding) != c.code || r.OK() && r.A.String() != c.want || r.OK() == (c.want == "") {
			t.Errorf("%+v: %v %q, want %s %q", c.cell, r.A, code(r.Finding), c.want, c.code)
		}
		inWords(t, r.Finding)
	}
}

func TestPercentCellIsQuotedAsShown(t *testing.T) {
	r := NumberIn(grid.Cell{Kind: grid.Number, Num: 0.08, Percent: true, Raw: "0.08"}, Style{})
	if got := templates.Text("problem.bad-number.percent", r.Finding.Args...); !strings.HasPrefix(got, "8% is a percent") {
		t.Error(got)
	}
}

func TestMoneyIn(t *testing.T) {
	for _, c := range []struct{ read, book, code string }{
		{"$12.50", "USD", ""},
		{"$12.50", "cad", ""},
		{"12.50", "EUR", ""},
		{"USD 12.50", "USD", ""},
		{"usd12.50", "USD", ""},
		{"12.50 €", "EUR", ""},
		{"£12.50", "GBP", ""},
		{"kr 12.50", "NOK", ""},
		{"C$12.50", "CAD", ""},
		{"1250¢", "USD", ""},
		{"1250 ¢", "eur", ""},
		{"1250¢", "GBP", "bad-number.currency"},
		{"€12.50", "USD", "bad-number.currency"},
		{"$12.50", "EUR", "bad-number.currency"},
		{"12.50 EUR", "USD", "bad-number.currency"},
		{"C$12.50", "USD", "bad-number.currency"},
		{"₿12.50", "USD", "bad-number.currency"},
		{"12.50%", "USD", "bad-number.percent"},
		{"free", "USD", "bad-number"},
	} {
		r := MoneyIn(typed(c.read), Style{}, c.book)
		if code(r.Finding) != c.code || r.OK() && r.A.String() != "12.5" {
			t.Errorf("%q in a book in %s: %v %q, want %q", c.read, c.book, r.A, code(r.Finding), c.code)
		}
		inWords(t, r.Finding)
	}
}

func TestResultAsValueOfTheBook(t *testing.T) {
	at := cell.Ref{Sheet: "Sales", Row: 17, Col: 4}
	for read, want := range map[string]cell.State{"3": cell.Typed, "": cell.Blank, "x": cell.Bad, "1,234": cell.Typed} {
		r := Number(read, Style{})
		if n, m := r.Num(at), r.Money(at); n.State != want || m.State != want || n.At != at || m.Raw != read {
			t.Errorf("%q: %+v, %+v", read, n, m)
		}
	}
	p := Number("x", Style{}).Finding.Problem(at)
	if p.At != at || p.Code != problem.BadNumber || p.Severity != problem.Error {
		t.Errorf("%+v", p)
	}
}

func TestEvidence(t *testing.T) {
	for _, c := range []struct {
		column []string
		want   Style
	}{
		{[]string{"1,234", "2,000"}, Style{'.', false}},
		{[]string{"1,234", "2.50"}, Style{'.', true}},
		{[]string{"1,234", "2,50"}, Style{',', true}},
		{[]string{"1,234", "1,234,567"}, Style{'.', true}},
		{[]string{"1.234 oz", "1.234.567 oz"}, Style{',', true}},
		{[]string{"1 lb 4.5 oz"}, Style{'.', true}},
		{[]string{"$1,234.50"}, Style{'.', true}},
		{[]string{"1 234,50 €"}, Style{',', true}},
		{[]string{"0.125"}, Style{'.', true}},
		{[]string{"2.50", "2,50"}, Style{'.', false}},
		{[]string{"Nov. 3, 2026", "n/a", "", "12 x 4"}, Style{'.', false}},
		{[]string{"1'234"}, Style{'.', false}},
	} {
		var e Evidence
		for _, s := range c.column {
			e.LookIn(typed(s))
		}
		e.LookIn(number(2.5))
		if got := e.Style(Custom("USD")); got != c.want {
			t.Errorf("%q: %v, want %v", c.column, got, c.want)
		}
	}
}

func TestCustomOfCurrency(t *testing.T) {
	for code, want := range map[string]rune{"USD": '.', "eur": ',', "SEK": ',', "GBP": '.', "CHF": '.', "": '.'} {
		if got := Custom(code); got.Decimal != want || got.Known {
			t.Errorf("%q: %+v", code, got)
		}
	}
}

// Whatever way of writing an amount a column shows, reading gives it back exactly.
func TestNumberReadsWhatIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.IntRange(0, 4).Draw(t, "places")
		n := rapid.Int64Range(-9_999_999_999, 9_999_999_999).Draw(t, "digits")
		decimal := rapid.SampledFrom([]string{".", ","}).Draw(t, "decimal")
		group := rapid.SampledFrom([]string{"", " ", "\u00a0", "\u202f", "'", "’", map[string]string{".": ",", ",": "."}[decimal]}).Draw(t, "group")
		dress := rapid.SampledFrom([]string{"%s", "$%s", "%s EUR", " %s ", "£ %s", "%s zł"}).Draw(t, "dress")
		minus := rapid.SampledFrom([]string{"-%s", "−%s", "(%s)", "%s-"}).Draw(t, "minus")

		want := fmt.Sprintf("%0*d", places+1, max(n, -n))
		whole, rest := want[:len(want)-places], want[len(want)-places:]
		text := grouping(whole, group)
		plain := whole
		if places > 0 {
			text += decimal + rest
			plain += "." + rest
		}
		text = fmt.Sprintf(dress, text)
		if n < 0 {
			text = fmt.Sprintf(minus, text)
			plain = "-" + plain
		}
		exact, err := money.Parse(plain)
		if err != nil {
			t.Fatal(err)
		}
		r := Number(text, Style{Decimal: rune(decimal[0]), Known: true})
		if !r.OK() || r.A.Cmp(exact) != 0 || r.V != exact.Float64() {
			t.Fatalf("%q: %v (%v), want %v", text, r.A, r.Finding, exact)
		}
	})
}

func grouping(digits, sep string) string {
	var parts []string
	for len(digits) > 3 {
		parts = append([]string{digits[len(digits)-3:]}, parts...)
		digits = digits[:len(digits)-3]
	}
	return strings.Join(append([]string{digits}, parts...), sep)
}

// A column of amounts with cents shows its style, whatever else is in it.
func TestEvidenceAgreesWithTheColumn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		decimal := rapid.SampledFrom([]string{".", ","}).Draw(t, "decimal")
		group := map[string]string{".": ",", ",": "."}[decimal]
		var e Evidence
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			n := rapid.Int64Range(0, 99_999_999).Draw(t, "cents")
			e.Look(grouping(fmt.Sprint(n/100), group) + decimal + fmt.Sprintf("%02d", n%100))
		}
		e.Look("5" + group + "432")
		if got, want := e.Style(Style{}), (Style{rune(decimal[0]), true}); got != want {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

// A price for a unit and a percent are told as what they are.
func TestAmountsOfAnotherKind(t *testing.T) {
	for text, say := range map[string]string{
		"$2.95/lb": "per", "2.95 USD per lb": "per", "$3 a dozen": "per", "10% off": "percent", "10 %": "percent", "2/lb": "", "$2.95/jar": "",
	} {
		r := MoneyIn(grid.Cell{Kind: grid.Text, Raw: text}, Style{}, "USD")
		if !r.Finding.Bad() || r.Finding.Code != problem.BadNumber || r.Finding.Say != say {
			t.Errorf("%q: %+v", text, r.Finding)
		}
	}
}
