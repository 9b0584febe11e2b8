package bench

import (
	"math"
	"slices"
)

// pool is the days' minutes as if they were poured from freely: what a minute of
// a class of days is worth, and what an early unit of a material. It is the dual of
// the linear relaxation, in which a unit bears its share of a pour's minutes.
type pool struct {
	*prices
	minutes []float64 // worth of a minute, per class
	charge  []float64 // worth of an early unit, per short material
	bound   float64
}

// start prices the units and the materials by the best pool that a subgradient
// search meets, which it gives.
func (l *prices) start(reached float64) pool {
	p := &pool{l, make([]float64, len(l.classes)), make([]float64, len(l.stock)), math.Inf(1)}
	best := *p
	rate := reached / (float64(max(1, len(l.Days))) * l.Minutes)
	for c := range p.minutes {
		p.minutes[c] = rate / 2
	}
	step, stuck := 1.0, 0
	for range poolRounds {
		v, slope := p.value()
		if best.bound-v > 1e-7*math.Abs(v) {
			best = pool{l, slices.Clone(p.minutes), slices.Clone(p.charge), v}
			stuck = 0
		} else if stuck++; stuck >= 8 {
			step, stuck = step*0.7, 0
		}
		if !p.move(slope, step*(v-reached)) {
			break
		}
	}
	best.sell()
	return best
}

const poolRounds = 400

// cost is the least that a started unit of an item costs in any class of days.
func (p *pool) cost(n int) (float64, int) {
	x := p.items[n]
	item := p.Batches[x.batch].Items[x.item]
	share := item.Minutes + p.Batches[x.batch].Fixed*item.Grams/p.Pitcher
	least, at := math.Inf(1), -1
	for c, class := range p.classes {
		if !class.batches[x.batch] {
			continue
		}
		cost := p.minutes[c] * share
		for k, early := range class.early {
			if early {
				cost += p.charge[k] * item.Use[p.stock[k]]
			}
		}
		if cost < least {
			least, at = cost, c
		}
	}
	return least, at
}

func (p *pool) value() (float64, []float64) {
	slope := make([]float64, len(p.minutes)+len(p.charge))
	v := 0.0
	for c, class := range p.classes {
		slope[c] = float64(class.days) * p.Minutes
		v += p.minutes[c] * slope[c]
	}
	for k, m := range p.stock {
		slope[len(p.minutes)+k] = p.Stock[m].Held
		v += p.charge[k] * p.Stock[m].Held
	}
	for n, x := range p.items {
		cost, c := p.cost(n)
		if c < 0 {
			continue
		}
		gain, units := bestUnits(x.sum, cost)
		v += gain
		item := p.Batches[x.batch].Items[x.item]
		slope[c] -= float64(units) * (item.Minutes + p.Batches[x.batch].Fixed*item.Grams/p.Pitcher)
		for k, early := range p.classes[c].early {
			if early {
				slope[len(p.minutes)+k] -= float64(units) * item.Use[p.stock[k]]
			}
		}
	}
	return v, slope
}

// bestUnits is how many started units are worth most at a cost each.
func bestUnits(sum []float64, cost float64) (gain float64, units int) {
	for u, w := range sum {
		if got := w - float64(u)*cost; got > gain+1e-12 {
			gain, units = got, u
		}
	}
	return gain, units
}

func (p *pool) move(slope []float64, gain float64) bool {
	scale := make([]float64, len(slope))
	for n := range slope {
		size := p.Minutes
		if n >= len(p.minutes) {
			size = math.Max(1, p.Stock[p.stock[n-len(p.minutes)]].Held)
		} else {
			size *= float64(p.classes[n].days)
		}
		scale[n] = 1 / (size * size)
	}
	return step(slope, scale, gain, 1e-18, p.minutes, p.charge)
}

// sell takes the pool's costs for prices.
func (p *pool) sell() {
	for n := range p.items {
		if cost, c := p.cost(n); c >= 0 {
			p.price[n] = cost
		}
	}
	copy(p.prices.charge, p.charge)
}
