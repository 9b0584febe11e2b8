package plan

import (
	"math"

	"pourbook/compute/calc"
	"pourbook/compute/stat"
)

// bring decides how many of each product to bring: what its own chances ask for,
// as far as the market as a whole and the table have room.
func (r *run) bring(o *outing) {
	limit := r.room(o)
	for i, q := range capped(o.chances, limit) {
		d, c := &o.demand[i], &o.chances[i]
		d.Bring = q
		if !c.known {
			continue
		}
		d.ExpectedSold, d.Contribution = r.earns(d, q)
	}
}

// earns is what a quantity of a product is expected to sell and to contribute,
// before the booth fee.
func (r *run) earns(d *Demand, q int) (sold, contribution *calc.Figure) {
	code := d.Product
	quantity := calc.Const(float64(q))
	sold = stat.ExpectedMin(d.Mean, d.R, quantity).Named("plan.expected-sold", code)
	if q == 0 {
		return sold, calc.Zero
	}
	left := calc.Mul(d.Over, calc.Sub(quantity, sold))
	return sold, calc.Sub(calc.Mul(d.Under, sold), left).Named("plan.contribution", code)
}

// room is the most units to bring in all: as many as the market as a whole asks
// for, since a scent that is missing is mostly replaced by another, and no more
// than the table holds.
func (r *run) room(o *outing) int {
	weight, ratio := 0.0, 0.0
	for _, c := range o.chances {
		if c.critical > 0 {
			weight += c.Mean
			ratio += c.Mean * c.critical
		}
	}
	if weight <= 0 {
		return 0
	}
	total := stat.NegBin{Mean: o.total.Or(0), R: o.chances[0].R}
	limit := total.Quantile(ratio / weight)
	if o.of.Capacity.OK() {
		limit = min(limit, int(calc.FloorOf(math.Max(0, o.of.Capacity.V))))
	}
	return limit
}

// capped is what to bring of each product where at most limit units can be
// brought: unit by unit whatever is worth the most, ties in table order, none
// that is worth nothing.
func capped(chances []chance, limit int) []int {
	out := make([]int, len(chances))
	sum := 0
	for i, c := range chances {
		out[i] = c.uncapped
		sum += c.uncapped
	}
	if sum <= limit {
		return out
	}
	clear(out)
	next := make([]float64, len(chances))
	for i := range chances {
		next[i] = chances[i].next(0)
	}
	for range limit {
		best := -1
		for i, w := range next {
			if w > 0 && (best < 0 || w > next[best]+1e-12*math.Abs(w)) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		out[best]++
		next[best] = chances[best].next(out[best])
	}
	return out
}

// next is what one more unit than have is worth; 0 where the product's own
// chances ask for no more.
func (c *chance) next(have int) float64 {
	if have >= c.uncapped {
		return 0
	}
	return c.worth(have + 1)
}
