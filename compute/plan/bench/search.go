package bench

import (
	"cmp"
	"math"
	"slices"
)

// exactPours is up to how many pours all schedules are searched, and
// searchNodes after how many steps the search gives up.
const (
	exactPours  = 14
	searchNodes = 150_000
)

// search is a branch and bound over the days of every pour. A day's change-over
// minutes never fall when a pour is added, so a branch whose minutes already
// reach the best is cut.
type search struct {
	*board
	by     []int
	best   *result
	atMost float64
	nodes  int
}

// exact improves on best by searching all schedules; all is false when the
// search was cut off.
func (b *board) exact(best *result, atMost float64) (found *result, all bool) {
	s := &search{board: b, best: best, atMost: atMost}
	for i := b.held; i < len(b.pours); i++ {
		s.by = append(s.by, i)
		b.place(i, -1)
	}
	slices.SortStableFunc(s.by, func(i, j int) int {
		return cmp.Or(cmp.Compare(b.lasts[i], b.lasts[j]), cmp.Compare(b.kind(i), b.kind(j)),
			cmp.Compare(b.pours[i].Batch, b.pours[j].Batch), slices.Compare(b.pours[i].Units, b.pours[j].Units))
	})
	s.from(0)
	if found = s.best; found != nil {
		b.restore(found.days)
	} else {
		b.greedy()
	}
	return found, s.nodes <= searchNodes
}

func (s *search) from(n int) {
	if n == len(s.by) {
		if r := s.result(); s.works() && r.better(s.best) {
			s.best = r
		}
		return
	}
	i := s.by[n]
	first := 0
	if n > 0 && s.alike(i, s.by[n-1]) {
		first = s.pours[s.by[n-1]].Day
	}
	for d := first; d < min(s.lasts[i], s.days); d++ {
		if s.nodes++; s.nodes > searchNodes {
			break
		}
		s.place(i, d)
		if s.over <= 1e-6 && s.shortage() == 0 && s.promising() {
			s.from(n + 1)
		}
	}
	s.place(i, -1)
}

func (s *search) promising() bool {
	if s.best == nil {
		return s.change <= s.atMost+1e-6
	}
	if math.Abs(s.change-s.best.change) <= 1e-6 {
		return s.finish() < s.best.finish
	}
	return s.change < s.best.change && s.change <= s.atMost+1e-6
}

// alike reports whether two pours are the same, so that they need not change places.
func (s *search) alike(i, j int) bool {
	return s.pours[i].Batch == s.pours[j].Batch && slices.Equal(s.pours[i].Units, s.pours[j].Units)
}
