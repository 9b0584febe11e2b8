package bench

import (
	"math"
)

// Bound is an upper bound on the worth that any plan keeps, whatever its days;
// reached is the worth of a plan that is known, to aim at.
//
// The days are priced apart from the products (Lagrangian relaxation): a product
// sells its started units to the days at a price, and each day buys what is worth
// most within its minutes. Whatever the prices, no plan can be worth more
// than what the products keep, plus what the best day makes of each day, plus
// what the early materials are priced at; so every set of prices gives a
// proven bound, and the lowest met on a subgradient search is returned. A day is solved
// on a grid of minutes with every duration rounded down, each recipe after
// the first paying the cheaper change-over: both only raise the bound.
func (s *Shop) Bound(reached float64) float64 {
	l := s.newPrices()
	best := l.everything()
	if l.free() {
		return best
	}
	best = min(best, l.start(reached).bound)
	lowest, step, stuck := math.Inf(1), 0.3, 0
	for range boundRounds {
		v, slope := l.value()
		if lowest-v > 1e-7*math.Abs(v) {
			lowest, stuck = v, 0
		} else if stuck++; stuck >= 5 {
			step, stuck = step*0.6, 0
		}
		if lowest-reached < 1e-6*math.Abs(reached) || !l.move(slope, step*(v-reached)) {
			break
		}
	}
	return max(min(best, lowest), reached)
}

const boundRounds = 70

// prices are what a started unit of each item sells at, and what an early unit
// of each short material costs.
type prices struct {
	*Shop
	items   []priced
	first   []int // per batch: its first item in items
	price   []float64
	stock   []int // short materials
	charge  []float64
	early   []int // per short material
	classes []class
	menus   [][]dish // per batch
	cells   int      // of the grid of minutes
	minute  float64  // cells per minute
	wipe    int
}

type priced struct {
	batch, item int
	sum         []float64 // worth of the first n started units
}

// class is days on which the same may be poured.
type class struct {
	first, days int
	batches     []bool
	early       []bool // per short material: it is not there yet
}

// dish is a pour that a day may buy.
type dish struct {
	units []int
	cells int
}

func (s *Shop) newPrices() *prices {
	l := &prices{Shop: s}
	l.grid()
	for b, x := range s.Batches {
		l.first = append(l.first, len(l.items))
		for i := range x.Items {
			l.items = append(l.items, priced{b, i, s.sums(x.Items[i])})
		}
		l.menus = append(l.menus, l.menu(b))
	}
	l.price = make([]float64, len(l.items))
	l.findStock()
	l.charge = make([]float64, len(l.stock))
	l.findClasses()
	return l
}

// sums is the worth of the first n started units of an item, for every n.
func (s *Shop) sums(x Item) []float64 {
	out := make([]float64, x.Units+1)
	for n := 1; n <= x.Units; n++ {
		out[n] = out[n-1]
		for g := s.Good(n - 1); g < min(s.Good(n), len(x.Worth)); g++ {
			out[n] += x.Worth[g]
		}
	}
	return out
}

// grid chooses the cells of a day: one a minute where every duration is whole
// minutes, else finer.
func (l *prices) grid() {
	whole := l.Minutes <= 480
	check := func(v float64) { whole = whole && math.Abs(v-math.Round(v)) < 1e-9 }
	check(l.Minutes)
	check(l.Wipe)
	check(l.Wash)
	for _, b := range l.Batches {
		check(b.Fixed)
		for _, i := range b.Items {
			check(i.Minutes)
		}
	}
	l.cells = 480
	if whole {
		l.cells = int(math.Round(l.Minutes))
	}
	l.minute = float64(l.cells) / l.Minutes
	l.wipe = l.cellsOf(math.Min(l.Wipe, l.Wash))
}

func (l *prices) cellsOf(minutes float64) int { return int(math.Floor(minutes*l.minute + 1e-6)) }

// menuSize is up to how many different pours of a batch are listed.
const menuSize = 3000

