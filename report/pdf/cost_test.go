package pdf

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
	"pourbook/compute/problem"
	"pourbook/report/show"
)

func options(paper string) Options {
	return Options{Paper: paper, Today: day.Of(2026, 11, 5), Shop: "Quince Shed Candles", Print: "3f9a-71c2"}
}

func draws(t testing.TB, r *cost.Result, paper string) []byte {
	t.Helper()
	b, _, err := Cost(r, options(paper))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// tool runs a program on a document. Where it is missing the test is skipped,
// on CI it fails; so it does on anything said on standard error.
func tool(t testing.TB, document []byte, name string, args ...string) string {
	t.Helper()
	oracle.Need(t, oracle.Poppler, oracle.QPDF)
	file := filepath.Join(t.TempDir(), "document.pdf")
	if err := os.WriteFile(file, document, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "FILE" {
			args[i] = file
		}
	}
	var out, bad bytes.Buffer
	c := exec.Command(name, args...)
	c.Stdout, c.Stderr = &out, &bad
	if err := c.Run(); err != nil || bad.Len() > 0 {
		t.Errorf("%s: %v: %s", name, err, bad.String())
	}
	return out.String()
}

// printed is the text of a document with single ordinary spaces.
func printed(t *testing.T, document []byte) string {
	s := tool(t, document, "pdftotext", "-layout", "FILE", "-")
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), " ")
}

var shapes = map[string]shape{
	"small":  {recipes: 1, jars: 1, bare: true},
	"twelve": {recipes: 3, jars: 2},
	"large":  {recipes: 10, jars: 3, long: true},
}

func TestCostHoldsItsHeadlineFigures(t *testing.T) {
	for name, s := range shapes {
		r := costing(t, s, october())
		text := printed(t, draws(t, r, "Letter"))
		c := show.In("USD")
		for _, f := range []*calc.Figure{r.Totals.NetSales, r.Totals.GrossMargin, r.Totals.Contribution} {
			if want := c.Amount(f); !f.Known() || !strings.Contains(text, want) {
				t.Errorf("%s: the text lacks %s", name, want)
			}
		}
		for _, want := range []string{
			"October 2026", "Cost per candle", "What changed", "Dye and fragrance", "Colored against natural", "Notes and cautions",
			"Hot wax burns", "sheet 2 of ", "Quince Shed Candles", "book 3f9a-71c2", show.Ratio(r.Split.Overall.Ratio),
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the text lacks %q", name, want)
			}
		}
		if strings.Contains(text, "Stock and what was used") == s.bare {
			t.Errorf("%s: stock is there: %v", name, !s.bare)
		}
	}
}

func TestCostIsSoundPDF(t *testing.T) {
	for name, s := range shapes {
		for _, paper := range []string{"Letter", "A4"} {
			sound(t, name, draws(t, costing(t, s, october()), paper), paper)
		}
	}
	oracle.Cases(t, 2*len(shapes))
}

func TestCostIsTheSameEveryTime(t *testing.T) {
	a := draws(t, costing(t, shapes["twelve"], october()), "A4")
	if b := draws(t, costing(t, shapes["twelve"], october()), "A4"); !bytes.Equal(a, b) {
		t.Error("the same book gives other bytes")
	}
	r := costing(t, shapes["twelve"], october())
	if a, b := draws(t, r, "A4"), draws(t, r, "A4"); !bytes.Equal(a, b) {
		t.Error("the same result gives other bytes")
	}
}

// A book of up to twelve products is a report of four to eight pages, and the
// month is one of them.
func TestCostKeepsToItsPages(t *testing.T) {
	year := cost.Period{From: day.Of(2025, 11, 1), To: last}
	for _, name := range []string{"small", "twelve"} {
		for _, paper := range []string{"Letter", "A4"} {
			for _, period := range []cost.Period{october(), year} {
				b := draws(t, costing(t, shapes[name], period), paper)
				pages := sheets(t, b)
				if pages < 4 || pages > 8 {
					t.Errorf("%s on %s: %d pages", name, paper, pages)
				}
				first := tool(t, b, "pdftotext", "-l", "1", "-layout", "FILE", "-")
				second := tool(t, b, "pdftotext", "-f", "2", "-l", "2", "-layout", "FILE", "-")
				if !strings.Contains(first, "What needs a decision") || !strings.Contains(second, "Cost per candle") {
					t.Errorf("%s on %s: the month does not fit its page", name, paper)
				}
			}
		}
	}
}

