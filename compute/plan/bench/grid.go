package bench

// exactStates is up to how many combinations of units the plans are searched exactly.
const exactStates = 12_000

// states counts the combinations of started units; it stops counting beyond
// exactStates.
func (k *keeper) states() int {
	n := 1
	for _, b := range k.Batches {
		for _, i := range b.Items {
			if n *= i.Units + 1; n > exactStates {
				return n
			}
		}
	}
	return n
}

// cell is an item of a batch as an axis of the grid.
type axis struct{ batch, item, units, stride int }

// grid is all combinations of started units; a set of them is a []bool over
// its cells. Fewer units are never in the way, so that every set of what can
// be done holds, with a combination, all that are nowhere larger: it is given
// by its largest ones.
type grid struct {
	*keeper
	axes []axis
	size int
}

// keepExactly goes through the days: what can have been poured by the end of a
// day is what could the day before plus what one day takes, as far as the
// materials that are there by then allow. Of the last day's combinations the
// one of most worth is traced back.
func (k *keeper) keepExactly() {
	g := &grid{keeper: k, size: 1}
	for b, x := range k.Batches {
		for i := range x.Items {
			g.axes = append(g.axes, axis{b, i, x.Items[i].Units, g.size})
			g.size *= x.Items[i].Units + 1
		}
	}
	reach := make([]bool, g.size)
	reach[0] = true
	all := [][]bool{reach}
	days := make([][]bool, len(k.Days))
	for d := range k.Days {
		if d > 0 && g.sameDay(d-1, d) {
			days[d] = days[d-1]
		} else {
			days[d] = g.day(d)
		}
		reach = g.sum(reach, days[d], d)
		all = append(all, reach)
	}
	at := g.best(reach)
	for d := len(k.Days) - 1; d >= 0; d-- {
		v := g.step(all[d], days[d], at)
		for _, a := range g.axes {
			if n := g.count(v, a); n > 0 {
				k.add(a.batch, a.item, d, n)
			}
		}
		at -= v
	}
}

func (g *grid) count(state int, a axis) int { return state / a.stride % (a.units + 1) }

// sameDay reports whether two days allow the same: nothing is held on them and
// nothing is due between them.
func (g *grid) sameDay(d, e int) bool {
	if g.base[d] > 0 || g.base[e] > 0 {
		return false
	}
	for _, last := range g.lasts {
		if (d < last) != (e < last) {
			return false
		}
	}
	return true
}

// day is the combinations that one day takes.
func (g *grid) day(d int) []bool {
	ok := make([]bool, g.size)
	units := make([][]int, len(g.Batches))
	for b, x := range g.Batches {
		units[b] = make([]int, len(x.Items))
	}
	g.dayFrom(d, len(g.axes)-1, 0, units, ok)
	return ok
}

func (g *grid) dayFrom(d, n, state int, units [][]int, ok []bool) {
	if n < 0 {
		ok[state] = true
		return
	}
	a := g.axes[n]
	for u := 0; u <= a.units; u++ {
		units[a.batch][a.item] = u
		if u > 0 && (d >= g.lasts[a.batch] || !g.fitsDay(d, units)) {
			break
		}
		g.dayFrom(d, n-1, state+u*a.stride, units, ok)
	}
	units[a.batch][a.item] = 0
}

func (g *grid) fitsDay(d int, units [][]int) bool {
	minutes, kinds := g.base[d], append([]int(nil), g.kinds[d]...)
	for b := range units {
		some := false
		for _, u := range units[b] {
			some = some || u > 0
		}
		if some {
			minutes += g.dayMinutes(b, units[b])
			kinds = with(kinds, g.Batches[b].Kind)
		}
	}
	return within(minutes+g.sequence(kinds).minutes, g.Minutes)
}

// sum is what can be had by adding a day's to what could be had before.
func (g *grid) sum(before, day []bool, d int) []bool {
	out := make([]bool, g.size)
	tops := g.tops(day)
	for _, r := range g.tops(before) {
		for _, v := range tops {
			state := 0
			for _, a := range g.axes {
				state += min(g.count(r, a)+g.count(v, a), a.units) * a.stride
			}
			out[state] = true
		}
	}
	for _, a := range g.axes {
		for state := g.size - 1; state >= a.stride; state-- {
			if out[state] && g.count(state, a) > 0 {
				out[state-a.stride] = true
			}
		}
	}
	for state := range out {
		out[state] = out[state] && g.allowed(state, d)
	}
	return out
}

// tops is the largest combinations of a set.
func (g *grid) tops(set []bool) []int {
	var out []int
	for state, ok := range set {
		if !ok {
			continue
		}
		top := true
		for _, a := range g.axes {
			if g.count(state, a) < a.units && set[state+a.stride] {
				top = false
				break
			}
		}
		if top {
			out = append(out, state)
		}
	}
	return out
}

// allowed reports whether a combination poured by the end of day d takes no more
// of the materials that are still to come than is on hand.
func (g *grid) allowed(state, d int) bool {
	for m := range g.Stock {
		if d >= g.early[m] {
			continue
		}
		used := g.before[m]
		for _, a := range g.axes {
			used += float64(g.count(state, a)) * g.Batches[a.batch].Items[a.item].Use[m]
		}
		if !within(used, g.Stock[m].Held) {
			return false
		}
	}
	return true
}

// best is the combination of most worth, with the fewest units among equals.
func (g *grid) best(set []bool) int {
	pick, most, fewest := 0, -1.0, 0
	for state, ok := range set {
		if !ok {
			continue
		}
		worth, units := 0.0, 0
		for _, a := range g.axes {
			n := g.count(state, a)
			units += n
			x := g.Batches[a.batch].Items[a.item].Worth
			for _, v := range x[:min(g.Good(n), len(x))] {
				worth += v
			}
		}
		if worth > most+1e-9 || worth > most-1e-9 && units < fewest {
			pick, most, fewest = state, worth, units
		}
	}
	return pick
}

// step is what the day poured on the way to a combination: the least that could
// not have been poured before.
func (g *grid) step(before, day []bool, at int) int {
	for v := range day {
		if day[v] && g.below(v, at) && before[at-v] {
			return v
		}
	}
	return 0
}

func (g *grid) below(v, at int) bool {
	for _, a := range g.axes {
		if g.count(v, a) > g.count(at, a) {
			return false
		}
	}
	return true
}
