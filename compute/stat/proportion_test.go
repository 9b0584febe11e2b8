package stat

import (
	"math"
	"testing"

	"pourbook/compute/calc"
	"pourbook/compute/oracle"
)

func within(got *calc.Figure, want, tol float64) bool {
	v, ok := got.Value()
	return ok && math.Abs(v-want) <= tol
}

// Newcombe (1998), Statistics in Medicine 17:857, table I, as quoted in reviews
// of the method; the edges 0/10 and 10/10 are arithmetic.
func TestWilsonPublished(t *testing.T) {
	cases := []struct{ hits, n, low, high, tol float64 }{
		{81, 263, .2553, .3662, 5e-5},
		{15, 148, .0624, .1605, 5e-5},
		{0, 20, 0, .1611, 5e-5},
		{1, 29, .0061, .1718, 5e-5},
		{0, 10, 0, .277533, 5e-7},
		{10, 10, .722467, 1, 5e-7},
	}
	for _, c := range cases {
		low, high := Wilson(calc.Const(c.hits/c.n), calc.Const(c.n))
		if !within(low, c.low, c.tol) || !within(high, c.high, c.tol) {
			t.Errorf("%v of %v: %v to %v, want %v to %v", c.hits, c.n, low.Or(-1), high.Or(-1), c.low, c.high)
		}
	}
	oracle.Cases(t, len(cases))
}

func rows(pairs ...[2]float64) []Row {
	out := make([]Row, len(pairs))
	for i, p := range pairs {
		out[i] = Row{calc.Const(p[0]), calc.Const(p[1])}
	}
	return out
}

// Agresti (2007), p. 39, as in R's help page of chisq.test: 762 327 468 / 484
// 239 477; Fleiss (1981), p. 139, as in R's help page of prop.test: smokers
// 83/86, 90/93, 129/136, 70/82.
func TestChiSquarePublished(t *testing.T) {
	for _, c := range []struct {
		rows    []Row
		x, p    float64
		tol, df float64
	}{
		{rows([2]float64{762, 484}, [2]float64{327, 239}, [2]float64{468, 477}), 30.0701491, 2.953589e-7, 5e-8, 2},
		{rows([2]float64{83, 3}, [2]float64{90, 3}, [2]float64{129, 7}, [2]float64{70, 12}), 12.600411, .005585, 5e-7, 3},
	} {
		x := ChiSquare(c.rows)
		if !within(x, c.x, c.tol) || !within(Tail(x, calc.Const(c.df)), c.p, c.p*1e-4) {
			t.Errorf("chi-square %v, p %v, want %v, %v", x.Or(-1), Tail(x, calc.Const(c.df)).Or(-1), c.x, c.p)
		}
	}
	oracle.Cases(t, 2)
}

func TestPool(t *testing.T) {
	for _, c := range []struct {
		in, want []Row
	}{
		{rows([2]float64{60, 20}, [2]float64{50, 18}), rows([2]float64{60, 20}, [2]float64{50, 18})},
		{rows([2]float64{60, 20}, [2]float64{3, 1}, [2]float64{50, 18}, [2]float64{0, 0}), rows([2]float64{60, 20}, [2]float64{53, 19})},
		{rows([2]float64{60, 20}, [2]float64{12, 2}, [2]float64{13, 3}), rows([2]float64{60, 20}, [2]float64{25, 5})},
		{rows([2]float64{9, 0}, [2]float64{7, 0}), rows([2]float64{16, 0})},
	} {
		got := Pool(c.in)
		if len(got) != len(c.want) {
			t.Errorf("%d groups, want %d", len(got), len(c.want))
			continue
		}
		for i := range got {
			if got[i].Colored.Or(-1) != c.want[i].Colored.Or(-1) || got[i].Natural.Or(-1) != c.want[i].Natural.Or(-1) {
				t.Errorf("group %d: %v : %v", i, got[i].Colored.Or(-1), got[i].Natural.Or(-1))
			}
		}
	}
}

// Kish: equal clusters of size m count as n/m observations (arithmetic).
func TestKish(t *testing.T) {
	if got := Kish(calc.Const(40), calc.Const(10*16), calc.Const(40)); !within(got, 10, 1e-12) {
		t.Errorf("ten orders of four count as %v", got.Or(-1))
	}
	if got := Kish(calc.Const(40), calc.Const(40), calc.Const(30)); !within(got, 30, 1e-12) {
		t.Errorf("not above the units: %v", got.Or(-1))
	}
}
