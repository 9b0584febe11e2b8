package ingest

import (
	"testing"

	"pourbook/templates"
)

func FuzzLayout(f *testing.F) {
	for _, s := range []string{
		"", "book: x.xlsx\nsheets:\n- sheet: Sales\n  table: Sales\n  row: 3\n  headings:\n    Qty: quantity\n    Note: none\n    What: ?\n  fractions:\n  - load\n",
		"sheets: [{sheet: A, table: none}]", "sheets:\n- table: Sales", "a: &x [*x]", "? [a]\n: b", "- - -", "\"", "sheets: !!binary x", "sheets:\n- sheet: |\n    a\n   b", "\t",
		"sheets:\n- sheet: 1e9\n  row: 99999999999999999999", "<<: *a", "--- a\n--- b\n...", "{", "sheets: {a: b}", "book", "# only words", "\x00", "\xff",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, fault := parseLayout([]byte(s))
		if fault != nil {
			if !templates.Has("file." + fault.Key) {
				t.Errorf("no words for %q", fault.Key)
			}
			return
		}
		again, fault := parseLayout(l.Text("book.xlsx"))
		if fault != nil {
			t.Fatalf("%q was written as\n%s\nwhich is %v", s, l.Text("book.xlsx"), fault)
		}
		if a, b := string(l.Text("b")), string(again.Text("b")); a != b {
			t.Errorf("%q was written as\n%s\nand then as\n%s", s, a, b)
		}
	})
}

func FuzzHeading(f *testing.F) {
	for _, s := range []string{"Unit price (USD)", "Price per lb", "oz/lb", "Qty.", "a/b/c", "No. of drops", "", "(", "per", "Crème (g", "\xff", "🕯"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, heading, name string) {
		words().isHeading(heading)
		for _, table := range AcceptedTables() {
			words().field(table.Table, heading)
		}
		if got := Nearest(name, []string{heading, "Lavender", ""}); got != "" && got != heading && got != "Lavender" {
			t.Errorf("%q is near %q", name, got)
		}
	})
}
