// Package stat holds the statistics of the trade's questions: shares with their
// intervals, whether groups differ, demand that is more spread than chance, and
// a line through prices.
package stat

import (
	"gonum.org/v1/gonum/stat/distuv"

	"pourbook/compute/calc"
)

// z95 is the two-sided 95 % quantile of the normal distribution.
const z95 = 1.959964

// Wilson is the 95 % score interval of a share p on n observations (E. B.
// Wilson, 1927); unknown where n is not positive.
func Wilson(p, n *calc.Figure) (low, high *calc.Figure) {
	z, one := calc.Const(z95), calc.Const(1)
	z2n := calc.Div(calc.Mul(z, z), n)
	middle := calc.Add(p, calc.Div(z2n, calc.Const(2)))
	spread := calc.Add(calc.Div(calc.Mul(p, calc.Sub(one, p)), n), calc.Div(z2n, calc.Mul(calc.Const(4), n)))
	half := calc.Mul(z, calc.Sqrt(calc.Max(calc.Zero, spread)))
	scale := calc.Add(one, z2n)
	low = calc.Max(calc.Zero, calc.Div(calc.Sub(middle, half), scale))
	high = calc.Min(one, calc.Div(calc.Add(middle, half), scale))
	return low, high
}

// Kish is the effective size of observations that come in clusters, sum^2 /
// sum of squares (L. Kish, 1965), not above most.
func Kish(sum, squares, most *calc.Figure) *calc.Figure {
	return calc.Min(most, calc.Div(calc.Mul(sum, sum), squares))
}

// Row is a group of a table of two columns.
type Row struct{ Colored, Natural *calc.Figure }

func (r Row) size() float64 { return r.Colored.Or(0) + r.Natural.Or(0) }

func (r Row) with(o Row) Row {
	return Row{calc.Add(r.Colored, o.Colored), calc.Add(r.Natural, o.Natural)}
}

// least is the expected number under which a group is too small for the test.
const least = 5

// Pool joins the groups that expect fewer than 5 of either kind into one, which
// when it is still small joins the smallest other. Empty groups are dropped.
func Pool(rows []Row) []Row {
	var c, n float64
	for _, r := range rows {
		c, n = c+r.Colored.Or(0), n+r.Natural.Or(0)
	}
	small := func(r Row) bool { return r.size()*min(c, n) < least*(c+n)*(1-1e-12) }
	var out []Row
	var pool *Row
	for _, r := range rows {
		switch {
		case r.size() <= 0:
		case !small(r):
			out = append(out, r)
		case pool == nil:
			pool = &r
		default:
			joined := pool.with(r)
			pool = &joined
		}
	}
	if pool == nil {
		return out
	}
	if !small(*pool) || len(out) == 0 {
		return append(out, *pool)
	}
	at := 0
	for i, r := range out {
		if r.size() < out[at].size() {
			at = i
		}
	}
	out[at] = out[at].with(*pool)
	return out
}

// ChiSquare is Pearson's statistic of a table of two columns.
func ChiSquare(rows []Row) *calc.Figure {
	var cs, ns []*calc.Figure
	for _, r := range rows {
		cs, ns = append(cs, r.Colored), append(ns, r.Natural)
	}
	c, n := calc.Add(cs...), calc.Add(ns...)
	all := calc.Add(c, n)
	var sum []*calc.Figure
	for _, r := range rows {
		size := calc.Add(r.Colored, r.Natural)
		for _, x := range []struct{ seen, column *calc.Figure }{{r.Colored, c}, {r.Natural, n}} {
			expected := calc.Div(calc.Mul(size, x.column), all)
			d := calc.Sub(x.seen, expected)
			sum = append(sum, calc.Div(calc.Mul(d, d), expected))
		}
	}
	return calc.Add(sum...)
}

// Tail is the probability that chi-square on df degrees of freedom exceeds x.
func Tail(x, df *calc.Figure) *calc.Figure { return calc.Call(chiDist, x, df) }

var chiDist = &calc.Fn{
	Eval: func(v []float64) (float64, bool) {
		if v[0] < 0 || v[1] < 1 {
			return 0, false
		}
		return distuv.ChiSquared{K: v[1]}.Survival(v[0]), true
	},
	Write: func(a []string) string { return "CHIDIST(" + a[0] + "," + a[1] + ")" },
}
