package bench

import (
	"slices"
	"testing"
)

// What a change-over takes, and which of equal orders a day has, as the trade
// does it (common practice, no source).
func TestChangeovers(t *testing.T) {
	s := &Shop{Wipe: 5, Wash: 15, Kinds: []Kind{
		{Recipe: 0, Natural: true}, {Recipe: 0, Dye: 1, Drops: 3}, {Recipe: 1, Natural: true}, {Recipe: 1, Dye: 2, Drops: 1}, {Recipe: 2, Dye: 1, Drops: 2},
	}}
	for _, x := range []struct {
		from, to int
		want     float64
	}{
		{0, 0, 0}, {0, 1, 0}, {1, 0, 15}, {0, 2, 5}, {0, 3, 5}, {1, 2, 15}, {1, 3, 15}, {1, 4, 5}, {3, 2, 15},
	} {
		if got := s.Changeover(x.from, x.to); got != x.want {
			t.Errorf("from %d to %d takes %v minutes, want %v", x.from, x.to, got, x.want)
		}
	}
	for _, x := range []struct{ kinds, want []int }{{[]int{1, 3}, []int{3, 1}}, {[]int{2, 0}, []int{0, 2}}, {[]int{3, 0}, []int{0, 3}}} {
		if _, got := s.Sequence(x.kinds); !slices.Equal(got, x.want) {
			t.Errorf("%v in the order %v, want %v", x.kinds, got, x.want)
		}
	}
}
