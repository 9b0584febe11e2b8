package bench

import (
	"testing"

	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

// Data set P01 of the knapsack test data by J. Burkardt: capacity 165, optimum
// 309 with the items 1, 2, 3, 4 and 6. Here the capacity is the minutes of the
// only evening, and each item one candle of its own recipe.
func TestKnapsackP01(t *testing.T) {
	weights := []float64{23, 31, 29, 44, 53, 38, 63, 85, 89, 82}
	profits := []float64{92, 57, 49, 68, 60, 43, 67, 84, 87, 72}
	s := &Shop{Days: []day.Date{0}, Minutes: 165, Pitcher: 1000}
	for i, w := range weights {
		s.Kinds = append(s.Kinds, Kind{Recipe: i, Natural: true})
		s.Batches = append(s.Batches, Batch{Kind: i, Items: []Item{{Sort: Sort{1, 100, w}, Worth: profits[i : i+1]}}})
	}
	k := s.Keep(0)
	if k.Worth != 309 || !k.Exact {
		t.Errorf("worth %v, exact %v; the optimum is 309", k.Worth, k.Exact)
	}
	for i := range weights {
		want := 0
		if i < 4 || i == 5 {
			want = 1
		}
		if k.Started[i][0] != want {
			t.Errorf("item %d: %d", i+1, k.Started[i][0])
		}
	}
	if b := s.Bound(309); b < 309 || b > 330 {
		t.Errorf("bound %v", b)
	}
	filled := s.newKeeper()
	filled.appraise()
	filled.fill()
	filled.improve(20_000)
	if filled.worth() != 309 {
		t.Errorf("filled for %v", filled.worth())
	}
	oracle.Cases(t, 1+len(weights))
}
