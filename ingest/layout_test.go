package ingest

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/book"
	"pourbook/ingest/grid"
)

// with is the clean book with another sheet in place of one.
func with(name string, other sheet) []sheet {
	out := cleanBook()
	for i := range out {
		if out[i].name == name {
			out[i] = other
		}
	}
	return out
}

// fitted reads a book, answers the first question for as long as there is one,
// by the answers in order, and saves the layout each time.
func fitted(t *testing.T, path string, answers ...string) {
	t.Helper()
	for _, a := range answers {
		f, err := Fit(context.Background(), path, Options{Today: today})
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Questions) == 0 {
			t.Fatalf("no question left for %q", a)
		}
		i := slices.Index(f.Questions[0].Choices, a)
		if i < 0 {
			t.Fatalf("%s %v: %q is none of %q", f.Questions[0].Key, f.Questions[0].Args, a, f.Questions[0].Choices)
		}
		f.Answer(0, i)
		if err := os.WriteFile(f.Path, f.Text(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := Fit(context.Background(), path, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range f.Questions {
		t.Errorf("asked again: %s %v %q", q.Key, q.Args, q.Choices)
	}
}

func TestFitAsksWhatDecides(t *testing.T) {
	want := plain(readBook(t, cleanBook()...))
	sales := cleanBook()[8].rows
	for name, c := range map[string]struct {
		sheets  []sheet
		answers []string
	}{
		"nothing": {cleanBook(), nil},
		"two headings": {
			with("Sales", sheet{name: "Sales", rows: strings.Replace(strings.ReplaceAll(sales, "\n2026", "\n7|2026"), "\ndate|", "\nquantity sold|date|", 1)}),
			nil,
		},
		"two as good": {
			with("Sales", sheet{name: "Sales", rows: strings.Replace(strings.Replace(strings.ReplaceAll(sales, "\n2026", "\n7|2026"), "\ndate|", "\nhow many|date|", 1), "|quantity|", "|units sold|", 1)}),
			[]string{"units sold"},
		},
		"own heading": {
			with("Sales", sheet{name: "Sales", rows: strings.Replace(sales, "|quantity|", "|went home with somebody|", 1)}),
			[]string{"went home with somebody"},
		},
		"fractions": {
			with("Channels", sheet{name: "Channels", rows: "channel|fee %|fee per order|cost per unit|wholesale\nWebsite|0.03|0.3|0.5|no\nShops||||yes"}),
			[]string{fractionsChoice},
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := writeBook(t, c.sheets...)
			fitted(t, path, c.answers...)
			got := plain(readFile(t, path))
			if d := cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")); d != "" {
				t.Error(d)
			}
		})
	}
}

// Headings in another language: the sheet's table, then each needed field. What
// can be left out is not asked for; the line with only a total is left out.
func TestFitAsksForForeignHeadings(t *testing.T) {
	path := writeBook(t, with("Sales", sheet{name: "Verkauft", rows: "Alles\n\n" + strings.Replace(strings.TrimSpace(cleanBook()[8].rows),
		"date|product|quantity|unit price|line total|discount|channel|order|customer|market",
		"Wann|Was|Menge|Preis|Gesamt|Rabatt|Weg|Auftrag|Kunde|Markt", 1)})...)
	fitted(t, path, "Sales", "Wann", "Was", "Menge", "Preis")
	b := readFile(t, path)
	only(t, b, "missing-field Verkauft!D7")
	if b.Sales.Len() != 4 || b.Sales.At(0).Qty.String() != "2" || b.Sales.At(0).Price.String() != "22" || b.Sales.At(3).Row != 8 {
		t.Errorf("sales: %+v", b.Sales)
	}
}

func TestFitAsksForTheTable(t *testing.T) {
	path := writeBook(t, with("Pours", sheet{name: "Sheet1", rows: "Date|Candle|Qty\n2026-09-10|LAV-8-C|20"})...)
	b := readFile(t, path)
	if b.Has(book.TPours) {
		t.Fatal("a table that fits two was taken for one")
	}
	only(t, b, "unknown-channel Sales!G6", "ambiguous-heading Sheet1!A1")
	fitted(t, path, "Pours")
	if b = readFile(t, path); len(b.Pours) != 1 || b.Pours[0].Units.V != 20 {
		t.Errorf("pours: %+v", b.Pours)
	}
}

func TestLayoutRoundTrip(t *testing.T) {
	l := &Layout{Sheets: []SheetLayout{
		{Sheet: "Sold: 1", Table: "Sales", Row: 4, Headings: []HeadingLayout{{Heading: "Date sold", Field: "date", Note: "sure"}, {Heading: "Qty #", Field: None}, {Heading: "yes", Field: Open}}},
		{Sheet: "Caf\u00e9 \"A\"", Table: None},
		{Sheet: "C", Table: "Channels", From: 3, To: 28, Fractions: []string{"Fee", "- x"}},
	}}
	got, fault := parseLayout(l.Text("my book.xlsx"))
	if fault != nil {
		t.Fatal(fault.Key, fault.Args)
	}
	for i := range l.Sheets {
		for j := range l.Sheets[i].Headings {
			got.Sheets[i].Headings[j].line = 0
		}
		got.Sheets[i].line = 0
	}
	if d := cmp.Diff(l, got, cmp.AllowUnexported(SheetLayout{}, HeadingLayout{})); d != "" {
		t.Error(d)
	}
}

func TestLayoutErrorsNameTheLine(t *testing.T) {
	for text, want := range map[string]struct {
		key  string
		line int
	}{
		"sheets:\n- sheet: A\n  table: Sails\n":                                {"layout-content", 3},
		"sheets:\n- sheet: A\n  table: Sales\n  headings:\n    Qty: quantum\n": {"layout-content", 5},
		"sheets:\n- table: Sales\n":                                            {"layout-content", 2},
		"sheets:\n- sheet: A\n  row: top\n":                                    {"layout-content", 3},
		"sheets:\n- sheet: A\n  columns: C-A\n":                                {"layout-content", 3},
		"sheets:\n- sheet: A\n  columns: A-5\n":                                {"layout-content", 3},
		"sheets:\n- sheet: A\n  colour: red\n":                                 {"layout-content", 3},
		"# c\nsheet: A\n":                                                      {"layout-content", 2},
		"sheets:\n- sheet: [A\n":                                               {"layout-yaml", 2},
		"sheets:\n\t- sheet: A\n":                                              {"layout-yaml", 2},
		"just words":                                                           {"layout-content", 1},
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, "x.layout.yaml")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := ReadLayout(path)
		var f *grid.Fault
		if !errors.As(err, &f) {
			t.Errorf("%q: no fault but %v", text, err)
			continue
		}
		if f.Key != want.key || f.Args[1] != want.line || f.Path != path {
			t.Errorf("%q: %s %v, want %s in line %d", text, f.Key, f.Args, want.key, want.line)
		}
	}
	if _, err := ReadLayout(filepath.Join(t.TempDir(), "none.yaml")); err == nil {
		t.Error("a missing layout file is no error")
	}
}

