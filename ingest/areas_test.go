package ingest

import (
	"slices"
	"strings"
	"testing"
)

// areasOf are the areas of a sheet of overheads that are said not to be read.
func areasOf(t *testing.T, rows string) string {
	t.Helper()
	b := readBook(t, with("Overheads", sheet{name: "Overheads", rows: rows})...)
	var out []string
	for _, p := range b.Problems.Sorted() {
		if p.Say == "area" && p.At.Sheet == "Overheads" {
			i := slices.Index(p.Args, any("area"))
			out = append(out, p.Args[i+1].(string))
		}
	}
	return strings.Join(out, " ")
}

// What stands in no table is said, once for each area; titles and remarks are not.
func TestAreasThatAreInNoTable(t *testing.T) {
	for name, x := range map[string]struct{ rows, want string }{
		"all read":        {"name|amount per month\nRent|180\nSite|29", ""},
		"above":           {"My bench|big\nIts height|90\nIts light|good\n\nname|amount per month\nRent|180\nSite|29", "A1:B3"},
		"beside":          {"name|amount per month\nRent|180||upper|12\nSite|29||lower|9", "D2:E3"},
		"below and right": {"name|amount per month\nRent|180||upper|12|x\nSite|29\n|||lower|9", "D2:F4"},
		"remarks":         {"My bills of the year\n\nname|amount per month\nRent|180||rises in May\nSite|29||cheap\n\nask the landlord", ""},
		"one line":        {"As of|2026\n\nname|amount per month\nRent|180\nSite|29||see|there", ""},
	} {
		if got := areasOf(t, x.rows); got != x.want {
			t.Errorf("%s: %q, want %q", name, got, x.want)
		}
	}
}
