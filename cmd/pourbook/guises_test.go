package main

import (
	"encoding/json"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/xuri/excelize/v2"
)

// books are one scenario in several guises: as the design names things; under
// everyday names with titles, shuffled columns and gaps; stacked on a few
// sheets with a totals row; with units in headings, percent formats, money as
// text and hidden rows; with rows that cannot be read; and two of them as
// LibreOffice ("office") and Gnumeric saved them.
var books = []string{"plain", "everyday", "stacked", "units", "errors", "office", "gnumeric"}

// always are the problems that the scenario has in every guise.
var always = map[string]int{"purchase-shortage": 4, "default-used": 2}

func bookPath(name string) string { return inTree("testdata/books/" + name) }

// Every guise gives the expected figures, and just the problems that notes in
// its cells want ("want: bad-date").
func TestGuisesOfABook(t *testing.T) {
	golden := bookPath("october.json")
	if *update {
		text, err := json.MarshalIndent(figures(t, bookPath("plain.xlsx")), "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, append(text, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	var want map[string]any
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	for _, name := range books {
		t.Run(name, func(t *testing.T) {
			path := bookPath(name + ".xlsx")
			if d := cmp.Diff(want, figures(t, path), cmpopts.EquateApprox(1e-12, 1e-12)); d != "" {
				t.Errorf("figures:\n%s", d)
			}
			if d := cmp.Diff(wanted(t, path), found(t, path)); d != "" {
				t.Errorf("problems:\n%s", d)
			}
		})
	}
}

func october(t *testing.T, path string) map[string]any {
	t.Helper()
	var out map[string]any
	text := output(t, `pourbook cost "`+path+`" --month 2026-10 --today 2026-11-05 --json --no-documents`)
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// figures are the results without the book's name and problems.
func figures(t *testing.T, path string) map[string]any {
	t.Helper()
	out := october(t, path)
	delete(out, "book")
	delete(out, "problems")
	return out
}

// found are the places and codes of a book's problems.
func found(t *testing.T, path string) []string {
	t.Helper()
	rest := maps.Clone(always)
	out := []string{}
	list, _ := october(t, path)["problems"].([]any)
	for _, p := range list {
		p := p.(map[string]any)
		code := p["code"].(string)
		if rest[code] > 0 {
			rest[code]--
			continue
		}
		sheet, _ := p["sheet"].(string)
		place, _ := p["cell"].(string)
		if place == "" {
			place = "A1" // the whole sheet
		}
		out = append(out, sheet+"!"+place+" "+code)
	}
	for code, n := range rest {
		if n > 0 {
			out = append(out, "missing: "+code)
		}
	}
	slices.Sort(out)
	return out
}

// wanted are the problems that notes in a book's cells want.
func wanted(t *testing.T, path string) []string {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	out := []string{}
	for _, sheet := range f.GetSheetList() {
		notes, err := f.GetComments(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range notes {
			text := n.Text
			for _, r := range n.Paragraph {
				text += r.Text
			}
			if _, code, ok := strings.Cut(text, "want: "); ok {
				out = append(out, sheet+"!"+n.Cell+" "+strings.TrimSpace(code))
			}
		}
	}
	slices.Sort(out)
	return out
}
