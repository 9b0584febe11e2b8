package bench

import (
	"math/rand/v2"
	"slices"
	"testing"

	"pourbook/compute/day"
)

// largeShop is 10 recipes in two finishes and two jars: 40 products, 12 evenings.
func largeShop(units int, minutes float64) *Shop {
	rng := rand.New(rand.NewPCG(1, 2))
	s := &Shop{Minutes: minutes, Pitcher: 1800, Reject: 0.01, Wipe: 3, Wash: 10, Stock: []Stock{{float64(units) * 10, 5}, {1e9, 0}}}
	for d := range 12 {
		s.Days = append(s.Days, day.Date(d))
	}
	for r := range 10 {
		s.Kinds = append(s.Kinds, Kind{Recipe: r, Natural: true}, Kind{Recipe: r, Dye: 1 + r%4, Drops: float64(r%5) / 100})
		for n, fixed := range []float64{20, 28} {
			b := Batch{Kind: 2*r + n, Due: day.Date(8 + r%4), Fixed: fixed}
			for _, g := range []float64{131, 237} {
				x := Item{Sort: Sort{units/2 + rng.IntN(units) + n*units/2, g, 2 + g/100}, Use: []float64{1, g}}
				for range s.Good(x.Units) {
					x.Worth = append(x.Worth, 8*g/237*rng.Float64())
				}
				slices.Sort(x.Worth)
				slices.Reverse(x.Worth)
				b.Items = append(b.Items, x)
			}
			s.Batches = append(s.Batches, b)
		}
	}
	return s
}

func total(s *Shop) float64 {
	v := 0.0
	for _, b := range s.Batches {
		for _, i := range b.Items {
			for _, w := range i.Worth {
				v += w
			}
		}
	}
	return v
}

func BenchmarkLargePlanThatFits(b *testing.B) {
	for b.Loop() {
		s := largeShop(8, 300)
		p := s.Plan(700_000)
		change := 0.0
		for _, c := range p.Changeover {
			change += c
		}
		b.ReportMetric(float64(len(p.Pours)), "pours")
		b.ReportMetric(change, "changeover")
		b.ReportMetric(s.newBoard(p.Pours).changeFloor(12), "floor")
		if !p.Fits {
			b.Fatal("does not fit")
		}
	}
}

func BenchmarkLargePlanThatDoesNotFit(b *testing.B) {
	for b.Loop() {
		s := largeShop(8, 180)
		p := s.Plan(700_000)
		bound := s.Bound(p.Worth)
		b.ReportMetric(float64(len(p.Pours)), "pours")
		b.ReportMetric(100*(bound-p.Worth)/total(s), "%gap")
		b.ReportMetric(100*p.Worth/total(s), "%kept")
	}
}
