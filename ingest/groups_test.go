package ingest

import (
	"slices"
	"strings"
	"testing"
)

// A row above the headings that names groups of them is no table of its own.
func TestGroupsAboveHeadings(t *testing.T) {
	for sheetName, groups := range map[string]string{
		"Materials": "||Bought from||Cost|Stock",
		"Sales":     "When||What||Money",
		"Jars":      "Vessel|Size",
	} {
		sheets := cleanBook()
		i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == sheetName })
		tables := len(readBook(t, sheets...).Tables)
		sheets[i].rows = groups + "\n" + strings.TrimSpace(sheets[i].rows)
		b := readBook(t, sheets...)
		if len(b.Tables) != tables {
			t.Errorf("%s: %d tables, want %d", sheetName, len(b.Tables), tables)
		}
		for _, p := range b.Problems.Sorted() {
			if strings.HasPrefix(p.At.Sheet, sheetName) && p.Code != "unknown-channel" {
				t.Errorf("%s: %v", sheetName, p)
			}
		}
	}
}
