package demo

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTheSameRowsEveryTime(t *testing.T) {
	if d := cmp.Diff(Sheets(), Sheets()); d != "" {
		t.Error(d)
	}
}

func TestTwoYearsOfBelievableSales(t *testing.T) {
	byMonth := map[string]int{}
	finish := map[byte]int{}
	for _, sheet := range Sheets() {
		if sheet.Name != "Sales" {
			continue
		}
		for _, r := range sheet.Rows {
			byMonth[r[0][:7]]++
			finish[r[5][len(r[5])-1]]++
		}
	}
	if len(byMonth) != 25 {
		t.Errorf("sales in %d months", len(byMonth))
	}
	if byMonth["2025-12"] < 2*byMonth["2025-07"] {
		t.Errorf("December 2025 has %d lines, July %d: no winter peak", byMonth["2025-12"], byMonth["2025-07"])
	}
	if ratio := float64(finish['C']) / float64(finish['N']); ratio < 2.5 || ratio > 7 {
		t.Errorf("colored to natural lines %.1f : 1", ratio)
	}
	t.Log(byMonth, finish)
}
