package bench

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawSizes(t *rapid.T) (float64, []Size) {
	var sizes []Size
	for range rapid.IntRange(1, 4).Draw(t, "sizes") {
		sizes = append(sizes, Size{float64(rapid.IntRange(1, 40).Draw(t, "units")), float64(rapid.IntRange(0, 2000).Draw(t, "price")) / 100})
	}
	return float64(rapid.IntRange(1, 900).Draw(t, "need")) / 10, sizes
}

// cheapest goes through all counts: the least cost, and then the least units.
func cheapest(need float64, sizes []Size) (cost, units float64) {
	cost = math.Inf(1)
	var from func(i int, got, paid float64)
	from = func(i int, got, paid float64) {
		if got >= need*(1-1e-9) {
			if paid < cost-1e-9 || paid < cost+1e-9 && got < units {
				cost, units = paid, got
			}
			return
		}
		if i == len(sizes) {
			return
		}
		for n := 0; ; n++ {
			from(i+1, got+float64(n)*sizes[i].Units, paid+float64(n)*sizes[i].Price)
			if got+float64(n)*sizes[i].Units >= need {
				return
			}
		}
	}
	from(0, 0, 0)
	return cost, units
}

func TestCoverIsTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		need, sizes := drawSizes(t)
		cost, units := cheapest(need, sizes)
		paid, got := 0.0, 0.0
		for i, n := range Cover(need, sizes) {
			paid += float64(n) * sizes[i].Price
			got += float64(n) * sizes[i].Units
		}
		if math.Abs(paid-cost) > 1e-9 || got != units {
			t.Fatalf("%v for %v, the least is %v for %v", got, paid, units, cost)
		}
	})
}

func TestCoverAtItsEdges(t *testing.T) {
	same := func(name string, got []int, want ...int) {
		t.Helper()
		for i := range want {
			if len(got) != len(want) || got[i] != want[i] {
				t.Errorf("%s: %v, want %v", name, got, want)
				return
			}
		}
	}
	same("nothing needed", Cover(0, []Size{{10, 1}}), 0)
	same("no size", Cover(5, nil))
	same("exactly one", Cover(16*28.349523125, []Size{{453.59237, 9}}), 1)
	same("one large beats three small", Cover(250, []Size{{100, 5}, {1000, 14}}), 0, 1)
	same("a small one on top", Cover(1050, []Size{{100, 5}, {1000, 14}}), 1, 1)
	same("equal cost, less left over", Cover(90, []Size{{200, 10}, {100, 10}}), 0, 1)
	same("a size without units", Cover(90, []Size{{0, 1}, {100, 10}}), 0, 1)
}

// Four sizes at nearly one price per unit are the worst case of the search.
func TestCoverOfThousandsOfPacksIsQuick(t *testing.T) {
	got, paid := 0.0, 0.0
	sizes := []Size{{31, 3.1}, {53, 5.3}, {71, 7.1}, {113, 11.3}}
	for i, n := range Cover(99_999, sizes) {
		got += float64(n) * sizes[i].Units
		paid += float64(n) * sizes[i].Price
	}
	if got != 99_999 || math.Abs(paid-9999.9) > 1e-6 {
		t.Errorf("%v for %v", got, paid)
	}
}
