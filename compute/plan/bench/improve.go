package bench

import (
	"math"
	"math/rand/v2"
)

// appraise takes from the relaxation what the minutes of each day and the early
// units of each material are worth, so that the greedy filling spends what is scarce
// on what is worth it.
func (k *keeper) appraise() {
	l := k.newPrices()
	p := l.start(l.everything() / 2)
	if len(k.Held) == 0 {
		k.most = min(p.bound, l.everything())
	}
	top := 0.0
	for _, w := range p.minutes {
		top = max(top, w)
	}
	if top == 0 {
		return
	}
	for c, class := range l.classes {
		for d := class.first; d < class.first+class.days; d++ {
			k.minute[d] = max(p.minutes[c], top/100)
		}
	}
	for n, m := range l.stock {
		k.charge[m] = p.charge[n]
	}
}

func (k *keeper) worth() float64 {
	w := 0.0
	for b := range k.totals {
		for i, n := range k.totals[b] {
			x := k.Batches[b].Items[i].Worth
			for _, v := range x[:min(k.Good(n), len(x))] {
				w += v
			}
		}
	}
	return w
}

// improve clears a part and fills it anew, again and again.
func (k *keeper) improve(effort int) {
	if len(k.Days) == 0 || len(k.Batches) == 0 {
		return
	}
	rng := rand.New(rand.NewPCG(7, 11))
	best, now := k.worth(), k.worth()
	top, from := k.snapshot(), k.snapshot()
	start := k.looks
	for k.looks-start < effort && best < k.most*(1-1e-6) {
		k.clear(rng)
		for b := range k.taste {
			k.taste[b] = 1 + 0.3*(rng.Float64()-0.5)
		}
		nibble := rng.IntN(2) == 0
		for b := range k.bite {
			if k.bite[b] = math.MaxInt32; nibble && rng.IntN(2) == 0 {
				k.bite[b] = 1 + rng.IntN(8)
			}
		}
		k.thrift = 0.4 + 0.6*rng.Float64()
		k.fill()
		left := 1 - float64(k.looks-start)/float64(effort)
		w := k.worth()
		switch {
		case w > best+1e-9:
			best, now = w, w
			top, from = k.snapshot(), k.snapshot()
		case w >= now-1e-9, w > best*(1-0.01*left):
			now, from = w, k.snapshot()
		default:
			k.reset(from)
		}
	}
	k.reset(top)
}

// clear takes off a day or two, or a batch or two.
func (k *keeper) clear(rng *rand.Rand) {
	k.looks += len(k.Batches)*len(k.Days)/4 + 1
	for range 1 + rng.IntN(2) {
		if rng.IntN(3) > 0 {
			d := rng.IntN(len(k.Days))
			for b := range k.Batches {
				k.takeOff(b, d)
			}
		} else {
			b := rng.IntN(len(k.Batches))
			for d := range k.Days {
				k.takeOff(b, d)
			}
		}
	}
	k.stale()
}

// stale makes every offer be looked at anew.
func (k *keeper) stale() {
	for b := range k.offers {
		for i := range k.offers[b] {
			for d := range k.offers[b][i] {
				k.offers[b][i][d].fresh = false
			}
		}
	}
}

func (k *keeper) takeOff(b, d int) {
	for i, n := range k.units[b][d] {
		if n > 0 {
			k.add(b, i, d, -n)
		}
	}
}

func (k *keeper) snapshot() [][][]int {
	out := make([][][]int, len(k.units))
	for b := range k.units {
		for _, units := range k.units[b] {
			out[b] = append(out[b], append([]int(nil), units...))
		}
	}
	return out
}

func (k *keeper) reset(to [][][]int) {
	for b := range to {
		for d := range to[b] {
			for i, n := range to[b][d] {
				if diff := n - k.units[b][d][i]; diff != 0 {
					k.add(b, i, d, diff)
				}
			}
		}
	}
	k.stale()
}
