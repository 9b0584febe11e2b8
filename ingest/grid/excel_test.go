package grid

import (
	"bytes"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

// written is a workbook that excelize writes.
func written(t *testing.T, fill func(x *excelize.File)) string {
	t.Helper()
	x := excelize.NewFile()
	defer x.Close()
	fill(x)
	path := filepath.Join(t.TempDir(), "book.xlsx")
	if err := x.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return path
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestBookThatExcelizeWrote(t *testing.T) {
	for _, since1904 := range []bool{false, true} {
		path := written(t, func(x *excelize.File) {
			must(t, x.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &since1904}))
			date, err := x.NewStyle(&excelize.Style{NumFmt: 22})
			must(t, err)
			iso := `yyyy\-mm\-dd;@`
			custom, err := x.NewStyle(&excelize.Style{CustomNumFmt: &iso})
			must(t, err)
			must(t, x.SetCellValue("Sheet1", "A1", time.Date(2026, 10, 31, 18, 30, 0, 0, time.UTC)))
			must(t, x.SetCellStyle("Sheet1", "A1", "A1", date))
			must(t, x.SetCellValue("Sheet1", "B1", time.Date(2026, 10, 31, 0, 0, 0, 0, time.UTC)))
			must(t, x.SetCellStyle("Sheet1", "B1", "B1", custom))
			must(t, x.SetCellRichText("Sheet1", "C1", []excelize.RichTextRun{{Text: "Deep "}, {Text: "Red", Font: &excelize.Font{Bold: true}}}))
			must(t, x.SetCellStr("Sheet1", "D1", "=A1"))
			must(t, x.SetCellFormula("Sheet1", "E1", "1+1"))
			must(t, x.SetCellBool("Sheet1", "F1", true))
			must(t, x.SetCellValue("Sheet1", "A3", "under"))
			must(t, x.MergeCell("Sheet1", "A3", "B4"))
			must(t, x.SetRowVisible("Sheet1", 3, false))
		})
		want := "sheet Sheet1, merged A3:B4\nA1 date 2026-10-31\nB1 date 2026-10-31\nC1 text Deep Red\nD1 text =A1\nE1 no value =1+1 (formula)\nF1 bool TRUE\nA3 text under, hidden"
		if got := strings.Join(dump(t, mustOpen(t, path)), "\n"); got != want {
			t.Errorf("from 1904 %v:\n%s\nwant\n%s", since1904, got, want)
		}
	}
}

// Whatever stands in cells comes back, in its place.
func TestCellsComeBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		x := excelize.NewFile()
		defer x.Close()
		date, _ := x.NewStyle(&excelize.Style{NumFmt: 14})
		percent, _ := x.NewStyle(&excelize.Style{NumFmt: 10})
		want := map[string]string{}
		for range rapid.IntRange(1, 20).Draw(r, "cells") {
			name, _ := excelize.CoordinatesToCellName(rapid.IntRange(1, 30).Draw(r, "column"), rapid.IntRange(1, 50).Draw(r, "row"))
			if want[name] != "" {
				continue
			}
			var err error
			switch rapid.IntRange(0, 3).Draw(r, "kind") {
			case 0:
				s := rapid.StringOfN(rapid.RuneFrom([]rune("ab <>&\"'é🕯_x\n")), 1, 8, -1).Draw(r, "text") + "."
				err = x.SetCellStr("Sheet1", name, s)
				want[name] = "text " + s
			case 1:
				n := rapid.Int64Range(-1e12, 1e12).Draw(r, "thousandths")
				err = x.SetCellFloat("Sheet1", name, float64(n)/1000, -1, 64)
				want[name] = "number " + strconv.FormatFloat(float64(n)/1000, 'f', -1, 64)
			case 2:
				d := day.Of(1950, 1, 1) + day.Date(rapid.IntRange(0, 40000).Draw(r, "day"))
				err = x.SetCellInt("Sheet1", name, int64(d-epoch1900))
				x.SetCellStyle("Sheet1", name, name, date)
				want[name] = "date " + d.String()
			case 3:
				err = x.SetCellInt("Sheet1", name, 3)
				x.SetCellStyle("Sheet1", name, name, percent)
				want[name] = "number 3 (percent)"
			}
			if err != nil {
				r.Fatal(err)
			}
		}
		var b bytes.Buffer
		if err := x.Write(&b); err != nil {
			r.Fatal(err)
		}
		lines := dump(t, mustOpen(t, file(t, "book.xlsx", b.Bytes())))[1:]
		if len(lines) != len(want) {
			r.Fatalf("%d cells of %d: %q", len(lines), len(want), lines)
		}
		for _, line := range lines {
			name, got, _ := strings.Cut(line, " ")
			if got != want[name] {
				r.Fatalf("%s: %q, want %q", name, got, want[name])
			}
		}
	})
}

