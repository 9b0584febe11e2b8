package bench

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// leastPots is bin packing by trying everything: each unit goes into a pot that
// is open, or opens the next one.
func leastPots(sorts []Sort, pot Pot) int {
	var units []int
	for i, s := range sorts {
		for range s.Units {
			units = append(units, i)
		}
	}
	best := len(units)
	var grams, minutes []float64
	var place func(n int)
	place = func(n int) {
		if len(grams) >= best {
			return
		}
		if n == len(units) {
			best = len(grams)
			return
		}
		s := sorts[units[n]]
		for p := range grams {
			if grams[p]+s.Grams <= pot.Grams*(1+1e-9) && minutes[p]+s.Minutes <= pot.Minutes*(1+1e-9) {
				grams[p] += s.Grams
				minutes[p] += s.Minutes
				place(n + 1)
				grams[p] -= s.Grams
				minutes[p] -= s.Minutes
			}
		}
		grams, minutes = append(grams, s.Grams), append(minutes, s.Minutes)
		place(n + 1)
		grams, minutes = grams[:len(grams)-1], minutes[:len(minutes)-1]
	}
	place(0)
	return best
}

func drawSorts(t *rapid.T, most int) ([]Sort, Pot) {
	pot := Pot{1000, float64(rapid.IntRange(15, 60).Draw(t, "minutes"))}
	var sorts []Sort
	for range rapid.IntRange(1, 3).Draw(t, "sorts") {
		sorts = append(sorts, Sort{rapid.IntRange(0, most).Draw(t, "units"), float64(rapid.IntRange(90, 700).Draw(t, "grams")), float64(rapid.IntRange(1, 9).Draw(t, "each"))})
	}
	return sorts, pot
}

func TestSplitUsesTheFewestPots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sorts, pot := drawSorts(t, 4)
		pots, ok := Split(sorts, pot)
		if !ok {
			t.Fatal("no pot takes a unit")
		}
		if want := leastPots(sorts, pot); len(pots) != want {
			t.Fatalf("%d pots, %d do: %v", len(pots), want, pots)
		}
		for i, s := range sorts {
			n := 0
			for _, p := range pots {
				n += p[i]
			}
			if n != s.Units {
				t.Fatalf("%d of %d units of sort %d", n, s.Units, i)
			}
		}
		if !fits(sorts, pot, pots) {
			t.Fatalf("over the pot: %v", pots)
		}
	})
}

func TestTwoPotsAreAsEqualAsTheJarsAllow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sorts, pot := drawSorts(t, 5)
		pots, _ := Split(sorts, pot)
		if len(pots) != 2 {
			return
		}
		a, _ := load(sorts, pots[0])
		b, _ := load(sorts, pots[1])
		best := math.Inf(1)
		eachWay(sorts, func(units []int) {
			rest := make([]int, len(units))
			for i := range units {
				rest[i] = sorts[i].Units - units[i]
			}
			if fitsPot(sorts, pot, units) && fitsPot(sorts, pot, rest) {
				x, _ := load(sorts, units)
				y, _ := load(sorts, rest)
				best = min(best, math.Abs(x-y))
			}
		})
		if math.Abs(a-b) > best+1e-6 {
			t.Fatalf("%v differ by %v, %v would do", pots, math.Abs(a-b), best)
		}
	})
}

// eachWay calls f with every choice of up to the units of each sort.
func eachWay(sorts []Sort, f func([]int)) {
	units := make([]int, len(sorts))
	var from func(i int)
	from = func(i int) {
		if i == len(sorts) {
			f(units)
			return
		}
		for n := range sorts[i].Units + 1 {
			units[i] = n
			from(i + 1)
		}
		units[i] = 0
	}
	from(0)
}

func TestOneJarSplitsIntoEqualPots(t *testing.T) {
	pots, ok := Split([]Sort{{17, 1800 / 8, 4}}, Pot{1800, 160})
	if !ok || len(pots) != 3 || pots[0][0] != 6 || pots[1][0] != 6 || pots[2][0] != 5 {
		t.Errorf("17 candles of which 8 fill a pitcher: %v", pots)
	}
	if pots, ok := Split([]Sort{{0, 200, 4}}, Pot{1800, 160}); !ok || len(pots) != 0 {
		t.Errorf("nothing to pour: %v", pots)
	}
	if _, ok := Split([]Sort{{1, 2000, 4}}, Pot{1800, 160}); ok {
		t.Error("a candle larger than the pitcher was poured")
	}
	if _, ok := Split([]Sort{{1, 200, 4}}, Pot{1800, 3}); ok {
		t.Error("a candle was poured in less than its minutes")
	}
}

func TestLargeMixedBatchIsQuick(t *testing.T) {
	sorts := []Sort{{60, 113, 4}, {45, 227, 4}, {40, 311, 5}, {30, 397, 5}, {12, 454, 6}}
	pots, ok := Split(sorts, Pot{1800, 150})
	if !ok || !fits(sorts, Pot{1800, 150}, pots) {
		t.Fatal("not split")
	}
	n, _ := fewest(sorts, Pot{1800, 150})
	if len(pots) > n+1 {
		t.Errorf("%d pots, the sums ask for %d", len(pots), n)
	}
}
