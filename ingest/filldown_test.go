package ingest

import (
	"strings"
	"testing"

	"pourbook/compute/book"
)

func ingredients(b *book.Book) string {
	var out []string
	for _, x := range b.Recipes {
		line := x.Name.V + ":"
		for _, i := range x.Ingredients {
			line += " " + i.Material.Name.V
		}
		out = append(out, line)
	}
	return strings.Join(out, "; ")
}

func TestRecipeNamesWrittenOnce(t *testing.T) {
	const all = "Lavender: Soy wax Lavender oil Red dye; Plain: Soy wax Lavender oil"
	for what, c := range map[string]struct {
		rows, ingredients string
		problems          []string
	}{
		"once": {
			"recipe|material|amount|per\nLavender|Soy wax|1|parts\n|Lavender oil|8|% of wax\n|Red dye|6|drops/lb\nPlain|Soy wax|1|parts\n|Lavender oil|6|% of wax",
			all,
			[]string{"missing-field Recipes!A3"},
		},
		"once, in the last column": {
			"material|amount|per|recipe\nSoy wax|1|parts|Lavender\nLavender oil|8|% of wax\nRed dye|6|drops/lb\nSoy wax|1|parts|Plain\nLavender oil|6|% of wax",
			all,
			[]string{"missing-field Recipes!D3"},
		},
		"a blank row parts": {
			"recipe|material|amount|per\nLavender|Soy wax|1|parts\n|Lavender oil|8|% of wax\n\n|Red dye|6|drops/lb\nPlain|Soy wax|1|parts",
			"Lavender: Soy wax Lavender oil; Plain: Soy wax",
			[]string{"missing-field Recipes!A3", "missing-field Recipes!A5"},
		},
		"once in each of two places": {
			"recipe|material|amount|per\nLavender|Soy wax|1|parts\n|Lavender oil|8|% of wax\n\nPlain|Soy wax|1|parts\n|Lavender oil|6|% of wax\n\nLavender|Red dye|6|drops/lb",
			all,
			[]string{"missing-field Recipes!A3"},
		},
		"nothing above": {
			"recipe|material|amount|per\n|Soy wax|1|parts\nLavender|Soy wax|1|parts\n|Lavender oil|8|% of wax",
			"Lavender: Soy wax Lavender oil",
			[]string{"missing-field Recipes!A2", "missing-field Recipes!A4"},
		},
		"repeated, and one forgotten": {
			"recipe|material|amount|per\nLavender|Soy wax|1|parts\nLavender|Lavender oil|8|% of wax\n|Red dye|6|drops/lb",
			"Lavender: Soy wax Lavender oil",
			[]string{"missing-field Recipes!A4"},
		},
	} {
		sheets := cleanBook()
		for i := range sheets {
			if sheets[i].name == "Recipes" {
				sheets[i].rows = c.rows
			}
		}
		b := readBook(t, sheets...)
		if got := ingredients(b); got != c.ingredients {
			t.Errorf("%s: %s", what, got)
		}
		var got []string
		for _, p := range b.Problems.Sorted() {
			if p.At.Sheet == "Recipes" {
				got = append(got, string(p.Code)+" "+p.At.String())
			}
		}
		if strings.Join(got, ", ") != strings.Join(c.problems, ", ") {
			t.Errorf("%s: %v", what, got)
		}
	}
}

func TestJarNamesWrittenOnce(t *testing.T) {
	b := readBook(t, with("Jar parts", sheet{name: "Jar parts", rows: "jar|material|count|finish\nJar 8oz|Jar glass||\n|Wick 8|1|any\n|Lid|1|colored\nTin 4oz|Wick 8|2|\n|Shred|8 g|"})...)
	only(t, b, "unknown-channel Sales!G6", "missing-field Jar parts!A3")
	if len(b.Jars[0].Parts) != 3 || len(b.Jars[1].Parts) != 2 {
		t.Errorf("parts: %d and %d", len(b.Jars[0].Parts), len(b.Jars[1].Parts))
	}
}
