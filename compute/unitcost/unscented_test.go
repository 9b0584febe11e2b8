package unitcost

import (
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

func TestRecipesWithoutFragranceAreTold(t *testing.T) {
	recipe := func(name string, kinds ...book.Kind) *book.Recipe {
		x := &book.Recipe{Name: cell.Text{V: name, At: cell.Ref{Sheet: "Recipes", Row: 4, Col: 1}}}
		for _, k := range kinds {
			x.Ingredients = append(x.Ingredients, book.Ingredient{Material: &book.Material{Kind: k}})
		}
		return x
	}
	scented, plain, bare := recipe("Rose", book.Wax, book.Fragrance), recipe("Plain", book.Wax, book.Dye), recipe("Bare", book.Wax)
	broken := recipe("Broken", book.Wax)
	broken.LeftOut = []book.LeftOut{{Kind: book.Fragrance}}
	for name, x := range map[string]struct {
		recipes []*book.Recipe
		want    string
	}{
		"some":            {[]*book.Recipe{scented, plain, plain, bare}, "note no-fragrance Bare, note no-fragrance Plain"},
		"all":             {[]*book.Recipe{plain, bare, plain}, "warning no-fragrance-at-all Plain"},
		"one":             {[]*book.Recipe{bare}, "warning no-fragrance-at-all Bare"},
		"a row left out":  {[]*book.Recipe{broken}, ""},
		"not read at all": {[]*book.Recipe{recipe("Empty"), scented, nil}, ""},
	} {
		var products []*book.Product
		for _, r := range x.recipes {
			products = append(products, &book.Product{Recipe: r})
		}
		var found problem.List
		NoteUnscented(&found, products)
		var got []string
		for _, p := range found.Sorted() {
			got = append(got, string(p.Severity)+" "+p.Say+" "+p.Args[1].(string))
		}
		if strings.Join(got, ", ") != x.want {
			t.Errorf("%s: %v, want %s", name, got, x.want)
		}
	}
}
