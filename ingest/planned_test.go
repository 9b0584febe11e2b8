package ingest

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Of two tables side by side one may have a heading that is not understood: both
// are found, it is asked for, and both stay when the layout is saved.
func TestTablesBesideAnOpenQuestion(t *testing.T) {
	for name, c := range map[string]struct {
		sheet, from, to string
		tables          string
	}{
		"left":        {"Log", "|quantity|unit price", "|went home|unit price", "Sales A1, Purchases L3"},
		"right, same": {"Two", "|material|count", "|zeug|count", "Jars A1, Jar parts H1"},
		"right, down": {"Log", "|quantity|amount paid", "|mng|amount paid", "Sales A1, Purchases L3"},
		"right, late": {"Three", "|recipe|jar|finish", "|mix|jar|finish", "Recipes A1, Products M4"},
	} {
		t.Run(name, func(t *testing.T) {
			all := sideBySide()
			i := slices.IndexFunc(all, func(s sheet) bool { return s.name == c.sheet })
			all[i].rows = strings.Replace(all[i].rows, c.from, c.to, 1)
			path := writeBook(t, all...)
			tables := func() string {
				var out []string
				for _, x := range readFile(t, path).Tables {
					if x.Heading.Sheet == c.sheet {
						out = append(out, fmt.Sprint(x.Table, " ", x.Heading.Name()))
					}
				}
				return strings.Join(out, ", ")
			}
			if got := tables(); got != c.tables {
				t.Fatalf("found %s, want %s", got, c.tables)
			}
			rest := readFile(t, path)
			save(t, path)
			if got := tables(); got != c.tables {
				t.Errorf("with the layout %s, want %s", got, c.tables)
			}
			if got := plain(readFile(t, path)); got != plain(rest) {
				t.Errorf("with the layout %s\nwithout it %s", got, plain(rest))
			}
			fitted(t, path, strings.TrimPrefix(strings.Split(c.to, "|")[1], "|"))
		})
	}
}