// menu lists the pours of a batch. A batch so mixed that there are too many is
// listed as single units with their share of a pour's own minutes, which only
// raises the bound.
func (l *prices) menu(b int) []dish {
	x := l.Batches[b]
	sorts := make([]Sort, len(x.Items))
	for i := range sorts {
		sorts[i] = x.Items[i].Sort
	}
	var out []dish
	units := make([]int, len(sorts))
	var list func(i int)
	list = func(i int) {
		if len(out) > menuSize {
			return
		}
		if i == len(sorts) {
			out = append(out, dish{append([]int(nil), units...), l.cellsOf(l.Shop.minutes(b, units))})
			return
		}
		for n := min(sorts[i].Units, room(sorts, l.pot(b), units, i)); n >= 0; n-- {
			units[i] = n
			list(i + 1)
		}
		units[i] = 0
	}
	list(0)
	if len(out) <= menuSize {
		return out[:len(out)-1] // the last is the empty pour
	}
	out = out[:0]
	for i := range sorts {
		one := make([]int, len(sorts))
		one[i] = 1
		share := sorts[i].Grams / l.Pitcher * x.Fixed
		out = append(out, dish{one, l.cellsOf(sorts[i].Minutes + share)})
	}
	return out
}

// findStock finds the materials that can be short before they arrive.
func (l *prices) findStock() {
	for m, stock := range l.Stock {
		total, early := 0.0, 0
		for _, b := range l.Batches {
			for _, i := range b.Items {
				total += float64(i.Units) * i.Use[m]
			}
		}
		for early < len(l.Days) && l.Days[early] < stock.Arrives {
			early++
		}
		if early > 0 && !within(total, stock.Held) {
			l.stock, l.early = append(l.stock, m), append(l.early, early)
		}
	}
}

func (l *prices) findClasses() {
	for d := range l.Days {
		c := class{first: d, days: 1}
		for b := range l.Batches {
			c.batches = append(c.batches, d < l.last(b))
		}
		for _, e := range l.early {
			c.early = append(c.early, d < e)
		}
		if n := len(l.classes); n > 0 && same(l.classes[n-1].batches, c.batches) && same(l.classes[n-1].early, c.early) {
			l.classes[n-1].days++
			continue
		}
		l.classes = append(l.classes, c)
	}
}

func same(a, b []bool) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// free reports whether a pour takes no time that can be counted, and a day then
// has no best.
func (l *prices) free() bool {
	for _, menu := range l.menus {
		for _, x := range menu {
			if x.cells == 0 {
				return true
			}
		}
	}
	return len(l.items) == 0
}

// everything is the worth of all units.
func (l *prices) everything() float64 {
	v := 0.0
	for _, x := range l.items {
		v += x.sum[len(x.sum)-1]
	}
	return v
}

// value is the bound at the prices, and how it changes with each of them.
func (l *prices) value() (float64, []float64) {
	slope := make([]float64, len(l.price)+len(l.charge))
	v := 0.0
	for n, x := range l.items {
		gain, units := bestUnits(x.sum, l.price[n])
		v += gain
		slope[n] -= float64(units)
	}
	for _, c := range l.classes {
		got, bought := l.bestDay(c)
		v += got * float64(c.days)
		for n, u := range bought {
			slope[n] += u * float64(c.days)
			for k, early := range c.early {
				if early {
					x := l.items[n]
					slope[len(l.price)+k] -= u * float64(c.days) * l.Batches[x.batch].Items[x.item].Use[l.stock[k]]
				}
			}
		}
	}
	for k, m := range l.stock {
		v += l.charge[k] * l.Stock[m].Held
		slope[len(l.price)+k] += l.Stock[m].Held
	}
	return v, slope
}

// move goes against the slope by a Polyak step; false when the slope is flat.
// Materials are scaled by what is on hand, so that grams and pieces move alike.
func (l *prices) move(slope []float64, gain float64) bool {
	scale := make([]float64, len(slope))
	for n := range slope {
		scale[n] = 1
		if n >= len(l.price) {
			held := math.Max(1, l.Stock[l.stock[n-len(l.price)]].Held)
			scale[n] = 100 / (held * held)
		}
	}
	return step(slope, scale, gain, 0, l.price, l.charge)
}

// step takes gain off along the slope, in the scales of its parts, from values
// that never get below 0: those of more stand behind those of first. It is false
// when the slope's square is not above flat.
func step(slope, scale []float64, gain, flat float64, first, more []float64) bool {
	norm := 0.0
	for n := range slope {
		norm += slope[n] * slope[n] * scale[n]
	}
	if norm <= flat || gain <= 0 {
		return false
	}
	for n := range slope {
		values, i := first, n
		if n >= len(first) {
			values, i = more, n-len(first)
		}
		values[i] = math.Max(0, values[i]-gain/norm*slope[n]*scale[n])
	}
	return true
}
