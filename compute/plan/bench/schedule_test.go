package bench

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/day"
)

// orders calls f with every order of kinds.
func orders(kinds []int, f func([]int)) {
	var from func(n int)
	from = func(n int) {
		if n == len(kinds) {
			f(kinds)
			return
		}
		for i := n; i < len(kinds); i++ {
			kinds[n], kinds[i] = kinds[i], kinds[n]
			from(n + 1)
			kinds[n], kinds[i] = kinds[i], kinds[n]
		}
	}
	from(0)
}

func TestSequenceIsTheBestOfAllOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := &Shop{Wipe: float64(rapid.IntRange(0, 5).Draw(t, "wipe")), Wash: float64(rapid.IntRange(0, 12).Draw(t, "wash"))}
		var kinds []int
		for r := range rapid.IntRange(1, 3).Draw(t, "recipes") {
			dye := rapid.IntRange(1, 2).Draw(t, "dye")
			s.Kinds = append(s.Kinds, Kind{Recipe: r, Natural: true}, Kind{Recipe: r, Dye: dye, Drops: float64(rapid.IntRange(1, 3).Draw(t, "drops"))})
			kinds = append(kinds, 2*r, 2*r+1)
		}
		minutes, order := s.Sequence(kinds)
		took := func(order []int) float64 {
			m := 0.0
			for i := 1; i < len(order); i++ {
				m += s.Changeover(order[i-1], order[i])
			}
			return m
		}
		if took(order) != minutes {
			t.Fatalf("%v takes %v, not %v", order, took(order), minutes)
		}
		orders(slices.Clone(kinds), func(o []int) {
			switch m := took(o); {
			case m < minutes:
				t.Fatalf("%v takes %v, %v only %v", order, minutes, o, m)
			case m == minutes && slices.CompareFunc(o, order, s.rank) < 0:
				t.Fatalf("%v comes before %v: natural first, fewer drops first", o, order)
			}
		})
	})
}

// bestSchedule tries every day for every pour.
func bestSchedule(s *Shop, pours []Pour) (change float64, finish int) {
	change = math.Inf(1)
	b := s.newBoard(pours)
	var from func(i int)
	from = func(i int) {
		if i == len(b.pours) {
			if b.works() && (b.change < change-1e-9 || b.change < change+1e-9 && b.finish() < finish) {
				change, finish = b.change, b.finish()
			}
			return
		}
		for d := range b.lasts[i] {
			b.place(i, d)
			from(i + 1)
		}
		b.place(i, -1)
	}
	from(b.held)
	return change, finish
}

func TestSmallSchedulesAreTheBestOfAll(t *testing.T) {
	fit, not, changed := 0, 0, 0
	for seed := range uint64(400) {
		s := drawShop(seeded(seed), 3, 6, 4)
		s.Minutes += 60
		pours, ok := s.split(s.wanted())
		if !ok || len(pours) == 0 || len(pours) > 7 {
			continue
		}
		change, finish := bestSchedule(s, pours)
		got, ok := s.Schedule(pours)
		if ok == math.IsInf(change, 1) {
			t.Fatalf("seed %d: scheduled %v, best change-over %v", seed, ok, change)
		}
		if !ok {
			not++
			continue
		}
		fit++
		last, minutes := 0, 0.0
		ordered, changes := s.inOrder(got)
		for i, p := range ordered {
			last, minutes = max(last, p.Day+1), minutes+changes[i]
		}
		if math.Abs(minutes-change) > 1e-9 || last != finish {
			t.Fatalf("seed %d: change-overs %v, finish %d; the best is %v, %d", seed, minutes, last, change, finish)
		}
		if change > 0 {
			changed++
		}
	}
	if fit < 60 || not < 60 || changed < 15 {
		t.Errorf("%d fit, %d of them with change-overs, %d do not: too few to tell", fit, changed, not)
	}
}

// A plan for 12 evenings in which every recipe can have evenings of its own
// needs no change-over, which annealing has to find.
func TestLargeScheduleFindsEveningsWithoutChangeovers(t *testing.T) {
	s := &Shop{Minutes: 180, Pitcher: 1800, Wipe: 3, Wash: 10}
	for d := range 12 {
		s.Days = append(s.Days, day.Date(d))
	}
	for r := range 6 {
		s.Kinds = append(s.Kinds, Kind{Recipe: r, Natural: true}, Kind{Recipe: r, Dye: r + 1, Drops: 0.01})
		s.Batches = append(s.Batches,
			Batch{Kind: 2 * r, Due: 11, Fixed: 20, Items: []Item{{Sort: Sort{20, 200, 2}}}},
			Batch{Kind: 2*r + 1, Due: 11, Fixed: 28, Items: []Item{{Sort: Sort{28, 200, 2}}}})
	}
	p := s.Plan(1000)
	change := 0.0
	for _, c := range p.Changeover {
		change += c
	}
	if !p.Fits || change != 0 || len(p.Pours) != 6*(3+4) {
		t.Errorf("fits %v, %d pours, %v minutes of change-over", p.Fits, len(p.Pours), change)
	}
}
