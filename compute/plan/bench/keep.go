package bench

import (
	"math"
)

// Kept is what a plan keeps where not everything fits.
type Kept struct {
	Pours []Pour
	// Started is the units kept, per batch and item; Worth their good units'.
	Started [][]int
	Worth   float64
	// Exact tells that no plan is worth more.
	Exact bool
}

// Keep chooses what to pour where not everything fits, for the most worth.
//
// Plans of up to exactStates combinations of units are searched exactly
// (keepExactly). Larger ones are filled greedily, always with the units that
// bring the most worth per minute of a day they fit, pour and change-over
// minutes included; then, for as long as effort lasts, a day or a batch is
// cleared at random (fixed seed) and filled anew, and the better plan kept.
// effort is a number of looks at a day, about a microsecond each.
func (s *Shop) Keep(effort int) Kept {
	k := s.newKeeper()
	if states := k.states(); states <= exactStates {
		k.keepExactly()
		kept := k.kept()
		kept.Exact = true
		return kept
	}
	k.appraise()
	k.fill()
	k.improve(effort)
	return k.kept()
}

// keeper is units on days.
type keeper struct {
	*Shop
	units   [][][]int // per batch, day, item
	totals  [][]int   // per batch and item
	lasts   []int
	minutes [][]float64 // per batch and day, change-overs not included
	load    []float64   // per day
	change  []float64   // per day
	base    []float64   // per day: minutes of held pours
	kinds   [][]int     // per day: kinds of held pours
	early   []int       // per material: the days before it arrives
	before  []float64   // per material: taken on those days
	offers  [][][]offer // per batch, item, day
	taste   []float64   // per batch: how much its offers are favored, about 1
	minute  []float64   // per day: what a minute is worth, as far as is known
	charge  []float64   // per material: what an early unit of it is worth
	bite    []int       // per batch: the most units added at once
	thrift  float64     // how much minutes count against worth: 1 is worth per minute
	lavish  bool        // offers take early units as free
	looks   int
	most    float64 // no plan is worth more
}

// offer is the best next step for an item on a day.
type offer struct {
	fresh bool
	units int
	worth float64
	rate  float64 // worth per minute
}

func (s *Shop) newKeeper() *keeper {
	n := len(s.Days)
	k := &keeper{Shop: s, load: make([]float64, n), change: make([]float64, n), base: make([]float64, n), kinds: make([][]int, n), before: make([]float64, len(s.Stock))}
	for b, x := range s.Batches {
		k.lasts = append(k.lasts, s.last(b))
		k.taste, k.bite = append(k.taste, 1), append(k.bite, math.MaxInt32)
		k.totals = append(k.totals, make([]int, len(x.Items)))
		k.minutes = append(k.minutes, make([]float64, n))
		k.units = append(k.units, make([][]int, n))
		k.offers = append(k.offers, make([][]offer, len(x.Items)))
		for d := range n {
			k.units[b][d] = make([]int, len(x.Items))
		}
		for i := range x.Items {
			k.offers[b][i] = make([]offer, n)
		}
	}
	for m := range s.Stock {
		early := 0
		for early < n && s.Days[early] < s.Stock[m].Arrives {
			early++
		}
		k.early = append(k.early, early)
	}
	for _, p := range s.Held {
		k.base[p.Day] += s.minutes(p.Batch, p.Units)
		k.kinds[p.Day] = with(k.kinds[p.Day], s.Batches[p.Batch].Kind)
		for m := range s.Stock {
			if p.Day < k.early[m] {
				k.before[m] += s.use(p.Batch, p.Units, m)
			}
		}
	}
	for d := range n {
		k.reload(d)
		k.minute = append(k.minute, 1)
	}
	k.charge = make([]float64, len(s.Stock))
	k.most, k.thrift = math.Inf(1), 1
	return k
}

func with(kinds []int, k int) []int {
	for _, x := range kinds {
		if x == k {
			return kinds
		}
	}
	return append(kinds, k)
}

// fewest is the least number of pours for units of a batch on one day; -1 when
// one of them fits no pour.
func (s *Shop) fewest(b int, units []int) int {
	items := s.Batches[b].Items
	if len(items) == 1 {
		n, ok := s.single(b, units[0])
		if !ok {
			return -1
		}
		return n
	}
	key := tally(units, b)
	if n, ok := s.leasts[key]; ok {
		return n
	}
	sorts := make([]Sort, len(items))
	for i := range items {
		sorts[i] = items[i].Sort
		sorts[i].Units = units[i]
	}
	n := -1
	if pots, ok := Split(sorts, s.pot(b)); ok {
		n = len(pots)
	}
	if s.leasts == nil {
		s.leasts = map[string]int{}
	}
	s.leasts[key] = n
	return n
}

// single is fewest where all units are alike.
func (s *Shop) single(b, units int) (int, bool) {
	if units == 0 {
		return 0, true
	}
	x, pot := s.Batches[b].Items[0], s.pot(b)
	per := room([]Sort{x.Sort}, pot, []int{0}, 0)
	if per == 0 {
		return 0, false
	}
	return (units + per - 1) / per, true
}

