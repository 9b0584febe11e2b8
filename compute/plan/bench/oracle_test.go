package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

// glpsol solves a model in the CPLEX format with GLPK, which Debian has as
// glpk-utils, and gives the optimum; false when there is no solution.
func glpsol(t *testing.T, model string) (float64, bool) {
	t.Helper()
	oracle.Need(t, oracle.GLPK)
	dir := t.TempDir()
	in, out := filepath.Join(dir, "model.lp"), filepath.Join(dir, "out")
	if err := os.WriteFile(in, []byte(model), 0o600); err != nil {
		t.Fatal(err)
	}
	oracle.Run(t, "glpsol", "--lp", in, "-w", out, "--tmlim", "120", "--mir", "--cover")
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if len(f) == 6 && f[0] == "s" && f[1] == "mip" {
			v, err := strconv.ParseFloat(f[5], 64)
			if err != nil {
				t.Fatal(line)
			}
			if f[4] != "o" && f[4] != "n" {
				t.Fatal("GLPK ran out of time")
			}
			return v, f[4] == "o"
		}
	}
	t.Fatalf("no answer in\n%s", text)
	return 0, false
}

// model collects a linear program.
type model struct {
	goal   []string
	rows   []string
	bounds []string
	whole  []string
}

func (m *model) row(terms []string, sense string, v float64) {
	if len(terms) > 0 {
		m.rows = append(m.rows, fmt.Sprintf(" r%d: %s %s %.12g", len(m.rows), strings.Join(terms, " "), sense, v))
	}
}

func term(c float64, name string) string { return fmt.Sprintf("%+.12g %s", c, name) }

func (m *model) text(sense string) string {
	return sense + "\n goal: " + strings.Join(m.goal, " ") + "\nSubject To\n" + strings.Join(m.rows, "\n") +
		"\nBounds\n" + strings.Join(m.bounds, "\n") + "\nGenerals\n" + strings.Join(m.whole, "\n") + "\nEnd\n"
}

func (m *model) integer(name string, most float64) string {
	m.bounds = append(m.bounds, fmt.Sprintf(" 0 <= %s <= %.12g", name, most))
	m.whole = append(m.whole, " "+name)
	return name
}

// smallShop is a shop of natural batches of one jar each: its change-overs are
// one wipe for each recipe of a day after the first.
func smallShop(rng *rand.Rand) *Shop {
	s := &Shop{
		Minutes: float64(60 + rng.IntN(90)), Pitcher: float64(600 + rng.IntN(900)), Wipe: float64(rng.IntN(6)), Wash: 10,
		Stock: []Stock{{float64(rng.IntN(15)), day.Date(rng.IntN(3))}},
	}
	for d := range 1 + rng.IntN(3) {
		s.Days = append(s.Days, day.Date(d))
	}
	for r := range 2 + rng.IntN(2) {
		s.Kinds = append(s.Kinds, Kind{Recipe: r, Natural: true})
		x := Item{Sort: Sort{3 + rng.IntN(8), float64(100 + rng.IntN(200)), float64(2 + rng.IntN(4))}, Use: []float64{1}}
		for range x.Units {
			x.Worth = append(x.Worth, float64(1+rng.IntN(900))/100)
		}
		slices.Sort(x.Worth)
		slices.Reverse(x.Worth)
		s.Batches = append(s.Batches, Batch{Kind: r, Due: day.Date(rng.IntN(3)), Fixed: 20, Items: []Item{x}})
	}
	return s
}

// keepModel is the choice of units for the days of a smallShop.
func keepModel(s *Shop) string {
	m := &model{}
	early := []string{}
	minutes, used := make([][]string, len(s.Days)), make([][]string, len(s.Days))
	for b, x := range s.Batches {
		i := x.Items[0]
		kept := []string{}
		for k, w := range i.Worth {
			name := m.integer(fmt.Sprintf("w%d_%d", b, k), 1)
			m.goal = append(m.goal, term(w, name))
			kept = append(kept, term(1, name))
		}
		per := math.Min(math.Floor(s.Pitcher/i.Grams+1e-9), math.Floor((s.Minutes-x.Fixed)/i.Minutes+1e-9))
		for d := range s.last(b) {
			u := m.integer(fmt.Sprintf("u%d_%d", b, d), float64(i.Units))
			n := m.integer(fmt.Sprintf("n%d_%d", b, d), 9)
			y := m.integer(fmt.Sprintf("y%d_%d", b, d), 1)
			kept = append(kept, term(-1, u))
			m.row([]string{term(1, u), term(-per, n)}, "<=", 0)
			m.row([]string{term(1, n), term(-9, y)}, "<=", 0)
			minutes[d] = append(minutes[d], term(i.Minutes, u), term(x.Fixed, n), term(s.Wipe, y))
			used[d] = append(used[d], term(-s.Wipe, y))
			if s.Days[d] < s.Stock[0].Arrives {
				early = append(early, term(1, u))
			}
		}
		m.row(kept, "<=", 0)
	}
	for d := range s.Days {
		m.row(minutes[d], "<=", s.Minutes+s.Wipe) // the first recipe of a day needs no wipe
	}
	m.row(early, "<=", s.Stock[0].Held)
	return m.text("Maximize")
}