func TestFormatOf(t *testing.T) {
	for code, want := range map[string]Format{
		"General": PlainFormat, "GENERAL": PlainFormat, `General" kg"`: PlainFormat, "0.00": PlainFormat, "@": PlainFormat, "": PlainFormat, ";;;": PlainFormat,
		"0.00E+00": PlainFormat, "##0.0E-0": PlainFormat, `#,##0.00 "days"`: PlainFormat, `0 \d`: PlainFormat, `0_d`: PlainFormat, "[Red]0": PlainFormat,
		"[$USD] #,##0.00": PlainFormat, "[$€-407] #,##0.00": PlainFormat, "[>=100]0;0.0": PlainFormat, "# ?/?": PlainFormat, `"$"#,##0.00_);[Red]\("$"#,##0.00\)`: PlainFormat,
		"yyyy-mm-dd": DateFormat, "d/m/yyyy;@": DateFormat, "mmm": DateFormat, "mmmm yy": DateFormat, "m/d/yy h:mm": DateFormat, "[$-409]d-mmm-yy": DateFormat,
		"[$-F800]dddd, mmmm dd, yyyy": DateFormat, `yyyy\-mm\-dd\Thh:mm:ss`: DateFormat, "ddd": DateFormat, "[DBNum1]yyyy": DateFormat, `[$-411]ge.m.d`: DateFormat, "DD.MM.YYYY": DateFormat,
		"h:mm": TimeFormat, "hh:mm:ss.0": TimeFormat, "[h]:mm": TimeFormat, "[mm]:ss": TimeFormat, "[s]": TimeFormat, "h AM/PM": TimeFormat, "mm:ss": TimeFormat,
		"0%": PercentFormat, "0.0 %": PercentFormat, "[Green]0%;[Red]-0%": PercentFormat, `0"%"`: PlainFormat, `0\%`: PlainFormat,
		`"`: PlainFormat, `\`: PlainFormat, `[`: PlainFormat, "0;d": PlainFormat,
	} {
		if got := formatOf(code); got != want {
			t.Errorf("%q: %d, want %d", code, got, want)
		}
	}
}

// The built-in formats are held against what excelize shows in them; those of
// East Asian spreadsheets it shows as plain numbers.
func TestBuiltInFormats(t *testing.T) {
	for id, want := range map[int]Format{
		0: PlainFormat, 4: PlainFormat, 9: PercentFormat, 10: PercentFormat, 11: PlainFormat, 13: PlainFormat, 14: DateFormat, 17: DateFormat,
		18: TimeFormat, 21: TimeFormat, 22: DateFormat, 27: DateFormat, 32: TimeFormat, 36: DateFormat, 37: PlainFormat, 44: PlainFormat, 45: TimeFormat, 46: TimeFormat,
		47: TimeFormat, 48: PlainFormat, 49: PlainFormat, 50: DateFormat, 58: DateFormat, 71: DateFormat, 80: TimeFormat, 164: PlainFormat,
	} {
		if got := builtIn(id); got != want {
			t.Errorf("format %d: %d, want %d", id, got, want)
		}
	}
	for id := range 50 {
		x := excelize.NewFile()
		style, err := x.NewStyle(&excelize.Style{NumFmt: id})
		must(t, err)
		must(t, x.SetCellFloat("Sheet1", "A1", 46326.75, -1, 64))
		must(t, x.SetCellStyle("Sheet1", "A1", "A1", style))
		shown, err := x.GetCellValue("Sheet1", "A1")
		must(t, err)
		must(t, x.Close())
		if got := strings.HasSuffix(shown, "%"); got != (builtIn(id) == PercentFormat) {
			t.Errorf("format %d shows %s", id, shown)
		}
		if got := regexp.MustCompile(`Oct|10[-/]31`).MatchString(shown); got != (builtIn(id) == DateFormat) && (id < 27 || id > 36) {
			t.Errorf("format %d shows %s", id, shown)
		}
	}
}

// Every day of both systems agrees with excelize from March 1900 on; before
// that the false leap day counts.
func TestSerialDays(t *testing.T) {
	cases := 0
	for n := 61; n <= lastSerial; n += 97 {
		for _, since1904 := range []bool{false, true} {
			if since1904 && n > lastSerial-days1904 {
				continue
			}
			want, err := excelize.ExcelDateToTime(float64(n), since1904)
			must(t, err)
			for _, clock := range []float64{0, 0.5, 0.99998} {
				cases++
				if got := serialDay(float64(n)+clock, since1904); got != day.FromTime(want) {
					t.Fatalf("%d from 1904 %v: %v, want %v", n, since1904, got, want)
				}
			}
		}
	}
	// ECMA-376 part 4, 3.17.4.1 (read in a copy); 1900 had no 29 February.
	for serial, want := range map[float64]string{
		38749: "2006-02-01", 1: "1900-01-01", 59: "1900-02-28", 60: "", 61: "1900-03-01", 0: "", -1: "", 0.99: "", 2958465: "9999-12-31", 2958466: "",
		1e300: "", math.NaN(): "", math.Inf(1): "", 46325.9999999: "2026-10-31",
	} {
		cases++
		if got := serialDay(serial, false); got.String() != want {
			t.Errorf("%v: %q, want %q", serial, got, want)
		}
	}
	for serial, want := range map[float64]string{0: "1904-01-01", 37287: "2006-02-01", 2957003: "9999-12-31"} {
		cases++
		if got := serialDay(serial, true); got.String() != want {
			t.Errorf("%v from 1904: %q, want %q", serial, got, want)
		}
	}
	oracle.Cases(t, cases)
}