// dayMinutes is what units of a batch take on a day; infinite when they fit no pour.
func (s *Shop) dayMinutes(b int, units []int) float64 {
	n := s.fewest(b, units)
	if n < 0 {
		return math.Inf(1)
	}
	return s.minutes(b, units) + float64(n-1)*s.Batches[b].Fixed
}

// dayKinds is what is poured on a day, with one batch's kind more.
func (k *keeper) dayKinds(d, more int) []int {
	kinds := append(make([]int, 0, 8), k.kinds[d]...)
	for b := range k.Batches {
		if k.minutes[b][d] > 0 || b == more {
			kinds = with(kinds, k.Batches[b].Kind)
		}
	}
	return kinds
}

// reload adds up a day anew.
func (k *keeper) reload(d int) {
	k.change[d] = k.sequence(k.dayKinds(d, -1)).minutes
	k.load[d] = k.base[d] + k.change[d]
	for b := range k.Batches {
		k.load[d] += k.minutes[b][d]
	}
}

// add changes the units of an item on a day by n, and what rests on it.
func (k *keeper) add(b, i, d, n int) {
	k.units[b][d][i] += n
	k.totals[b][i] += n
	k.minutes[b][d] = 0
	for _, u := range k.units[b][d] {
		if u > 0 {
			k.minutes[b][d] = k.dayMinutes(b, k.units[b][d])
			break
		}
	}
	for m, use := range k.Batches[b].Items[i].Use {
		if d < k.early[m] {
			k.before[m] += float64(n) * use
		}
	}
	k.reload(d)
	for x := range k.offers {
		for y := range k.offers[x] {
			k.offers[x][y][d].fresh = false
		}
	}
	for e := range k.offers[b][i] {
		k.offers[b][i][e].fresh = false
	}
}

// fill adds the best offers until none is left; at last also those that are
// worth less than the early units they take.
func (k *keeper) fill() {
	k.pick()
	k.lavish = true
	k.stale()
	k.pick()
	k.lavish = false
	k.stale()
}

func (k *keeper) pick() {
	for {
		var best *offer
		var bb, bi, bd int
		top := 0.0
		for b := range k.offers {
			for i := range k.offers[b] {
				for d := range k.lasts[b] {
					o := &k.offers[b][i][d]
					if !o.fresh {
						*o = k.offer(b, i, d)
						k.looks++
					}
					if r := o.rate * k.taste[b]; o.units > 0 && r > top*(1+slack) {
						best, bb, bi, bd, top = o, b, i, d, r
					}
				}
			}
		}
		if best == nil {
			return
		}
		k.looks += len(k.Batches)*len(k.Days)/4 + 1 // the search through them
		// what a material leaves may have shrunk since the offer was made
		if now := k.offer(bb, bi, bd); now != *best {
			*best = now
			continue
		}
		k.add(bb, bi, bd, best.units)
	}
}

// offer finds how many further units of an item are worth the most per minute
// on a day; none fits when its units are 0.
func (k *keeper) offer(b, i, d int) offer {
	best := offer{fresh: true}
	x := &k.Batches[b].Items[i]
	free := k.Minutes - k.load[d]
	have := k.totals[b][i]
	most := min(x.Units-have, k.bite[b], k.material(b, i, d))
	if most <= 0 || free <= 0 {
		return best
	}
	extra := 0.0
	if k.minutes[b][d] == 0 {
		extra = k.sequence(k.dayKinds(d, b)).minutes - k.change[d]
	}
	charge := 0.0
	for m, use := range x.Use {
		if d < k.early[m] && !k.lavish {
			charge += use * k.charge[m]
		}
	}
	units := append([]int(nil), k.units[b][d]...)
	good, worth := k.Good(have), 0.0
	for n := 1; n <= most; n++ {
		units[i]++
		g := min(k.Good(have+n), len(x.Worth))
		if g == good {
			continue
		}
		worth += x.Worth[good]
		good = g
		k.looks++
		cost := k.dayMinutes(b, units) - k.minutes[b][d] + extra
		if cost > free+slack*k.Minutes {
			break
		}
		if rate := (worth - float64(n)*charge) / math.Pow(math.Max(cost*k.minute[d], 1e-9), k.thrift); worth > 0 && rate > best.rate*(1+slack) {
			best = offer{true, n, worth, rate}
		}
	}
	return best
}

// material is how many more units of an item the materials allow on a day.
func (k *keeper) material(b, i, d int) int {
	n := math.MaxInt32
	for m, use := range k.Batches[b].Items[i].Use {
		if use > 0 && d < k.early[m] {
			left := k.Stock[m].Held*(1+slack) - k.before[m]
			n = min(n, int(math.Floor(left/use+slack)))
		}
	}
	return n
}

// kept splits every day's units into pours.
func (k *keeper) kept() Kept {
	out := Kept{Started: k.totals, Worth: k.worth()}
	for d := range k.Days {
		for b, x := range k.Batches {
			sorts := make([]Sort, len(x.Items))
			for i := range sorts {
				sorts[i] = x.Items[i].Sort
				sorts[i].Units = k.units[b][d][i]
			}
			pots, _ := Split(sorts, k.pot(b))
			for _, units := range pots {
				out.Pours = append(out.Pours, Pour{Batch: b, Units: units, Day: d})
			}
		}
	}
	return out
}
