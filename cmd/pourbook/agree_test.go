package main

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/oracle"
	"pourbook/report/show"
)

// The PDF, the workbook, the JSON and the terminal say the same of the figures
// that they share.
func TestDocumentsAgree(t *testing.T) {
	oracle.Need(t, oracle.Poppler)
	plain, err := os.ReadFile(bookPath("plain.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	inDemoFolder(t)
	if err := os.WriteFile("plain.xlsx", plain, 0o644); err != nil {
		t.Fatal(err)
	}
	cases := 0
	for _, book := range []string{"demo", "plain"} {
		t.Run(book, func(t *testing.T) { cases += checkAgreement(t, book) })
	}
	oracle.Cases(t, cases)
}

// checkAgreement returns how many figures it found in every document.
func checkAgreement(t *testing.T, book string) int {
	t.Helper()
	terminal := output(t, "pourbook cost "+book+".xlsx --month 2026-10")
	var res struct {
		Totals   map[string]float64
		Products []struct {
			Product  string
			UnitCost map[string]float64 `json:"unit_cost"`
			Net      float64            `json:"net_sales"`
		}
	}
	if err := json.Unmarshal([]byte(output(t, "pourbook cost "+book+".xlsx --month 2026-10 --json --no-documents")), &res); err != nil {
		t.Fatal(err)
	}
	page := printed(t, book+"-costing-2026-10.pdf")
	figures := 5
	numbers := workbookNumbers(t, book+"-costing-2026-10.xlsx")
	for _, key := range []string{"net_sales", "cost_of_sales", "gross_margin", "fees", "contribution"} {
		v := res.Totals[key]
		text := show.Decimals(v, 2)
		if !strings.Contains(terminal, text) {
			t.Errorf("the terminal does not say %s %s", key, text)
		}
		if !strings.Contains(page, strings.ReplaceAll(text, ",", "")) {
			t.Errorf("the PDF does not say %s %s", key, text)
		}
		if !numbers.has(v) {
			t.Errorf("the workbook does not hold %s %v", key, v)
		}
	}
	for _, p := range res.Products {
		if text := show.Decimals(p.UnitCost["total"], 2); !strings.Contains(page, text) {
			t.Errorf("the PDF does not say the unit cost %s of %s", text, p.Product)
		}
		for part, v := range p.UnitCost {
			if !numbers.has(v) {
				t.Errorf("the workbook does not hold %s of %s, %v", part, p.Product, v)
			}
		}
		if !numbers.has(p.Net) {
			t.Errorf("the workbook does not hold the net sales of %s, %v", p.Product, p.Net)
		}
		figures += 2 + len(p.UnitCost)
	}
	return figures
}

// printed is a PDF's text without the gaps and commas at thousands.
func printed(t *testing.T, path string) string {
	t.Helper()
	text, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	runes := []rune(string(text))
	for i, r := range runes {
		gap := r == ',' || r == '\u2009' || r == '\u202f' || r == '\u00a0' || r == ' '
		if gap && i > 0 && i+3 < len(runes) && digit(runes[i-1]) && digit(runes[i+1]) && digit(runes[i+2]) && digit(runes[i+3]) {
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

func digit(r rune) bool { return r >= '0' && r <= '9' }

type values []float64

// has reports whether a value is among the numbers, to 1e-9.
func (n values) has(v float64) bool {
	for _, x := range n {
		if math.Abs(x-v) <= 1e-9*math.Max(1, math.Abs(v)) {
			return true
		}
	}
	return false
}

// workbookNumbers are the cached values of a workbook outside its input sheets.
func workbookNumbers(t *testing.T, path string) values {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out values
	for _, sheet := range f.GetSheetList() {
		if strings.Contains(sheet, "Input") {
			continue
		}
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, text := range row {
				if v, err := strconv.ParseFloat(text, 64); err == nil {
					out = append(out, v)
				}
			}
		}
	}
	return out
}
