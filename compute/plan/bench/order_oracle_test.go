package bench

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pourbook/compute/oracle"
)

// placeModel gives every kind of a day a place. Without minutes the least of
// change-overs is wanted; with them, of the orders that take so long the first one
// by the kinds' ranks.
func placeModel(s *Shop, ranked []int, minutes float64) string {
	n := len(s.Kinds)
	m := &model{}
	at := func(place, kind int) string { return fmt.Sprintf("z%d_%d", place, kind) }
	var change, rank []string
	for i := range n {
		var place, kind []string
		for j := range n {
			rank = append(rank, term(math.Pow(float64(n), float64(n-1-i))*float64(slices.Index(ranked, j)), m.integer(at(i, j), 1)))
			place, kind = append(place, term(1, at(i, j))), append(kind, term(1, at(j, i)))
		}
		m.row(place, "=", 1)
		m.row(kind, "=", 1)
	}
	for i := range n - 1 {
		for a := range n {
			for b := range n {
				if c := cleaned(s, s.Kinds[a], s.Kinds[b]); a != b && c > 0 {
					x := fmt.Sprintf("x%d_%d_%d", i, a, b)
					m.bounds = append(m.bounds, " 0 <= "+x+" <= 1")
					change = append(change, term(c, x))
					m.row([]string{term(1, x), term(-1, at(i, a)), term(-1, at(i+1, b))}, ">=", -1)
				}
			}
		}
	}
	m.goal = change
	if minutes >= 0 {
		m.row(change, "<=", minutes)
		m.goal = rank
	}
	return m.text("Minimize")
}

// Days of up to five kinds: the minutes of change-over, the pitcher's state told
// anew, and which of the orders that take the fewest comes first.
func TestEqualOrdersAgainstGLPK(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	const days = 30
	for range days {
		s := &Shop{Wipe: float64(1 + rng.IntN(5)), Wash: float64(6 + rng.IntN(9))}
		var kinds []int
		for r := range 4 {
			for _, natural := range []bool{true, false}[rng.IntN(2) : 1+rng.IntN(2)] {
				k := Kind{Recipe: r, Natural: natural}
				if !natural {
					k.Dye, k.Drops = 1+rng.IntN(2), float64(rng.IntN(1000))
				} else {
					k.Drops = -float64(rng.IntN(1000)) // tells the natural ones apart
				}
				if len(kinds) < 5 {
					s.Kinds, kinds = append(s.Kinds, k), append(kinds, len(kinds))
				}
			}
		}
		ranked := slices.Clone(kinds) // natural before colored, then fewer drops
		slices.SortFunc(ranked, func(a, b int) int {
			x, y := s.Kinds[a], s.Kinds[b]
			return cmp.Or(cmp.Compare(x.Dye, 0)-cmp.Compare(y.Dye, 0), cmp.Compare(x.Drops, y.Drops))
		})
		want, ok := glpsol(t, placeModel(s, ranked, -1))
		got, order := s.Sequence(kinds)
		if !ok || math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: %v minutes, GLPK %v", s.Kinds, got, want)
		}
		first, ok := glpsol(t, placeModel(s, ranked, want))
		place := 0
		for _, k := range order {
			place = place*len(kinds) + slices.Index(ranked, k)
		}
		if !ok || math.Round(first) != float64(place) {
			t.Errorf("%v: the order %v is number %d, GLPK's first is %v", s.Kinds, order, place, first)
		}
	}
	oracle.Cases(t, 2*days)
}
