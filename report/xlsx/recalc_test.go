package xlsx

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/oracle"
	"pourbook/ingest/grid/gridtest"
)

// poison replaces the cached value of every formula by one that is wrong, so
// that a program which trusts caches is found out.
func poison(t *testing.T, data []byte) []byte {
	t.Helper()
	parts, poisoned := gridtest.Of(t, data), 0
	for i := range parts {
		if x := &parts[i]; strings.HasPrefix(x.Name, "xl/worksheets/sheet") {
			poisoned += len(cached.FindAllString(x.Text, -1))
			x.Text = cached.ReplaceAllString(x.Text, "$1<v>-98765.4321</v>")
		}
	}
	if poisoned == 0 {
		t.Fatal("the workbook has no formula with a cached value")
	}
	return parts.Zip()
}

var cached = regexp.MustCompile(`(<f>[^<]*</f>)<v>[^<]*</v>`)

// office recalculates a workbook with LibreOffice, whose profile is told to
// recalculate always on load.
func office(t *testing.T, data []byte) []byte {
	t.Helper()
	oracle.Need(t, oracle.LibreOffice)
	dir := t.TempDir()
	profile := filepath.Join(dir, "profile", "user")
	settings := `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`
	in := filepath.Join(dir, "in.xlsx")
	for path, text := range map[string][]byte{filepath.Join(profile, "registrymodifications.xcu"): []byte(settings), in: data} {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	oracle.Run(t, "soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", filepath.Join(dir, "out"), in)
	out, err := os.ReadFile(filepath.Join(dir, "out", "in.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// gnumeric recalculates a workbook with Gnumeric.
func gnumeric(t *testing.T, data []byte) []byte {
	t.Helper()
	oracle.Need(t, oracle.Gnumeric)
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.xlsx"), filepath.Join(dir, "out.xlsx")
	if err := os.WriteFile(in, data, 0o600); err != nil {
		t.Fatal(err)
	}
	oracle.Run(t, "ssconvert", "--recalc", in, out)
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// checkRecalculated holds the program's cached values against those of another
// program that calculated every formula afresh. It returns how many formulas
// were compared.
func checkRecalculated(t *testing.T, data []byte, again func(*testing.T, []byte) []byte) int {
	t.Helper()
	ours, theirs := openBook(t, data), openBook(t, again(t, poison(t, data)))
	n, formulas, numbers := 0, 0, 0
	for _, sheet := range ours.GetSheetList() {
		rows, err := ours.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c, want := range row {
				at := address(c+1, r+1)
				formula, err := ours.GetCellFormula(sheet, at)
				if err != nil {
					t.Fatal(err)
				}
				if _, err := strconv.ParseFloat(want, 64); err == nil && !strings.Contains(sheet, "Input") {
					numbers++
					if formula != "" {
						formulas++
					}
				}
				if formula == "" {
					continue
				}
				n++
				got, err := theirs.GetCellValue(sheet, at, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Fatal(err)
				}
				if msg := differs(want, got); msg != "" {
					t.Errorf("%s!%s =%s: %s", sheet, at, formula, msg)
				}
			}
		}
	}
	if numbers > 0 && float64(formulas) < 0.95*float64(numbers) {
		t.Errorf("only %d of %d numbers outside the input sheets are formulas", formulas, numbers)
	}
	return n
}

func differs(want, got string) string {
	w, err1 := strconv.ParseFloat(want, 64)
	g, err2 := strconv.ParseFloat(got, 64)
	if err1 != nil || err2 != nil {
		if want == got {
			return ""
		}
		return fmt.Sprintf("%q here, %q there", want, got)
	}
	if math.Abs(w-g) > 1e-9*math.Max(math.Abs(w), math.Abs(g))+1e-9 {
		return fmt.Sprintf("%v here, %v there", w, g)
	}
	return ""
}

func openBook(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}
