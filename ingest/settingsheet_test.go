package ingest

import (
	"slices"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/unit"
)

// settingsUnder is the clean book with its settings on a sheet of any name,
// under other headings.
func settingsUnder(name, headings string) []sheet {
	sheets := cleanBook()
	i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == "Settings" })
	sheets[i].name, sheets[i].rows = name, strings.Replace(strings.TrimSpace(sheets[i].rows), "name|value", headings, 1)
	return sheets
}

func TestSettingsKnownByTheirNames(t *testing.T) {
	for _, headings := range []string{
		"What|Amount", "Item|Value", "Setting|Setting value", "Name|Amount", "Thing|How much|Why", "How I work|\nWhat|Amount",
	} {
		b := readBook(t, settingsUnder("Basics", headings)...)
		only(t, b, "unknown-channel Sales!G6")
		settingsOf(t, b)
	}
}

// Settings without headings are known too, from their first row on; a layout
// that is saved leaves them to be known again.
func TestSettingsWithoutHeadings(t *testing.T) {
	sheets := settingsUnder("Numbers I use", "")
	i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == "Numbers I use" })
	sheets[i].rows = strings.TrimSpace(sheets[i].rows)
	path := writeBook(t, sheets...)
	for range 2 {
		b := readFile(t, path)
		only(t, b, "unknown-channel Sales!G6")
		settingsOf(t, b)
		save(t, path)
	}
}

func TestOtherSheetsAreNoSettings(t *testing.T) {
	for what, s := range map[string]sheet{
		"few names are settings": {name: "Basics", rows: "What|Amount\nTarget margin|55\nRent|300\nStall cloth|20\nVan|80"},
		"few, without headings":  {name: "Basics", rows: "Target margin|55\nRent|300\nStall cloth|20\nVan|80"},
		"explained":              {name: "Basics", rows: "Word|Meaning\nPour loss|wax that stays in the pitcher\nReject rate|candles that cannot be sold"},
		"the book has Settings":  {name: "Basics", rows: "What|Amount\nTarget margin|55\nPour loss|3"},
	} {
		sheets := append([]sheet{s}, cleanBook()...)
		if what != "the book has Settings" {
			sheets = slices.DeleteFunc(sheets, func(s sheet) bool { return s.name == "Settings" })
		}
		b := readBook(t, sheets...)
		only(t, b, "unknown-channel Sales!G6", "unread-sheet Basics")
		if s := b.Settings.Num(book.TargetMargin); s.V != 0.6 {
			t.Errorf("%s: target margin %v", what, s)
		}
	}
}

func TestSettingsInMakersWords(t *testing.T) {
	sheets := slices.DeleteFunc(cleanBook(), func(s sheet) bool { return s.name == "Settings" })
	b := readBook(t, append(sheets, sheet{name: "My numbers", rows: "What|Amount\nMy hourly pay|$16\nRent + insurance per month|180\nHours I work per month|50\nPot holds|4 lb"})...)
	only(t, b, "unknown-channel Sales!G6")
	for name, want := range map[book.Setting]float64{
		book.LaborRate: 16, book.OverheadMonth: 180, book.ProductiveHours: 50, book.Pitcher: 4 * unit.GramsPerPound,
	} {
		if got := b.Settings.Num(name); !close3(got.V, want) {
			t.Errorf("%s = %v, want %v", name, got.V, want)
		}
	}
}
