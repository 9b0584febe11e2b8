package ingest

import (
	"slices"
	"testing"
)

// A table with one line per scent, or with an ingredient in a column of its own,
// is told how a recipe is written.
func TestIngredientsInColumns(t *testing.T) {
	b := readBook(t, with("Recipes", sheet{name: "Recipes", rows: "Scent|Material|Amount|Per|Oil|Load %|Colorant|Cure (days)|Notes\n" +
		"Lavender|Soy wax|1|parts|Lavender oil|8|Red dye|14|dark\nPlain|Soy wax|1|parts||||14|Soy wax only"})...)
	if got := found(b, "Recipes"); !slices.Contains(got, "ambiguous-heading.ingredients E1") {
		t.Error(got)
	}
	b = readBook(t, cleanBook()...)
	if got := found(b, "Recipes"); len(got) > 0 {
		t.Error(got)
	}
}
