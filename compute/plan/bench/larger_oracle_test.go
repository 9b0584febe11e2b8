package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

// dyedShop is a shop of several recipes, some in both finishes and two jars, on
// several days, with a material that has to arrive: too large to be searched
// exactly by the program.
func dyedShop(rng *rand.Rand) *Shop {
	s := &Shop{
		Minutes: float64(60 + 5*rng.IntN(11)), Pitcher: float64(700 + 100*rng.IntN(5)), Wipe: float64(2 + rng.IntN(4)), Wash: float64(7 + rng.IntN(8)),
		Stock: []Stock{{float64(8 + rng.IntN(12)), day.Date(1 + rng.IntN(2))}},
	}
	for d := range 2 {
		s.Days = append(s.Days, day.Date(d))
	}
	last := len(s.Days) - 1
	for r := range 3 {
		for _, natural := range []bool{true, false}[rng.IntN(2) : 1+rng.IntN(2)] {
			k, fixed := Kind{Recipe: r, Natural: natural}, 20.0
			if !natural {
				k.Dye, k.Drops, fixed = 1+rng.IntN(2), float64(1+rng.IntN(9))/100, 28
			}
			s.Kinds = append(s.Kinds, k)
			b := Batch{Kind: len(s.Kinds) - 1, Due: day.Date(last - rng.IntN(2)), Fixed: fixed}
			for _, grams := range []float64{120, 210}[:1+rng.IntN(2)] {
				x := Item{Sort: Sort{12 + rng.IntN(14), grams, float64(2 + rng.IntN(3))}, Use: []float64{float64(rng.IntN(2))}}
				for range x.Units {
					x.Worth = append(x.Worth, float64(100+rng.IntN(1100))/100)
				}
				slices.Sort(x.Worth)
				slices.Reverse(x.Worth)
				b.Items = append(b.Items, x)
			}
			s.Batches = append(s.Batches, b)
		}
	}
	return s
}

// cleaned is the minutes from one pour to the next, told by what is left in the
// pitcher: dye is washed out for anything but the same dye; else it is wiped for
// another fragrance.
func cleaned(s *Shop, from, to Kind) float64 {
	left, wanted := from.Dye, to.Dye
	if left > 0 && wanted != left {
		return s.Wash
	}
	if from.Recipe != to.Recipe {
		return s.Wipe
	}
	return 0
}

// potsOf is up to how many pours of a batch one day can have.
func potsOf(s *Shop, b int) int { return int(s.Minutes / (s.Batches[b].Fixed + 2)) }

// pourModel is the choice of units for the pours of every day, and of the order
// of each day's kinds; fix, when given, is the plan that it is held to.
func pourModel(s *Shop, fix []Pour) string {
	m := &model{}
	minutes, early := make([][]string, len(s.Days)), []string{}
	for b, x := range s.Batches {
		poured := make([][]string, len(x.Items))
		for d := range s.Days {
			if s.Days[d] > x.Due {
				continue
			}
			used := m.integer(fmt.Sprintf("y%d_%d", b, d), 1)
			for p := range potsOf(s, b) {
				pot := m.integer(fmt.Sprintf("z%d_%d_%d", b, d, p), 1)
				grams, time := []string{term(-s.Pitcher, pot)}, []string{term(-(s.Minutes - x.Fixed), pot)}
				m.row([]string{term(1, pot), term(-1, used)}, "<=", 0)
				if p > 0 {
					m.row([]string{term(1, pot), term(-1, fmt.Sprintf("z%d_%d_%d", b, d, p-1))}, "<=", 0)
				}
				minutes[d] = append(minutes[d], term(x.Fixed, pot))
				for i, item := range x.Items {
					u := m.integer(fmt.Sprintf("u%d_%d_%d_%d", b, d, p, i), float64(item.Units))
					grams, time = append(grams, term(item.Grams, u)), append(time, term(item.Minutes, u))
					minutes[d] = append(minutes[d], term(item.Minutes, u))
					poured[i] = append(poured[i], term(-1, u))
					if s.Days[d] < s.Stock[0].Arrives && item.Use[0] > 0 {
						early = append(early, term(item.Use[0], u))
					}
				}
				m.row(grams, "<=", 0)
				m.row(time, "<=", 0)
			}
		}
		for i, item := range x.Items {
			for k, w := range item.Worth {
				name := fmt.Sprintf("w%d_%d_%d", b, i, k) // sold in falling order of worth by itself
				m.bounds = append(m.bounds, fmt.Sprintf(" 0 <= %s <= 1", name))
				m.goal = append(m.goal, term(w, name))
				poured[i] = append(poured[i], term(1, name))
			}
			m.row(poured[i], "<=", 0)
		}
	}
	for d := range s.Days {
		minutes[d] = append(minutes[d], dayOrder(m, s, d)...)
		m.row(minutes[d], "<=", s.Minutes)
	}
	m.row(early, "<=", s.Stock[0].Held)
	holdTo(m, s, fix)
	return m.text("Maximize")
}

