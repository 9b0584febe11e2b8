package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pourbook/compute/oracle"
)

// potModel is a batch in at most n pots. Without a band the least number of them
// is wanted; with one all n are poured, and the least difference in grams
// between the heaviest and the lightest.
func potModel(sorts []Sort, pot Pot, n int, band bool) string {
	m := &model{}
	poured := make([][]string, len(sorts))
	for p := range n {
		grams, minutes := []string{}, []string{}
		for i, s := range sorts {
			u := m.integer(fmt.Sprintf("u%d_%d", p, i), float64(s.Units))
			poured[i] = append(poured[i], term(1, u))
			grams, minutes = append(grams, term(s.Grams, u)), append(minutes, term(s.Minutes, u))
		}
		if band {
			m.row(append(grams, "- top"), "<=", 0)
			m.row(append(grams, "- low"), ">=", 0)
			m.row(grams, "<=", pot.Grams)
			m.row(minutes, "<=", pot.Minutes)
			continue
		}
		z := m.integer(fmt.Sprintf("z%d", p), 1)
		m.goal = append(m.goal, term(1, z))
		m.row(append(grams, term(-pot.Grams, z)), "<=", 0)
		m.row(append(minutes, term(-pot.Minutes, z)), "<=", 0)
		if p > 0 {
			m.row([]string{term(1, z), term(-1, fmt.Sprintf("z%d", p-1))}, "<=", 0)
		}
	}
	for i, s := range sorts {
		m.row(poured[i], "=", float64(s.Units))
	}
	if band {
		m.goal = []string{"top - low"}
	}
	return m.text("Minimize")
}

// Batches of up to three jars split into pots: GLPK needs as many, and for every
// two of them, and for all where they are three, finds no more equal way of
// sharing out their units.
func TestPoursOfABatchAgainstGLPK(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	cases := 0
	for range 40 {
		pot := Pot{float64(900 + 100*rng.IntN(8)), float64(30 + rng.IntN(60))}
		var sorts []Sort
		for range 1 + rng.IntN(3) {
			sorts = append(sorts, Sort{1 + rng.IntN(6), float64(80 + rng.IntN(420)), float64(1 + rng.IntN(6))})
		}
		pots, ok := Split(sorts, pot)
		if !ok {
			t.Fatalf("%v does not fit %v", sorts, pot)
		}
		if least, ok := glpsol(t, potModel(sorts, pot, len(pots)+1, false)); !ok || int(math.Round(least)) != len(pots) {
			t.Errorf("%v in %d pots of %v, GLPK needs %v", sorts, len(pots), pot, least)
		}
		cases++
		for a := range pots {
			for b := range a {
				both := make([]Sort, len(sorts))
				for i, s := range sorts {
					both[i] = Sort{pots[a][i] + pots[b][i], s.Grams, s.Minutes}
				}
				ga, _ := load(sorts, pots[a])
				gb, _ := load(sorts, pots[b])
				if gap, ok := glpsol(t, potModel(both, pot, 2, true)); !ok || math.Abs(math.Abs(ga-gb)-gap) > 1e-6*pot.Grams {
					t.Errorf("%v: pots %v and %v differ by %v g, GLPK's by %v", sorts, pots[a], pots[b], math.Abs(ga-gb), gap)
				}
				cases++
			}
		}
		if len(pots) == 3 {
			heavy, _ := load(sorts, pots[0])
			light, _ := load(sorts, pots[2])
			if gap, ok := glpsol(t, potModel(sorts, pot, 3, true)); !ok || math.Abs(heavy-light-gap) > 1e-6*pot.Grams {
				t.Errorf("%v: pots %v differ by %v g, GLPK's by %v", sorts, pots, heavy-light, gap)
			}
			cases++
		}
	}
	oracle.Cases(t, cases)
}
