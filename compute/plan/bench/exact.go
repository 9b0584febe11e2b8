package bench

import (
	"encoding/binary"
	"math"
)

// packNodes is after how many pots tried the exact packing gives up.
const packNodes = 200_000

// packer looks for a packing into a given number of pots. Only pots that take
// no further unit are tried, since moving a unit into a pot that has room never
// hurts the rest; what is left over and found hopeless is remembered.
type packer struct {
	sorts    []Sort
	pot      Pot
	hopeless map[string]bool
	nodes    int
	out      [][]int
}

func packExactly(sorts []Sort, pot Pot, n int) [][]int {
	p := &packer{sorts: sorts, pot: pot, hopeless: map[string]bool{}}
	left := make([]int, len(sorts))
	for i, s := range sorts {
		left[i] = s.Units
	}
	if !p.pack(left, n) {
		return nil
	}
	for len(p.out) < n {
		p.out = append(p.out, make([]int, len(sorts)))
	}
	return p.out
}

func (p *packer) pack(left []int, pots int) bool {
	if need, ok := p.least(left); !ok || need > pots {
		return false
	} else if need == 0 {
		return true
	}
	key := tally(left, pots)
	if p.hopeless[key] || p.nodes > packNodes {
		return false
	}
	first := 0
	for left[first] == 0 {
		first++
	}
	if p.patterns(left, make([]int, len(left)), first, pots, true) {
		return true
	}
	p.hopeless[key] = true
	return false
}

func (p *packer) least(left []int) (int, bool) {
	rest := make([]Sort, len(left))
	for i, n := range left {
		rest[i] = p.sorts[i]
		rest[i].Units = n
	}
	return fewest(rest, p.pot)
}

// patterns tries every full pot of what is left, from sort i on. The first sort
// that is left is in the pot, since some pot must hold it.
func (p *packer) patterns(left, pot []int, i, pots int, first bool) bool {
	if i == len(left) {
		return p.try(left, pot, pots)
	}
	low := 0
	if first {
		low = 1
	}
	for n := min(left[i], room(p.sorts, p.pot, pot, i)); n >= low; n-- {
		pot[i] = n
		if p.patterns(left, pot, i+1, pots, false) {
			return true
		}
	}
	pot[i] = 0
	return false
}

func (p *packer) try(left, pot []int, pots int) bool {
	for i := range left {
		if left[i] > pot[i] && room(p.sorts, p.pot, pot, i) > 0 {
			return false // not full
		}
	}
	p.nodes++
	rest := make([]int, len(left))
	for i := range left {
		rest[i] = left[i] - pot[i]
	}
	if !p.pack(rest, pots-1) {
		return false
	}
	p.out = append(p.out, append([]int(nil), pot...))
	return true
}

func tally(counts []int, more int) string {
	b := binary.AppendUvarint(make([]byte, 0, 2*len(counts)+2), uint64(more))
	for _, n := range counts {
		b = binary.AppendUvarint(b, uint64(n))
	}
	return string(b)
}

// pairWays is up to how many ways of sharing two pots' units are all looked at.
const pairWays = 20_000

// level makes pots more equal: the units of two of them are shared out anew in
// the most equal way that fits, until no two can be bettered.
func level(sorts []Sort, pot Pot, pots [][]int) {
	for better := true; better; {
		better = false
		for a := range pots {
			for b := range a {
				better = share(sorts, pot, pots[a], pots[b]) || better
			}
		}
	}
}

// share evens out two pots; it reports whether they came closer.
func share(sorts []Sort, pot Pot, a, b []int) bool {
	ga, _ := load(sorts, a)
	gb, _ := load(sorts, b)
	gap := math.Abs(ga - gb)
	if gap <= slack*pot.Grams {
		return false
	}
	both, ways := make([]int, len(a)), 1
	for i := range a {
		both[i] = a[i] + b[i]
		ways = min(ways*(both[i]+1), pairWays+1)
	}
	s := sharing{sorts: sorts, pot: pot, both: both, half: (ga + gb) / 2, gap: gap / 2 * (1 - slack)}
	if ways > pairWays {
		s.near(a)
	} else {
		s.all(make([]int, len(a)), 0, 0)
	}
	if s.best == nil {
		return false
	}
	for i := range a {
		a[i], b[i] = s.best[i], both[i]-s.best[i]
	}
	return true
}

// sharing looks for the units of one of two pots that come closest to half.
type sharing struct {
	sorts []Sort
	pot   Pot
	both  []int
	half  float64
	gap   float64 // of the best so far from half
	best  []int
}

func (s *sharing) all(units []int, i int, grams float64) {
	if i == len(units) {
		s.offer(units, grams)
		return
	}
	for n := range s.both[i] + 1 {
		units[i] = n
		s.all(units, i+1, grams+float64(n)*s.sorts[i].Grams)
	}
	units[i] = 0
}

// near looks at moving one unit, or changing one for another, only.
func (s *sharing) near(from []int) {
	for i := range from {
		for j := range from {
			units := append([]int(nil), from...)
			units[i]--
			if j != i {
				units[j]++
			}
			if units[i] >= 0 && units[j] <= s.both[j] {
				grams, _ := load(s.sorts, units)
				s.offer(units, grams)
			}
		}
		if from[i] < s.both[i] {
			units := append([]int(nil), from...)
			units[i]++
			grams, _ := load(s.sorts, units)
			s.offer(units, grams)
		}
	}
}

func (s *sharing) offer(units []int, grams float64) {
	off := math.Abs(grams - s.half)
	if off >= s.gap {
		return
	}
	other := make([]int, len(units))
	for i, n := range units {
		other[i] = s.both[i] - n
	}
	if fitsPot(s.sorts, s.pot, units) && fitsPot(s.sorts, s.pot, other) {
		s.gap, s.best = off, append([]int(nil), units...)
	}
}
