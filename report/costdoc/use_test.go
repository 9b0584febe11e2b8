package costdoc

import (
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cost"
)

// The latest seasons are shown in every unit while they are few rows; the
// latest always.
func TestSeasonsInFull(t *testing.T) {
	for materials, want := range map[int]int{1: 4, 7: 14, 8: 16, 9: 9, 10: 10, 30: 30} {
		var use []cost.Use
		for year := range 4 {
			for range materials {
				use = append(use, cost.Use{Season: "Autumn", SeasonYear: 2023 + year, Kind: book.Dye, Grams: v(2), ML: v(1), Drops: v(40), Cost: v(3)})
			}
		}
		u := Of(&cost.Result{Currency: "USD", Period: october(), Use: use}).Use
		if n := len(u.Table.Rows); n != want || (u.Grams == nil) != (want == 4*materials) {
			t.Errorf("%d materials: %d rows in full, want %d; other seasons are shown: %v", materials, n, want, u.Grams != nil)
		}
	}
}