// dayOrder is the path through the kinds that a day pours, and its minutes.
func dayOrder(m *model, s *Shop, d int) []string {
	var open []int
	for b, x := range s.Batches {
		if s.Days[d] <= x.Due {
			open = append(open, b)
		}
	}
	var cost []string
	arc := func(i, j int) string { return fmt.Sprintf("x%d_%d_%d", d, i, j) }
	const clean = 99 // where a day's path starts and ends
	for _, i := range append(slices.Clone(open), clean) {
		var out, in []string
		for _, j := range append(slices.Clone(open), clean) {
			if i == j {
				continue
			}
			name := m.integer(arc(i, j), 1)
			if i != clean && j != clean {
				cost = append(cost, term(cleaned(s, s.Kinds[s.Batches[i].Kind], s.Kinds[s.Batches[j].Kind]), name))
				n := float64(len(open))
				m.row([]string{term(1, fmt.Sprintf("p%d_%d", d, i)), term(-1, fmt.Sprintf("p%d_%d", d, j)), term(n, name)}, "<=", n-1)
			}
			out, in = append(out, term(1, name)), append(in, term(1, arc(j, i)))
		}
		if i == clean {
			m.row(out, "<=", 1)
			continue
		}
		used := term(-1, fmt.Sprintf("y%d_%d", i, d))
		m.row(append(out, used), "=", 0)
		m.row(append(in, used), "=", 0)
	}
	return cost
}

// holdTo asks for a plan's units on its days.
func holdTo(m *model, s *Shop, fix []Pour) {
	if fix == nil {
		return
	}
	for b, x := range s.Batches {
		for d := range s.Days {
			for i := range x.Items {
				n, units := 0, []string{}
				for _, p := range fix {
					if p.Batch == b && p.Day == d {
						n += p.Units[i]
					}
				}
				for p := range potsOf(s, b) {
					units = append(units, term(1, fmt.Sprintf("u%d_%d_%d_%d", b, d, p, i)))
				}
				if s.Days[d] <= x.Due {
					m.row(units, "=", float64(n))
				}
			}
		}
	}
}

// What larger shops keep: GLPK finds the plan possible and worth what the program
// says, and the best plan of all between that and the bound.
func TestLargerKeptSetsAgainstGLPK(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	cases, shops, tries := 0, 0, 48
	if oracle.Brief() {
		tries = 16
	}
	short, over, all := 0.0, 0.0, 0.0
	for range tries {
		s := dyedShop(rng)
		k := s.Keep(60_000)
		if k.Exact {
			continue
		}
		if same, ok := glpsol(t, pourModel(s, k.Pours)); !ok || math.Abs(same-k.Worth) > 1e-6 {
			t.Errorf("the plan is worth %v, GLPK says %v (possible %v)", k.Worth, same, ok)
		}
		best, ok := glpsol(t, pourModel(s, nil))
		bound := s.Bound(k.Worth)
		if blind := s.Bound(0); !ok || k.Worth > best+1e-6 || min(bound, blind) < best-1e-6 {
			t.Errorf("kept %v, bounds %v and %v; the best is %v (%v)", k.Worth, bound, blind, best, ok)
		}
		cases += 4
		shops++
		short, over, all = short+best-k.Worth, over+bound-best, all+best
	}
	t.Logf("%d shops: %.2f%% short of the best, the bound %.2f%% above it", shops, 100*short/all, 100*over/all)
	if short > 0.02*all || over > 0.08*all {
		t.Errorf("%d shops: %.2f%% short of the best, the bound %.2f%% above it", shops, 100*short/all, 100*over/all)
	}
	if !oracle.Brief() {
		oracle.Cases(t, cases)
	}
}
