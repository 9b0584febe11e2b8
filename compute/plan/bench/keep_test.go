package bench

import (
	"math"
	"testing"
)

// bestWorth goes through every choice of units for every day.
func bestWorth(s *Shop) float64 {
	k := s.newKeeper()
	best := 0.0
	type slot struct{ b, i, d int }
	var slots []slot
	for b, x := range s.Batches {
		for i := range x.Items {
			for d := range k.lasts[b] {
				slots = append(slots, slot{b, i, d})
			}
		}
	}
	var from func(n int)
	from = func(n int) {
		best = math.Max(best, k.worth())
		if n == len(slots) {
			return
		}
		x := slots[n]
		from(n + 1)
		added := 0
		for k.totals[x.b][x.i] < s.Batches[x.b].Items[x.i].Units {
			k.add(x.b, x.i, x.d, 1)
			added++
			if k.load[x.d] > s.Minutes*(1+1e-9) || !k.stocked() {
				break
			}
			from(n + 1)
		}
		k.add(x.b, x.i, x.d, -added)
	}
	from(0)
	return best
}

func (k *keeper) stocked() bool {
	for m, v := range k.before {
		if v > k.Stock[m].Held*(1+1e-9) {
			return false
		}
	}
	return true
}

func TestSmallPlansKeepTheMostWorth(t *testing.T) {
	partly := 0
	for seed := range uint64(300) {
		s := drawShop(seeded(seed), 2, 4, 2)
		if states := s.newKeeper().states(); states > 300 || states == 1 {
			continue
		}
		want := bestWorth(s)
		k := s.Keep(0)
		if !k.Exact || math.Abs(k.Worth-want) > 1e-9 {
			t.Fatalf("seed %d: kept %v (exact %v), the best is %v", seed, k.Worth, k.Exact, want)
		}
		if b := s.Bound(k.Worth); b < want-1e-9 {
			t.Fatalf("seed %d: the bound %v is below %v", seed, b, want)
		}
		if want > 0 && want < total(s)-1e-9 {
			partly++
		}
	}
	if partly < 30 {
		t.Errorf("only %d plans keep a part", partly)
	}
}

func TestFilledPlansComeNearTheBest(t *testing.T) {
	short, bound, all, partly := 0.0, 0.0, 0.0, 0
	for seed := range uint64(150) {
		s := drawShop(seeded(seed), 2, 9, 4)
		if states := s.newKeeper().states(); states > exactStates || states == 1 {
			continue
		}
		best := s.Keep(0).Worth
		if b := s.Bound(0); b < best-1e-9 {
			t.Fatalf("seed %d: the bound %v is below %v", seed, b, best)
		}
		if best == 0 || best > total(s)-1e-9 {
			continue
		}
		partly++
		k := s.newKeeper()
		k.appraise()
		k.fill()
		k.improve(50_000)
		checkPlan(t, s, s.finish(k.kept().Pours, false, false))
		if w := k.worth(); w > best+1e-9 {
			t.Fatalf("seed %d: filled %v, more than the best %v", seed, w, best)
		}
		short += best - k.worth()
		bound += s.Bound(best) - best
		all += best
	}
	t.Logf("%d plans: %.2f%% short of the best, the bound %.2f%% above it", partly, 100*short/all, 100*bound/all)
	if short > 0.02*all || bound > 0.08*all || partly < 40 {
		t.Errorf("%d plans: %.2f%% short of the best, the bound %.2f%% above it", partly, 100*short/all, 100*bound/all)
	}
}
