package ingest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pourbook/compute/book"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

// Books beyond a limit are refused with the place at which they came to it.
func TestBooksBeyondTheLimits(t *testing.T) {
	lines := func(head string, n int, row func(i int) string) string {
		var b strings.Builder
		b.WriteString(head + "\n")
		for i := range n {
			b.WriteString(row(i) + "\n")
		}
		return b.String()
	}
	for name, c := range map[string]struct {
		text       string
		key, place string
	}{
		"rows of a table without end": {
			lines("Materials\n\nMaterial,Kind,Unit,Density,Supplier", 250_000, func(i int) string { return fmt.Sprintf("m%d,dye,g,1,s", i) }),
			"too-many-cells", "big.csv!A3",
		},
		"headings again and again": {
			lines("Material,Kind,Unit", 2*maxTables, func(i int) string {
				return "Materials\n\nMaterial,Kind,Unit,Density,Supplier\nm,wax,g,1,s\n\nJars\n\nJar,Capacity\nj,12 oz\n"
			}),
			"too-many-tables", "big.csv!A",
		},
		"nothing that can be read": {
			lines("Date,Product,Quantity,Unit price", maxProblems/2, func(i int) string { return fmt.Sprintf("31/31/2026,P,q%d,p", i) }),
			"too-many-problems", "big.csv!",
		},
		"a name in every line": {
			lines("Date,Product,Quantity,Unit price", maxNames+10, func(i int) string { return fmt.Sprintf("2026-10-01,P%d,1,2", i) }),
			"too-many-names", "big.csv!B",
		},
	} {
		path := filepath.Join(t.TempDir(), "big.csv")
		if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := Read(context.Background(), path, Options{})
		var f *grid.Fault
		if !errors.As(err, &f) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		said := templates.Text("file."+f.Key, f.Args...)
		if f.Key != c.key || f.Path != path || !strings.Contains(said, c.place) || !templates.Has("file."+f.Key+".hint") {
			t.Errorf("%s: %s at %s: %q", name, f.Key, f.Path, said)
		}
	}
}

// A long sheet of other things is no fault: the tables above it are read, the
// search for headings below ends after a while, and a problem says where.
func TestLongSheetOfOtherThings(t *testing.T) {
	const above, below = "Seasons\n\nSeason,Starts\nWinter,12-01\n\n", "\nOverheads\n\nOverhead,Per month\nRent,100\n"
	like := func(i int) string { return fmt.Sprintf("Kind,poem of %s", word(i)) }
	for name, c := range map[string]struct {
		above string
		rows  int
		row   func(i int) string
		at    string // where the search ends
	}{
		"rows like headings": {"", maxTries + 100, like, fmt.Sprint("book.csv!A", maxTries+1)},
		"as many as are met": {"", maxTries - 100, like, ""},
		// The headings of the table above are two of the texts.
		"texts": {above, maxTexts/2 + 100, func(i int) string { return fmt.Sprintf("a note %s,another %[1]s", word(i)) }, fmt.Sprint("book.csv!A", 5+maxTexts/2)},
	} {
		t.Run(name, func(t *testing.T) {
			var b strings.Builder
			b.WriteString(c.above)
			for i := range c.rows {
				b.WriteString(c.row(i) + "\n")
			}
			path := filepath.Join(t.TempDir(), "book.csv")
			if err := os.WriteFile(path, []byte(b.String()+below), 0o600); err != nil {
				t.Fatal(err)
			}
			got, err := Read(context.Background(), path, Options{})
			if err != nil || got.Has(book.TSeasons) != (c.above != "") || got.Has(book.TOverheads) != (c.at == "") {
				t.Errorf("%v, %v", err, got.Tables)
			}
			at := ""
			for _, p := range got.Problems.Sorted() {
				if p.Code == problem.UnreadSheet && p.Say == "search" {
					at += p.At.String()
				}
			}
			if at != c.at {
				t.Errorf("the search ends at %q, want %q", at, c.at)
			}
		})
	}
}

// word is a text of letters that differs for every number.
func word(i int) string {
	s := ""
	for ; i > 0; i /= 26 {
		s += string(rune('a' + i%26))
	}
	return s
}

// Very long texts are not compared letter by letter.
func TestNearestOfLongTexts(t *testing.T) {
	long := strings.Repeat("beeswax ", 4_000)
	begun := time.Now()
	for range 1_000 {
		if got := Nearest(long+"a", []string{long + "b", "Oak"}); got != "" {
			t.Fatal(got)
		}
	}
	if took := time.Since(begun); took > 5*time.Second {
		t.Errorf("1000 comparisons took %v", took)
	}
}
