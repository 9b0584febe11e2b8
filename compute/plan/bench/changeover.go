package bench

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// Changeover is the minutes from a pour of kind a to the next one of kind b.
func (s *Shop) Changeover(a, b int) float64 {
	if a == b {
		return 0
	}
	from, to := s.Kinds[a], s.Kinds[b]
	switch {
	case from.Dye != 0 && from.Dye != to.Dye:
		return s.Wash
	case from.Recipe == to.Recipe:
		return 0
	}
	return s.Wipe
}

// rank orders kinds where change-overs leave the choice: natural first, then
// fewer drops, then table order.
func (s *Shop) rank(a, b int) int {
	x, y := s.Kinds[a], s.Kinds[b]
	switch {
	case x.Natural != y.Natural && x.Natural:
		return -1
	case x.Natural != y.Natural:
		return 1
	}
	return cmp.Or(cmp.Compare(x.Drops, y.Drops), cmp.Compare(a, b))
}

// mask is a set of kinds. From maskKinds on kinds share places, and many is set.
type mask struct {
	bits [4]uint64
	many bool
}

const maskKinds = 256

func (m *mask) flip(k int) {
	m.many = m.many || k >= maskKinds
	m.bits[k/64%4] ^= 1 << (k % 64)
}

// sequence is the order of a day's kinds and the minutes between them.
type sequence struct {
	minutes float64
	kinds   []int
}

// exactKinds is up to how many kinds a day's order is the best of all orders. A
// pour of one kind after another of it costs nothing, so pours of a kind stand
// together, and ten pours are at most ten kinds.
const exactKinds = 12

// Sequence is the order of distinct kinds with the least change-over minutes;
// among equals natural first, then fewer drops. kinds is not kept.
func (s *Shop) Sequence(kinds []int) (minutes float64, order []int) {
	q := s.sequence(kinds)
	return q.minutes, slices.Clone(q.kinds)
}

func (s *Shop) sequence(kinds []int) sequence {
	var m mask
	for _, k := range kinds {
		m.flip(k)
	}
	return s.sequenceOf(m, kinds)
}

// sequenceOf is sequence of kinds whose mask is known. Orders are kept, but not
// those of masks that can stand for several sets.
func (s *Shop) sequenceOf(m mask, kinds []int) sequence {
	if len(kinds) < 2 {
		return sequence{0, kinds}
	}
	if q, ok := s.changes[m]; ok {
		return q
	}
	sorted := slices.Clone(kinds)
	slices.SortFunc(sorted, s.rank)
	var q sequence
	if len(sorted) <= exactKinds {
		q = s.bestOrder(sorted)
	} else {
		q = s.nearestOrder(sorted)
	}
	if !m.many {
		if s.changes == nil {
			s.changes = map[mask]sequence{}
		}
		s.changes[m] = q
	}
	return q
}

// bestOrder finds, for every set of kinds still to come and the kind poured
// last, the fewest minutes that they take; the order is then read off from the
// front, which gives the first by rank among the best.
func (s *Shop) bestOrder(kinds []int) sequence {
	n := len(kinds)
	full := 1<<n - 1
	costs := make([]float64, n*n)
	for a := range n {
		for b := range n {
			costs[a*n+b] = s.Changeover(kinds[a], kinds[b])
		}
	}
	if size := (full + 1) * n; cap(s.togo) < size {
		s.togo = make([]float64, size)
	}
	togo := s.togo[:(full+1)*n]
	clear(togo[:n]) // nothing is left; other entries are set before they are read
	for left := uint(1); left <= uint(full); left++ {
		for lasts := uint(full) &^ left; lasts != 0; lasts &= lasts - 1 {
			last := bits.TrailingZeros(lasts)
			row, best := costs[last*n:last*n+n], math.Inf(1)
			for nexts := left; nexts != 0; nexts &= nexts - 1 {
				next := bits.TrailingZeros(nexts)
				if c := row[next] + togo[int(left&^(1<<next))*n+next]; c < best {
					best = c
				}
			}
			togo[int(left)*n+last] = best
		}
	}
	var q sequence
	left, last := full, -1
	for left != 0 {
		pick, best := -1, math.Inf(1)
		for next := range n {
			if left>>next&1 == 0 {
				continue
			}
			c := togo[(left&^(1<<next))*n+next]
			if last >= 0 {
				c += costs[last*n+next]
			}
			if c < best-1e-9 {
				pick, best = next, c
			}
		}
		if last < 0 {
			q.minutes = best
		}
		q.kinds = append(q.kinds, kinds[pick])
		left &^= 1 << pick
		last = pick
	}
	return q
}

// nearestOrder goes on with whatever changes over fastest, from every start,
// and keeps the best.
func (s *Shop) nearestOrder(kinds []int) sequence {
	best := sequence{minutes: math.Inf(1)}
	for _, start := range kinds {
		q := sequence{kinds: []int{start}}
		for len(q.kinds) < len(kinds) {
			last, pick, least := q.kinds[len(q.kinds)-1], -1, math.Inf(1)
			for _, k := range kinds {
				if c := s.Changeover(last, k); c < least && !slices.Contains(q.kinds, k) {
					pick, least = k, c
				}
			}
			q.kinds = append(q.kinds, pick)
			q.minutes += least
		}
		if q.minutes < best.minutes-1e-9 {
			best = q
		}
	}
	return best
}
