package ingest

import (
	"fmt"
	"math/rand"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// wildLayout is a layout file that somebody could write by hand who has it all
// mixed up.
func wildLayout(rnd *rand.Rand, sheets []sheet) string {
	headings := []string{"date", "Piece", "Pcs", "material", "quantity", "jar", "Jar", "recipe", "Container", "Zeug", "Menge", "gone", "kind", "name"}
	tables := append(tableNames(), None, Open)
	var s strings.Builder
	s.WriteString("sheets:\n")
	for range rnd.Intn(6) {
		name, table := sheets[rnd.Intn(len(sheets))].name, tables[rnd.Intn(len(tables))]
		if i := rnd.Intn(len(specs) * 2); i < len(specs) {
			name, table = string(specs[i].name), string(specs[i].name)
		}
		if rnd.Intn(6) == 0 {
			name += "x"
		}
		fmt.Fprintf(&s, "- sheet: %q\n  table: %q\n", name, table)
		if rnd.Intn(3) == 0 {
			fmt.Fprintf(&s, "  row: %d\n", 1+rnd.Intn(5))
		}
		if rnd.Intn(3) == 0 {
			fmt.Fprintf(&s, "  columns: %s\n", []string{"A-C", "B-D", "ZZ-AAA", "C", "A-Z"}[rnd.Intn(5)])
		}
		fields := []string{None, Open}
		for _, x := range specs {
			if string(x.name) == table {
				fields = append(fields, x.fields()...)
			}
		}
		fmt.Fprintln(&s, "  headings:")
		for _, i := range rnd.Perm(len(headings))[:rnd.Intn(5)] {
			fmt.Fprintf(&s, "    %q: %q\n", headings[i], fields[rnd.Intn(len(fields))])
		}
	}
	return s.String()
}

// Whatever stands in a layout file, a book is read as before when fit has saved
// it, and saving it again and again changes nothing.
func TestFitSettlesOnAnyLayout(t *testing.T) {
	rnd := rand.New(rand.NewSource(12))
	for n := range 60 {
		sheets := [][]sheet{cleanBook(), sideBySide(), lids(), ownPurchases()}[n%4]
		text := wildLayout(rnd, sheets)
		path := writeBook(t, sheets...)
		if err := os.WriteFile(LayoutPath(path), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		save(t, path)
		read := plain(readFile(t, path))
		save(t, path)
		before := fileOf(t, path)
		save(t, path)
		if after := fileOf(t, path); after != before {
			t.Errorf("%s\nis not steady: %s", text, cmp.Diff(strings.Split(before, "\n"), strings.Split(after, "\n")))
		}
		if again := plain(readFile(t, path)); again != read {
			t.Errorf("%s\nis read otherwise: %s", text, cmp.Diff(strings.Split(read, "\n"), strings.Split(again, "\n")))
		}
	}
}
