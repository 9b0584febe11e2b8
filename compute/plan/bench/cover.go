package bench

import (
	"cmp"
	"math"
	"slices"
)

// Size is a pack size: base units, and the price with freight.
type Size struct{ Units, Price float64 }

// Cover is how many packs of each size cover a need at the least cost, with the
// least left over among equals. It is exact: sizes are tried from the cheapest
// unit on, and a branch is cut where even its rest at the cheapest unit price left
// costs more than the best so far.
func Cover(need float64, sizes []Size) []int {
	c := &covering{sizes: sizes, counts: make([]int, len(sizes)), cost: math.Inf(1), nodes: coverNodes}
	for i, s := range sizes {
		if s.Units > 0 && s.Price >= 0 {
			c.by = append(c.by, i)
		}
	}
	slices.SortStableFunc(c.by, func(a, b int) int { return cmp.Compare(c.unitPrice(a), c.unitPrice(b)) })
	if need <= 0 || len(c.by) == 0 {
		return c.counts
	}
	c.need = need * (1 - 1e-9)
	c.try(0, 0, 0)
	return c.best
}

// coverNodes bounds the search where several sizes cost the same per unit and
// thousands of packs are needed; the best found by then is taken.
const coverNodes = 2_000_000

type covering struct {
	sizes  []Size
	by     []int // sizes by falling worth for money
	need   float64
	counts []int
	best   []int
	cost   float64 // of the best
	got    float64 // units of the best
	nodes  int
}

func (c *covering) unitPrice(i int) float64 { return c.sizes[i].Price / c.sizes[i].Units }

func (c *covering) try(n int, got, cost float64) {
	left := c.need - got
	if left <= 0 {
		c.offer(got, cost)
		return
	}
	if c.nodes--; n == len(c.by) || c.nodes < 0 {
		return
	}
	i := c.by[n]
	s := c.sizes[i]
	for k := int(math.Ceil(left / s.Units)); k >= 0; k-- {
		c.counts[i] = k
		now := cost + float64(k)*s.Price
		if rest := left - float64(k)*s.Units; rest > 0 {
			if n+1 == len(c.by) || c.beaten(now+rest*c.unitPrice(c.by[n+1])) {
				break // fewer of the cheapest only cost more
			}
		}
		c.try(n+1, got+float64(k)*s.Units, now)
	}
	c.counts[i] = 0
}

// beaten reports whether a cost is above the best, a rounding error apart.
func (c *covering) beaten(cost float64) bool { return cost > c.cost+1e-9*math.Max(1, c.cost) }

func (c *covering) offer(got, cost float64) {
	same := math.Abs(cost-c.cost) <= 1e-9*math.Max(1, math.Abs(cost))
	if c.best != nil && (c.beaten(cost) || same && got >= c.got*(1-1e-12)) {
		return
	}
	c.best, c.cost, c.got = slices.Clone(c.counts), cost, got
}
