package ingest

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// wholeBusiness is a book on one sheet: tables side by side and below each
// other, each under a title.
const wholeBusiness = `My whole business

SUPPLIES||||||||RECIPES
Supply|Category|Package|Price per package|Shipping|Left|||Blend|Ingredient|Amount|Unit
Soy|Wax|50 lb|98.00|22|41 lb|||Cedar|Soy|1|parts
Cedar FO|Fragrance|1 lb|26||10 oz|||Cedar|Cedar FO|8|% of wax
Blue dye|Dye (liquid)|2 fl oz|9||1 fl oz|||Cedar|Blue dye|5|drops/lb
8oz tin|Container|case of 48|52.80|14|60

TINS||||||||PARTS
Vessel|Fill|||||||Vessel|Part|Qty
8 oz tin|6.5 oz|||||||8 oz tin|8oz tin|1

PRODUCTS
Code|Blend|Vessel|Finish|Price
CED-C|Cedar|8 oz tin|Colored|16
CED-N|Cedar|8 oz tin|Natural|16

SALES 2026
Date|Code|Qty|Price
2026-10-03|CED-C|4|16
2026-10-09|CED-N|1|16
Total||5|`

func TestTitlesSideBySide(t *testing.T) {
	path := writeBook(t, sheet{name: "Everything", rows: wholeBusiness})
	const want = "Jar parts I11 1 0, Jars A11 1 0, Materials A4 4 0, Products A15 2 0, Recipes I4 3 0, Sales A20 2 0"
	for _, when := range []string{"without a layout", "with it"} {
		b := readFile(t, path)
		var got []string
		for _, x := range b.Tables {
			got = append(got, fmt.Sprint(x.Table, " ", x.Heading.Name(), " ", x.Rows, " ", x.LeftOut))
		}
		slices.Sort(got)
		if all := strings.Join(got, ", "); all != want {
			t.Errorf("%s: %s, want %s", when, all, want)
		}
		only(t, b, "totals-row Everything!A23")
		save(t, path)
	}
}

// Texts apart from one another that no headings follow are a row of the tables.
func TestTextsApartThatAreNoTitles(t *testing.T) {
	b := readBook(t, with("Burn tests", sheet{name: "Burn tests", rows: `
date|recipe|jar|finish|wick|result|note
2026-05-01|Lavender|Jar 8oz|colored|Wick 8|pass|

|Lavender||colored||fail|
2026-05-02|Lavender|Jar 8oz|natural|Wick 8|pass|`})...)
	if got := found(b, "Burn tests"); len(b.Burns) != 2 || len(got) == 0 || !strings.HasSuffix(got[0], "4") {
		t.Errorf("%d burn tests, %q", len(b.Burns), got)
	}
}
