package ingest

import (
	"slices"
	"strings"
	"testing"
)

// An amount that does not say for how much wax is told how to say it.
func TestAmountsOfABatch(t *testing.T) {
	for amount, want := range map[string]string{
		"2 oz": "bad-unit.batch C3", "50 g": "bad-unit.batch C3", "12 drops": "bad-unit.batch C3", "2 cups": "bad-unit C3",
	} {
		sheets := cleanBook()
		i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == "Recipes" })
		sheets[i].rows = strings.Replace(sheets[i].rows, "8|% of wax", amount+"|", 1)
		if got := found(readBook(t, sheets...), "Recipes"); !slices.Contains(got, want) {
			t.Errorf("%s: %q, want %s", amount, got, want)
		}
	}
}