// sound holds a document to independent readers of PDF.
func sound(t *testing.T, name string, document []byte, paper string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), name+".pdf")
	if err := os.WriteFile(file, document, 0o600); err != nil {
		t.Fatal(err)
	}
	oracle.SoundPDF(t, file, paper)
}

func sheets(t *testing.T, document []byte) int {
	for line := range strings.Lines(tool(t, document, "pdfinfo", "FILE")) {
		if n, ok := strings.CutPrefix(line, "Pages:"); ok {
			pages, _ := strconv.Atoi(strings.TrimSpace(n))
			return pages
		}
	}
	return 0
}

func TestPagesThatGoOnCarryTheirPart(t *testing.T) {
	text := printed(t, draws(t, costing(t, shapes["large"], october()), "Letter"))
	for _, want := range []string{"Cost per candle continued", "What changed continued", "Stock and variances continued", "The same, as figures continued"} {
		if !strings.Contains(text, want) {
			t.Errorf("no page is headed %q", want)
		}
	}
}

func TestCostOfNothing(t *testing.T) {
	for name, r := range map[string]*cost.Result{
		"empty":    {},
		"products": {Currency: "USD", Period: october(), Products: []cost.Product{{Product: "A"}, {}}, Channels: []cost.Channel{{}}},
		"split": {Currency: "XYZ", Period: october(), Split: cost.Split{
			Overall:        cost.Ratio{Colored: calc.Const(1)},
			BySeasonAndJar: []cost.SplitGroup{{}, {Jar: "A"}}, ByJar: []cost.SplitGroup{{}, {}}, BySeason: []cost.SplitGroup{{}, {}},
		}},
		"change": {Period: october(), Change: []cost.Change{{}}, Twins: []cost.Twin{{}}, Stock: []cost.Stock{{}}, Use: []cost.Use{{}}},
	} {
		if text := printed(t, draws(t, r, "Letter")); !strings.Contains(text, "Notes and cautions") {
			t.Errorf("%s: no notes", name)
		}
	}
}

func TestUnknownFiguresArePrintedAsADash(t *testing.T) {
	r := &cost.Result{Currency: "USD", Period: october(), Totals: cost.Totals{NetSales: calc.Const(50), Units: calc.Const(5)}}
	text := printed(t, draws(t, r, "Letter"))
	for _, want := range []string{"Gross margin - -", "Contribution - -", "Net sales 50.00"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q", want)
		}
	}
}

func TestProblemsAreListedWithCellAndMoney(t *testing.T) {
	r := costing(t, shapes["small"], october())
	for row := range 40 {
		p := problem.Problem{Severity: problem.Error, Code: problem.UnknownProduct, Amount: 12.5, HasAmount: true}
		p.At.Sheet, p.At.Row, p.At.Col = "Sales", 17+row, 4
		p.Args = []any{"name", "Plum tin"}
		r.Problems.Add(p)
	}
	text := printed(t, draws(t, r, "Letter"))
	for _, want := range []string{"Sales!D17", "And 39 more like it in column D", "500.00", "40 things in the book could not be used", "$500.00 stands on them"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q", want)
		}
	}
}

func TestLettersThatCannotBePrintedAreNamed(t *testing.T) {
	b, missing, err := Cost(costing(t, shapes["large"], october()), options("Letter"))
	if err != nil || len(missing) == 0 {
		t.Fatalf("%v, %q", err, missing)
	}
	if text := printed(t, b); !strings.Contains(text, "U+1F56F") {
		t.Error("the letter is not named")
	}
}

func TestAFootNamesAllThatBeginsOnItsPage(t *testing.T) {
	r := costing(t, shapes["small"], october())
	d := printed(t, draws(t, r, "Letter"))
	if !strings.Contains(d, ", Notes and cautions · sheet") {
		t.Error("no foot names the notes beside the part above them")
	}
}
