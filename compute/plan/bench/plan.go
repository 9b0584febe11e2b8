package bench

import (
	"cmp"
	"slices"
)

// Plan is what is poured when.
type Plan struct {
	// Pours are in the order in which they are poured; Changeover is the minutes
	// before each of them.
	Pours      []Pour
	Changeover []float64
	// Started is the units poured, per batch and item; Worth their good units'.
	Started [][]int
	Worth   float64
	// Fits tells that everything is poured. Exact tells, where it is not, that no
	// plan is worth more.
	Fits, Exact bool
}

// Plan schedules everything, or where that does not fit, what is worth most;
// with several turns the first one's batches before the next one's. effort is
// that of Keep.
func (s *Shop) Plan(effort int) Plan {
	if pours, ok := s.split(s.wanted()); ok {
		if pours, ok = s.Schedule(pours); ok {
			return s.finish(pours, true, false)
		}
	}
	turns := 0
	for _, b := range s.Batches {
		turns = max(turns, b.Turn+1)
	}
	if turns < 2 {
		pours, exact := s.keepOrFit(effort)
		return s.finish(pours, false, exact)
	}
	var all []Pour
	for turn := range turns {
		one := s.only(turn)
		one.Held = all
		pours, _ := one.keepOrFit(effort / turns)
		all = append(slices.Clone(all), pours...)
	}
	return s.finish(all, false, false)
}

// Most is the worth that a plan of the same effort keeps, without a schedule
// where none is needed to know it.
func (s *Shop) Most(effort int) float64 {
	for _, b := range s.Batches {
		if b.Turn > 0 {
			return s.Plan(effort).Worth
		}
	}
	return s.Keep(effort).Worth
}

// keepOrFit schedules everything, else keeps what is worth most. What is kept is
// split anew into the fewest pours and scheduled like a plan that fits, where
// that works out.
func (s *Shop) keepOrFit(effort int) (pours []Pour, exact bool) {
	if pours, ok := s.split(s.wanted()); ok {
		if pours, ok = s.Schedule(pours); ok {
			return pours, true
		}
	}
	kept := s.Keep(effort)
	if pours, ok := s.split(kept.Started); ok {
		if pours, ok = s.Schedule(pours); ok {
			return pours, kept.Exact
		}
	}
	return kept.Pours, kept.Exact
}

// only is the shop with the batches of one turn; the others keep their places
// with nothing in them.
func (s *Shop) only(turn int) *Shop {
	one := s.Copy()
	one.Batches = slices.Clone(s.Batches)
	for b := range one.Batches {
		if one.Batches[b].Turn == turn {
			continue
		}
		items := slices.Clone(one.Batches[b].Items)
		for i := range items {
			items[i].Units, items[i].Worth = 0, nil
		}
		one.Batches[b].Items = items
	}
	return one
}

// Copy is a shop that can be changed without changing s.
func (s *Shop) Copy() *Shop {
	c := *s
	c.changes, c.leasts, c.togo = nil, nil, nil
	return &c
}

// wanted is all started units.
func (s *Shop) wanted() [][]int {
	out := make([][]int, len(s.Batches))
	for b, x := range s.Batches {
		for _, i := range x.Items {
			out[b] = append(out[b], i.Units)
		}
	}
	return out
}

// split divides units of every batch into pours; false when some fit no pour.
func (s *Shop) split(units [][]int) ([]Pour, bool) {
	var out []Pour
	for b, x := range s.Batches {
		sorts := make([]Sort, len(x.Items))
		for i := range sorts {
			sorts[i] = x.Items[i].Sort
			sorts[i].Units = units[b][i]
		}
		pots, ok := Split(sorts, s.pot(b))
		if !ok {
			return nil, false
		}
		for _, p := range pots {
			out = append(out, Pour{Batch: b, Units: p, Day: -1})
		}
	}
	return out, true
}

// finish puts pours in order and adds up what they come to.
func (s *Shop) finish(pours []Pour, fits, exact bool) Plan {
	p := Plan{Exact: exact || fits, Started: make([][]int, len(s.Batches))}
	for b, x := range s.Batches {
		p.Started[b] = make([]int, len(x.Items))
	}
	for _, x := range pours {
		for i, n := range x.Units {
			p.Started[x.Batch][i] += n
		}
	}
	p.Fits = true
	for b, x := range s.Batches {
		for i, item := range x.Items {
			n := p.Started[b][i]
			p.Fits = p.Fits && n == item.Units
			for _, w := range item.Worth[:min(s.Good(n), len(item.Worth))] {
				p.Worth += w
			}
		}
	}
	p.Pours, p.Changeover = s.inOrder(pours)
	return p
}

// inOrder is the pours by day and, within a day, by its best sequence; of one
// kind the most urgent first.
func (s *Shop) inOrder(pours []Pour) ([]Pour, []float64) {
	kinds := make([][]int, len(s.Days))
	for _, p := range pours {
		kinds[p.Day] = with(kinds[p.Day], s.Batches[p.Batch].Kind)
	}
	for d := range kinds {
		_, kinds[d] = s.Sequence(kinds[d])
	}
	out := slices.Clone(pours)
	slices.SortStableFunc(out, func(a, b Pour) int {
		x, y := s.Batches[a.Batch], s.Batches[b.Batch]
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(slices.Index(kinds[a.Day], x.Kind), slices.Index(kinds[b.Day], y.Kind)),
			cmp.Compare(x.Due, y.Due), cmp.Compare(a.Batch, b.Batch))
	})
	changes := make([]float64, len(out))
	for i := 1; i < len(out); i++ {
		if out[i].Day == out[i-1].Day {
			changes[i] = s.Changeover(s.Batches[out[i-1].Batch].Kind, s.Batches[out[i].Batch].Kind)
		}
	}
	return out, changes
}
