package xlsx

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

func TestCostWorkbookRecalculates(t *testing.T) {
	cases := 0
	for name, x := range map[string]struct {
		shape
		cost.Period
		office bool // starting LibreOffice takes long
	}{
		"latest":         {shape{days: 420}, october(), true},
		"average":        {shape{days: 150, purchases: true}, october(), false},
		"fifo":           {shape{days: 150, purchases: true, method: "fifo"}, october(), true},
		"pours":          {shape{days: 90, purchases: true, pours: true}, october(), false},
		"half a year":    {shape{days: 400, purchases: true}, cost.Period{From: day.Of(2026, 5, 12), To: day.Of(2026, 10, 20)}, true},
		"all, wholly":    {shape{days: 500}, cost.Period{From: day.Of(2024, 11, 1), To: lastDay}, false},
		"without a sale": {shape{days: 40}, cost.Period{From: day.Of(2026, 8, 1), To: day.Of(2026, 8, 31)}, false},
	} {
		t.Run(name, func(t *testing.T) {
			_, data := costOf(t, makeBook(x.shape), x.Period)
			cases += checkRecalculated(t, data, gnumeric)
			if x.office {
				cases += checkRecalculated(t, data, office)
			}
		})
	}
	oracle.Cases(t, cases)
}

func TestCostWorkbookIsTheSameEveryTime(t *testing.T) {
	_, a := costOf(t, makeBook(shape{days: 150, purchases: true}), october())
	_, b := costOf(t, makeBook(shape{days: 150, purchases: true}), october())
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}

// With too many lines the sums are inputs, and the workbook says so.
func TestCostWorkbookWithoutItsLines(t *testing.T) {
	r, err := cost.Run(makeBook(shape{days: 120}), cost.Options{Period: october()})
	if err != nil {
		t.Fatal(err)
	}
	r.Lines, r.LinesTotal = nil, 20_001
	data, err := Cost(r, "Shop")
	if err != nil {
		t.Fatal(err)
	}
	f := openBook(t, data)
	note, err := f.GetCellValue("Summary", "A3")
	if err != nil || !strings.Contains(note, "20001") {
		t.Errorf("the note is %q, %v", note, err)
	}
	if n, _ := f.GetSheetIndex(inputName("sales")); n >= 0 {
		t.Error("there is a sheet of lines")
	}
	if n := checkRecalculated(t, data, gnumeric); n < 300 {
		t.Errorf("only %d formulas compared", n)
	}
}

// Formulas have to be read by every spreadsheet program and by people.
func TestCostFormulasAreShortAndPlain(t *testing.T) {
	_, data := costOf(t, makeBook(shape{days: 700, purchases: true, method: "fifo"}), october())
	f := openBook(t, data)
	functions := map[string]int{}
	for _, sheet := range f.GetSheetList() {
		if strings.Trim(sheet, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz ") != "" {
			t.Errorf("sheet %q", sheet)
		}
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c := range row {
				formula, err := f.GetCellFormula(sheet, address(c+1, r+1))
				if err != nil {
					t.Fatal(err)
				}
				if len(formula) > 2*longest {
					t.Errorf("%s!%s has %d characters", sheet, address(c+1, r+1), len(formula))
				}
				if wholeColumn.MatchString(formula) {
					t.Errorf("%s!%s: whole columns in %s", sheet, address(c+1, r+1), formula)
				}
				for _, name := range function.FindAllString(formula, -1) {
					functions[name]++
				}
			}
		}
	}
	for name := range functions {
		if !slices.Contains([]string{"SUM(", "SUMIF(", "SUMIFS(", "IF(", "MAX(", "MIN(", "INT(", "ABS(", "ROUND(", "SQRT(", "CHIDIST(", "DATE("}, name) {
			t.Errorf("%s is used %d times", name, functions[name])
		}
	}
	if functions["SUMIFS("] == 0 {
		t.Error("no sum over the sales lines")
	}
}

var (
	function    = regexp.MustCompile(`[A-Z]+\(`)
	wholeColumn = regexp.MustCompile(`\$?[A-Z]+:\$?[A-Z]+\b`)
)

func TestCostWorkbookPrices(t *testing.T) {
	r, data := costOf(t, makeBook(shape{days: 60}), october())
	f := openBook(t, data)
	rows, err := f.GetRows("Prices", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	head, last := rows[3], rows[len(rows)-1]
	if len(rows) != 5+len(r.Products) || len(head) != 9 || head[5] != r.Shelves[0].Channel.Name.V+" margin" || last[0] != "Least margin" {
		t.Fatalf("%d rows, head %q, last %q", len(rows), head, last)
	}
	for i, s := range r.Shelves {
		at := []int{5, 6, 8}[i]
		for p := range r.Products {
			if m := s.Prices[p].Margin; m.Known() && differs(strconv.FormatFloat(m.Or(0), 'g', -1, 64), rows[4+p][at]) != "" {
				t.Errorf("%s, row %d: %s, want %v", head[at], p, rows[4+p][at], m.Or(0))
			}
		}
	}
	marks, err := f.GetConditionalFormats("Prices")
	if err != nil || len(marks) != 3 {
		t.Fatalf("%d columns are marked, %v", len(marks), err)
	}
	for cells, m := range marks {
		if m[0].Criteria != "less than" || !strings.HasPrefix(m[0].Value, "$"+cells[:1]+"$"+strconv.Itoa(len(rows))) {
			t.Errorf("%s: %+v", cells, m)
		}
	}
}