func TestLayoutThatNoLongerFits(t *testing.T) {
	path := writeBook(t, cleanBook()...)
	text := "sheets:\n- sheet: Sales\n  table: none\n- sheet: Gone\n  table: Pours\n- sheet: Jars\n  table: Jars\n  row: 1\n"
	if err := os.WriteFile(LayoutPath(path), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	b := readFile(t, path)
	only(t, b, "unread-sheet Gone")
	if b.Sales.Len() != 0 || len(b.Jars) != 2 {
		t.Errorf("%d sales, %d jars", b.Sales.Len(), len(b.Jars))
	}
}

// Tables side by side are read as before when the layout has been saved.
func TestFitKeepsTablesSideBySide(t *testing.T) {
	path := writeBook(t, sideBySide()...)
	before := plain(readFile(t, path))
	save(t, path)
	if d := cmp.Diff(strings.Split(before, "\n"), strings.Split(plain(readFile(t, path)), "\n")); d != "" {
		t.Error(d)
	}
}

// What is open in one of them is asked all the same; saved with or without its
// answer, neither that table nor its neighbor is lost.
func TestFitAsksOfTablesSideBySide(t *testing.T) {
	all := sideBySide()
	rename := func(from, to string) {
		for i := range all {
			all[i].rows = strings.Replace(all[i].rows, from, to, 1)
		}
	}
	rename("|fill %", "|Level")
	want := plain(readBook(t, all...))
	rename("|fill weight", "|Stuff")
	path := writeBook(t, all...)
	if got := asked(t, path, "fill weight / fill %"); !slices.Contains(got, "Stuff") || !slices.Contains(got, "Level") {
		t.Errorf("asked for a fill among %q", got)
	}
	names := func() (out []string) {
		for _, x := range readFile(t, path).Tables {
			out = append(out, string(x.Table)+" "+x.Heading.String())
		}
		slices.Sort(out)
		return out
	}
	before := names()
	save(t, path)
	if after := names(); !slices.Equal(before, after) || len(before) != 15 {
		t.Errorf("%q become %q", before, after)
	}
	fitted(t, path, "Stuff")
	if d := cmp.Diff(strings.Split(want, "\n"), strings.Split(plain(readFile(t, path)), "\n")); d != "" {
		t.Error(d)
	}
}

// save writes the layout of a book without answers.
func save(t *testing.T, path string) {
	t.Helper()
	f, err := Fit(context.Background(), path, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(f.Path, f.Text(), 0o600); err != nil {
		t.Fatal(err)
	}
}

// A table that the layout gives columns leaves the rest of its row alone.
func TestLayoutOfSomeColumns(t *testing.T) {
	path := writeBook(t, sideBySide()...)
	before := plain(readFile(t, path))
	for text, left := range map[string]string{
		"- sheet: Two\n  table: Jars\n  row: 1\n  columns: A-F\n": "",
		"- sheet: Two\n  table: none\n  row: 1\n  columns: a-f\n": "Jars",
		"- sheet: Five\n  table: Stock counts\n  columns: F-H\n":  "",
	} {
		if err := os.WriteFile(LayoutPath(path), []byte("sheets:\n"+text), 0o600); err != nil {
			t.Fatal(err)
		}
		b := readFile(t, path)
		if got := plain(b); left == "" && got != before {
			t.Error(text, cmp.Diff(strings.Split(before, "\n"), strings.Split(got, "\n")))
		}
		if left != "" && (b.Has(book.TableName(left)) || !b.Has(book.TJarParts)) {
			t.Errorf("%s: %v", text, b.Tables)
		}
	}
}