func TestKeptSetsAgainstGLPK(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	partly := 0
	for n := range 40 {
		s := smallShop(rng)
		if n%2 == 1 { // all days alike
			s.Stock[0].Arrives = 0
			for b := range s.Batches {
				s.Batches[b].Due = 9
			}
		}
		want, ok := glpsol(t, keepModel(s))
		if !ok {
			t.Fatal("GLPK found no optimum")
		}
		k := s.Keep(0)
		if !k.Exact || math.Abs(k.Worth-want) > 1e-6 {
			t.Errorf("kept %v (exact %v), GLPK %v", k.Worth, k.Exact, want)
		}
		for _, reached := range []float64{0, k.Worth} {
			if b := s.Bound(reached); b < want-1e-6 {
				t.Errorf("the bound %v is below GLPK's %v", b, want)
			}
		}
		if want > 0 && want < total(s)-1e-6 {
			partly++
		}
	}
	if partly < 15 {
		t.Errorf("only %d of 40 shops keep a part", partly)
	}
	oracle.Cases(t, 3*40)
}

// orderModel is the shortest path through all kinds of a day.
func orderModel(s *Shop, n int) string {
	m := &model{}
	arc := func(i, j int) string { return fmt.Sprintf("x%d_%d", i, j) }
	for i := range n + 1 { // node n is the clean start and the end
		var out, in []string
		for j := range n + 1 {
			if i == j {
				continue
			}
			c := 0.0
			if i < n && j < n {
				c = s.Changeover(i, j)
			}
			m.goal = append(m.goal, term(c, m.integer(arc(i, j), 1)))
			out, in = append(out, term(1, arc(i, j))), append(in, term(1, arc(j, i)))
			if i < n && j < n { // places in the order forbid rings
				m.row([]string{term(1, fmt.Sprintf("p%d", i)), term(-1, fmt.Sprintf("p%d", j)), term(float64(n), arc(i, j))}, "<=", float64(n-1))
			}
		}
		m.row(out, "=", 1)
		m.row(in, "=", 1)
	}
	return m.text("Minimize")
}

func TestOrdersOfADayAgainstGLPK(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 15 {
		s := &Shop{Wipe: float64(1 + rng.IntN(5)), Wash: float64(4 + rng.IntN(9))}
		var kinds []int
		for range 4 + rng.IntN(4) {
			k := Kind{Recipe: rng.IntN(4), Natural: rng.IntN(2) == 0}
			if !k.Natural {
				k.Dye = 1 + k.Recipe%2
			}
			if !slices.Contains(s.Kinds, k) {
				s.Kinds = append(s.Kinds, k)
				kinds = append(kinds, len(kinds))
			}
		}
		want, ok := glpsol(t, orderModel(s, len(kinds)))
		if got, _ := s.Sequence(kinds); !ok || math.Abs(got-want) > 1e-6 {
			t.Errorf("%d kinds: %v minutes, GLPK %v", len(kinds), got, want)
		}
	}
	oracle.Cases(t, 15)
}

func TestPackCoversAgainstGLPK(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 40 {
		need := float64(1 + rng.IntN(30_000))
		var sizes []Size
		m := &model{}
		var got []string
		for i := range 2 + rng.IntN(4) {
			units := float64(1+rng.IntN(200)) * 28.349523125
			sizes = append(sizes, Size{units, math.Round(units*(0.5+rng.Float64())) / 10})
			name := m.integer(fmt.Sprintf("n%d", i), 1+math.Ceil(need/units))
			m.goal = append(m.goal, term(sizes[i].Price, name))
			got = append(got, term(units, name))
		}
		m.row(got, ">=", need)
		want, ok := glpsol(t, m.text("Minimize"))
		paid := 0.0
		for i, n := range Cover(need, sizes) {
			paid += float64(n) * sizes[i].Price
		}
		if !ok || math.Abs(paid-want) > 1e-6*(1+want) {
			t.Errorf("%v of %v: %v, GLPK %v", need, sizes, paid, want)
		}
	}
	oracle.Cases(t, 40)
}
