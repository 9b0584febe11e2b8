package ingest

import (
	"slices"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/unit"
)

// What a pack of pieces holds may be told as makers tell it.
func TestPackContents(t *testing.T) {
	for text, want := range map[string]float64{"case of 24": 24, "24/case": 24, "24 per box": 24, "24-pack": 24, "24 ct box": 24, "2 dozen case": 24, "Box of 1200 ct": 1200, "24": 24} {
		sheets := cleanBook()
		i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == "Materials" })
		sheets[i].rows = strings.Replace(sheets[i].rows, "|100 ct|", "|"+text+"|", 1)
		b := readBook(t, sheets...)
		only(t, b, "unknown-channel Sales!G6")
		m := b.Materials[slices.IndexFunc(b.Materials, func(m *book.Material) bool { return m.Name.V == "Wick 8" })]
		if m.Dim != unit.Count || m.Packs[0].Size.V != want || m.Packs[0].Size.Raw != text {
			t.Errorf("%q holds %v, typed as %q", text, m.Packs[0].Size.V, m.Packs[0].Size.Raw)
		}
	}
}

// A row of Materials without a name and a kind is a further size of the material
// above; one with a kind, below a blank row, or without a price is not.
func TestSizesBelowAMaterial(t *testing.T) {
	const rest = "\nLavender oil|fragrance|16 oz|30"
	for rows, want := range map[string]int{
		"Soy wax|wax|10 lb|32\n||50 lb|130":            2,
		"Soy wax|wax|10 lb|32\n\"|\"|50 lb|130":        2,
		"Soy wax|wax|10 lb|32\n\"|wax|50 lb|130":       2,
		"Soy wax|wax|10 lb|32\n||50 lb|130\n||5 lb|20": 3,
		"Soy wax|wax|10 lb|32\n|wax|50 lb|130":         1,
		"Soy wax|wax|10 lb|32\n\n||50 lb|130":          1,
		"Soy wax|wax|10 lb|32\n||50 lb|":               1,
	} {
		b := readBook(t, with("Materials", sheet{name: "Materials", rows: "name|kind|pack size|pack price\n" + rows + rest})...)
		told := slices.ContainsFunc(found(b, "Materials"), func(s string) bool { return strings.HasPrefix(s, "missing-field.sizes-below A3") })
		if b.Materials[0].Name.V != "Soy wax" || len(b.Materials[0].Packs) != want || told != (want > 1) {
			t.Errorf("%q: %d sizes of %q, told %v", rows, len(b.Materials[0].Packs), b.Materials[0].Name.V, told)
		}
	}
}

// Packs bought are of the size that stands beside them.
func TestPacksBoughtOfASize(t *testing.T) {
	const lb = 453.59237
	for _, c := range []struct {
		heads, row string
		want, pack float64
	}{
		{"packs|size", "2|5 lb", 10 * lb, 5 * lb},
		{"quantity|pack size", "2|5 lb", 10 * lb, 5 * lb},
		{"qty|pack size (lb)", "2|5", 10 * lb, 5 * lb},
		{"quantity|pack size", "2|", 20 * lb, 10 * lb},
		{"quantity|pack size", "2|10", 20 * lb, 10 * lb}, // of the material's own pack
		{"quantity|pack size", "3 lb|5 lb", 3 * lb, 0},
		{"quantity|pack size", "2 x 3 lb|5 lb", 6 * lb, 3 * lb},
		{"size|", "4 lb|", 4 * lb, 0},
	} {
		sheets := with("Materials", sheet{name: "Materials", rows: "name|kind|pack size|pack price\nSoy wax|wax|10 lb|32"})
		i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == "Purchases" })
		sheets[i].rows = "date|material|" + c.heads + "|amount paid\n2026-08-03|Soy wax|" + c.row + "|60"
		b := readBook(t, sheets...)
		if len(b.Purchases) != 1 {
			t.Errorf("%s %s: %q", c.heads, c.row, found(b, "Purchases"))
			continue
		}
		if p := b.Purchases[0]; p.Qty.V != c.want || p.Pack != c.pack {
			t.Errorf("%s %s: %v g, packs of %v", c.heads, c.row, p.Qty.V, p.Pack)
		}
	}
	sheets := cleanBook()
	i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == "Purchases" })
	sheets[i].rows = "date|material|quantity|pack size|amount paid\n2026-08-03|Soy wax|2|5 stone|60\n2026-08-03|Soy wax|2|0 lb|60"
	if b := readBook(t, sheets...); len(b.Purchases) != 0 || !slices.Equal(found(b, "Purchases"), []string{"bad-unit D2", "bad-unit.kind D3"}) {
		t.Errorf("%d purchases, %q", len(b.Purchases), found(b, "Purchases"))
	}
}
