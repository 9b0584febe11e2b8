package bench

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/day"
)

// draw gives a number from low to high: a property's, or a seeded random one.
type draw func(low, high int) int

func drawn(t *rapid.T) draw {
	return func(low, high int) int { return rapid.IntRange(low, high).Draw(t, "n") }
}

func seeded(seed uint64) draw {
	rng := rand.New(rand.NewPCG(seed, 1))
	return func(low, high int) int { return low + rng.IntN(high-low+1) }
}

// drawShop draws a shop with some recipes in both finishes, several jars, short
// days, and materials that may have to arrive.
func drawShop(n draw, recipes, mostUnits, mostDays int) *Shop {
	num := func(low, high int) float64 { return float64(n(low, high)) }
	s := &Shop{
		Minutes: num(60, 200), Pitcher: num(500, 2000), Reject: num(0, 20) / 100, Wipe: num(0, 5), Wash: num(0, 15),
		Stock: []Stock{{num(0, 40), day.Date(n(0, mostDays))}, {1e9, 0}},
	}
	for d := range n(1, mostDays) {
		s.Days = append(s.Days, day.Date(d))
	}
	jars := []Sort{{0, num(80, 250), num(2, 5)}, {0, num(200, 500), num(2, 5)}}
	for r := range recipes {
		dye := n(1, 2)
		for _, natural := range []bool{true, false} {
			if n(0, 2) == 0 {
				continue
			}
			k := Kind{Recipe: r, Natural: natural}
			fixed := 20.0
			if !natural {
				k.Dye, k.Drops, fixed = dye, num(1, 9)/100, 28
			}
			s.Kinds = append(s.Kinds, k)
			b := Batch{Kind: len(s.Kinds) - 1, Due: day.Date(n(0, mostDays)), Fixed: fixed}
			for _, j := range jars[:n(1, 2)] {
				j.Units = n(1, mostUnits)
				b.Items = append(b.Items, Item{Sort: j, Worth: drawWorth(n, s.Good(j.Units)), Use: []float64{1, j.Grams}})
			}
			s.Batches = append(s.Batches, b)
		}
	}
	return s
}

func drawWorth(n draw, units int) []float64 {
	w := make([]float64, units)
	for i := range w {
		w[i] = float64(n(1, 2000)) / 100
	}
	slices.Sort(w)
	slices.Reverse(w)
	return w
}

// failer is a test or a property.
type failer interface{ Fatalf(string, ...any) }

// checkPlan fails where a plan breaks a rule of the bench.
func checkPlan(t failer, s *Shop, p Plan) {
	early := make([]float64, len(s.Stock))
	minutes := make([]float64, len(s.Days))
	last := -1
	for n, x := range p.Pours {
		b := s.Batches[x.Batch]
		if x.Day < 0 || x.Day < last {
			t.Fatalf("pour %d is on day %d after day %d", n, x.Day, last)
		}
		if s.Days[x.Day] > b.Due {
			t.Fatalf("pour %d is late", n)
		}
		change := 0.0
		if x.Day == last {
			change = s.Changeover(s.Batches[p.Pours[n-1].Batch].Kind, b.Kind)
		}
		if change != p.Changeover[n] {
			t.Fatalf("pour %d: change-over %v, want %v", n, p.Changeover[n], change)
		}
		last = x.Day
		grams := 0.0
		for i, u := range x.Units {
			grams += float64(u) * b.Items[i].Grams
			for m, use := range b.Items[i].Use {
				if s.Days[x.Day] < s.Stock[m].Arrives {
					early[m] += float64(u) * use
				}
			}
		}
		if grams > s.Pitcher*(1+1e-9) || grams == 0 {
			t.Fatalf("pour %d: %v g in a pitcher of %v", n, grams, s.Pitcher)
		}
		minutes[x.Day] += change + s.minutes(x.Batch, x.Units)
	}
	for d, m := range minutes {
		if m > s.Minutes*(1+1e-9) {
			t.Fatalf("day %d takes %v of %v minutes", d, m, s.Minutes)
		}
	}
	for m, v := range early {
		if v > s.Stock[m].Held*(1+1e-9) {
			t.Fatalf("material %d: %v taken before it is there, %v on hand", m, v, s.Stock[m].Held)
		}
	}
	checkUnits(t, s, p)
}

func checkUnits(t failer, s *Shop, p Plan) {
	fits, worth := true, 0.0
	for b, x := range s.Batches {
		for i, item := range x.Items {
			n := p.Started[b][i]
			if n > item.Units {
				t.Fatalf("batch %d: %d of %d units started", b, n, item.Units)
			}
			fits = fits && n == item.Units
			for _, w := range item.Worth[:min(s.Good(n), len(item.Worth))] {
				worth += w
			}
		}
	}
	if fits != p.Fits || math.Abs(worth-p.Worth) > 1e-9*(1+worth) {
		t.Fatalf("fits %v, worth %v; want %v, %v", p.Fits, p.Worth, fits, worth)
	}
}

func TestPlansKeepToTheBench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawShop(drawn(t), rapid.IntRange(1, 5).Draw(t, "recipes"), 12, 8)
		p := s.Plan(2000)
		checkPlan(t, s, p)
		if p.Fits {
			return
		}
		if b := s.Bound(p.Worth); b < p.Worth {
			t.Fatalf("the bound %v is below the plan's %v", b, p.Worth)
		}
	})
}

func TestTwoTurnsShareTheBench(t *testing.T) {
	partly := 0
	for seed := range uint64(150) {
		n := seeded(seed)
		s := drawShop(n, 3, 5, 4)
		for b := range s.Batches {
			s.Batches[b].Turn = n(0, 1)
		}
		p := s.Plan(2000)
		checkPlan(t, s, p)
		if p.Fits {
			continue
		}
		partly++
		// the first turn gets what it would get alone
		first := s.only(0)
		alone, small := first.Plan(2000), first.newKeeper().states() <= exactStates
		for b := range s.Batches {
			if s.Batches[b].Turn == 0 && small && !slices.Equal(alone.Started[b], p.Started[b]) {
				t.Fatalf("seed %d, batch %d of the first turn: %v, alone %v", seed, b, p.Started[b], alone.Started[b])
			}
		}
	}
	if partly < 50 {
		t.Errorf("only %d plans leave something out", partly)
	}
}
