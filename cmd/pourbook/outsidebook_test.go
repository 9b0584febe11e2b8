package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/ingest"
)

// bookOf writes a workbook from a text of tables ("[Sheet]", then rows parted by
// " | ") and more rows for its sheets; numbers and ISO dates are typed as such.
func bookOf(t *testing.T, path, text string, more map[string][][]string) {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	date, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	if err != nil {
		t.Fatal(err)
	}
	for i, part := range strings.Split(strings.TrimPrefix(text, "["), "\n[") {
		name, body, _ := strings.Cut(part, "]\n")
		if i == 0 {
			err = f.SetSheetName("Sheet1", name)
		} else {
			_, err = f.NewSheet(name)
		}
		if err != nil {
			t.Fatal(err)
		}
		var rows [][]string
		for line := range strings.Lines(strings.TrimSpace(body)) {
			rows = append(rows, strings.Split(strings.TrimRight(line, "\n"), "|"))
		}
		writeSheet(t, f, name, append(rows, more[name]...), date)
	}
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
}

func writeSheet(t *testing.T, f *excelize.File, name string, rows [][]string, date int) {
	t.Helper()
	w, err := f.NewStreamWriter(name)
	if err != nil {
		t.Fatal(err)
	}
	for r, row := range rows {
		cells := make([]any, len(row))
		for c, text := range row {
			cells[c] = cellOf(strings.TrimSpace(text), date)
		}
		if err := w.SetRow(fmt.Sprintf("A%d", r+1), cells); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
}

func cellOf(text string, date int) any {
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		return v
	}
	if d, err := day.Parse(text); err == nil {
		return excelize.Cell{StyleID: date, Value: d.Time()}
	}
	if text == "" {
		return nil
	}
	return text
}

// rowsOf reads a CSV file without its heading.
func rowsOf(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", path, len(rows), err)
	}
	return rows[1:]
}

// expected reads "path TAB number" lines.
func expected(t *testing.T, path string) map[string]float64 {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for line := range strings.Lines(string(text)) {
		key, value, _ := strings.Cut(strings.TrimSpace(line), "\t")
		if out[key], err = strconv.ParseFloat(value, 64); err != nil {
			t.Fatalf("%s: %q", path, line)
		}
	}
	return out
}

// flat is every number of a job's results under its path, in which the rows of a
// list go by the names that they carry.
func flat(t *testing.T, where, results string) map[string]float64 {
	t.Helper()
	var tree any
	if err := json.Unmarshal([]byte(results), &tree); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	flatten(out, where, tree)
	return out
}

func flatten(out map[string]float64, where string, v any) {
	switch v := v.(type) {
	case float64:
		out[where] = v
	case map[string]any:
		for k, x := range v {
			flatten(out, where+"/"+k, x)
		}
	case []any:
		for i, x := range v {
			flatten(out, where+"/"+nameOf(x, i), x)
		}
	}
}

func nameOf(row any, i int) string {
	fields, _ := row.(map[string]any)
	var parts []string
	for _, k := range []string{"product", "item", "channel", "material", "season_year", "season", "jar", "recipe", "finish"} {
		if _, split := fields["n_eff"]; fields[k] == nil || k == "jar" && !split || k != "product" && fields["product"] != nil {
			continue
		}
		parts = append(parts, fmt.Sprint(fields[k]))
	}
	if len(parts) == 0 {
		return strconv.Itoa(i)
	}
	return strings.Join(parts, "/")
}

// hold compares what is wanted with what the program found, to a relative
// difference, and returns the number of figures compared.
func hold(t *testing.T, want, got map[string]float64, within float64) int {
	t.Helper()
	wrong := 0
	for key, w := range want {
		g, known := got[key]
		if !known || !(math.Abs(g-w) <= within*math.Max(math.Abs(w), 1)) {
			if wrong++; wrong <= 20 {
				t.Errorf("%s: %v (known %v), there %v", key, g, known, w)
			}
		}
	}
	if wrong > 20 {
		t.Errorf("and %d more", wrong-20)
	}
	return len(want)
}

func outside(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("testdata", "outside", name))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func textOf(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(outside(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// bookRead is the book of a file of tables as text, by way of a workbook.
func bookRead(t *testing.T, path string, today day.Date) *book.Book {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	bookOf(t, path+".xlsx", string(text), nil)
	b, err := ingest.Read(t.Context(), path+".xlsx", ingest.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// known is the values of the figures that have one.
func known(figures map[string]*calc.Figure) map[string]float64 {
	out := map[string]float64{}
	for key, f := range figures {
		if v, ok := f.Value(); ok {
			out[key] = v
		}
	}
	return out
}

// exactly compares what is wanted with what the program found, which may hold
// nothing else.
func exactly(t *testing.T, want, got map[string]float64) {
	t.Helper()
	hold(t, want, got, 1e-9)
	for key, v := range got {
		if _, wanted := want[key]; !wanted {
			t.Errorf("%s: %v, unknown there", key, v)
		}
	}
}
