package bench

import (
	"math"
	"slices"
)

// Split divides a batch into the least number of pots, as equal in grams as
// its jars allow: units per pot and sort. It is false when a single unit fits no pot.
//
// The least number is proven by exact packing unless the batch is so mixed
// that the search is cut off (packNodes), which then may give one pot more.
// As equal as possible is exact for two pots, and for every two of more.
func Split(sorts []Sort, pot Pot) ([][]int, bool) {
	n, ok := fewest(sorts, pot)
	if !ok || n == 0 {
		return nil, ok
	}
	for ; ; n++ {
		if pots := fillPots(sorts, pot, n); pots != nil {
			level(sorts, pot, pots)
			order(sorts, pots)
			return pots, true
		}
	}
}

// fewest is the number of pots below which the sums alone show that it cannot be.
func fewest(sorts []Sort, pot Pot) (int, bool) {
	grams, minutes, units := 0.0, 0.0, 0
	for _, s := range sorts {
		if s.Units == 0 {
			continue
		}
		if !within(s.Grams, pot.Grams) || !within(s.Minutes, pot.Minutes) {
			return 0, false
		}
		grams += float64(s.Units) * s.Grams
		minutes += float64(s.Units) * s.Minutes
		units += s.Units
	}
	if units == 0 {
		return 0, true
	}
	n := max(1, ceilDiv(grams, pot.Grams))
	if minutes > 0 {
		n = max(n, ceilDiv(minutes, pot.Minutes))
	}
	return n, true
}

func ceilDiv(a, b float64) int {
	q := a / b
	return int(math.Ceil(q - q*slack))
}

// fillPots fits everything into n pots; nil when it cannot be done.
func fillPots(sorts []Sort, pot Pot, n int) [][]int {
	if pots := spread(sorts, n); fits(sorts, pot, pots) {
		return pots
	}
	if pots := stack(sorts, pot, n); pots != nil {
		return pots
	}
	return packExactly(sorts, pot, n)
}

// heavyFirst is the sorts in falling order of weight.
func heavyFirst(sorts []Sort) []int {
	by := make([]int, len(sorts))
	for i := range by {
		by[i] = i
	}
	slices.SortStableFunc(by, func(a, b int) int {
		switch {
		case sorts[a].Grams > sorts[b].Grams:
			return -1
		case sorts[a].Grams < sorts[b].Grams:
			return 1
		}
		return 0
	})
	return by
}

func empty(sorts []Sort, n int) [][]int {
	pots := make([][]int, n)
	for i := range pots {
		pots[i] = make([]int, len(sorts))
	}
	return pots
}

// spread puts each unit into the lightest pot so far, heavy ones first.
func spread(sorts []Sort, n int) [][]int {
	pots, load := empty(sorts, n), make([]float64, n)
	for _, i := range heavyFirst(sorts) {
		for range sorts[i].Units {
			light := 0
			for p := range load {
				if load[p] < load[light] {
					light = p
				}
			}
			pots[light][i]++
			load[light] += sorts[i].Grams
		}
	}
	return pots
}

// stack puts as many units as go into the first pot that has room, heavy ones
// first; nil when n pots do not do.
func stack(sorts []Sort, pot Pot, n int) [][]int {
	pots := empty(sorts, n)
	for _, i := range heavyFirst(sorts) {
		left := sorts[i].Units
		for p := 0; p < n && left > 0; p++ {
			k := min(left, room(sorts, pot, pots[p], i))
			pots[p][i] += k
			left -= k
		}
		if left > 0 {
			return nil
		}
	}
	return pots
}

// room is how many more units of sort i a pot takes.
func room(sorts []Sort, pot Pot, units []int, i int) int {
	grams, minutes := load(sorts, units)
	n := math.MaxInt32
	if sorts[i].Grams > 0 {
		n = min(n, int((pot.Grams-grams+pot.Grams*slack)/sorts[i].Grams))
	}
	if sorts[i].Minutes > 0 {
		n = min(n, int((pot.Minutes-minutes+pot.Minutes*slack)/sorts[i].Minutes))
	}
	return max(n, 0)
}

func load(sorts []Sort, units []int) (grams, minutes float64) {
	for i, n := range units {
		grams += float64(n) * sorts[i].Grams
		minutes += float64(n) * sorts[i].Minutes
	}
	return grams, minutes
}

func fits(sorts []Sort, pot Pot, pots [][]int) bool {
	for _, p := range pots {
		if !fitsPot(sorts, pot, p) {
			return false
		}
	}
	return true
}

func fitsPot(sorts []Sort, pot Pot, units []int) bool {
	grams, minutes := load(sorts, units)
	return within(grams, pot.Grams) && within(minutes, pot.Minutes)
}

// order puts the heaviest pot first, and of equal ones that with more of the
// first sort.
func order(sorts []Sort, pots [][]int) {
	slices.SortStableFunc(pots, func(a, b []int) int {
		ga, _ := load(sorts, a)
		gb, _ := load(sorts, b)
		switch {
		case ga > gb*(1+slack):
			return -1
		case gb > ga*(1+slack):
			return 1
		}
		return slices.Compare(b, a)
	})
}
