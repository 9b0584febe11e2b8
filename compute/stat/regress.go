package stat

import (
	"gonum.org/v1/gonum/stat/distuv"

	"pourbook/compute/calc"
)

// Line is a least-squares line y = Intercept + Slope x through N points.
type Line struct {
	N                int
	Slope, Intercept *calc.Figure
	// Spread is the residual standard error, on N - 2 degrees of freedom.
	Spread    *calc.Figure
	mean, sxx *calc.Figure
}

// FitLine fits a line through the points (x[i], y[i]); its figures are unknown
// where all x are equal. Spread is unknown for fewer than three points.
func FitLine(x, y []*calc.Figure) Line {
	n := calc.Const(float64(len(x)))
	mx, my := calc.Div(calc.Add(x...), n), calc.Div(calc.Add(y...), n)
	mx, my = mx.Named("line.mean-x"), my.Named("line.mean-y")
	var xx, xy, yy []*calc.Figure
	for i := range x {
		dx, dy := calc.Sub(x[i], mx), calc.Sub(y[i], my)
		xx, xy, yy = append(xx, calc.Mul(dx, dx)), append(xy, calc.Mul(dx, dy)), append(yy, calc.Mul(dy, dy))
	}
	l := Line{N: len(x), mean: mx, sxx: calc.Add(xx...).Named("line.sxx")}
	sxy := calc.Add(xy...).Named("line.sxy")
	l.Slope = calc.Div(sxy, l.sxx).Named("line.slope")
	l.Intercept = calc.Sub(my, calc.Mul(l.Slope, mx)).Named("line.intercept")
	if len(x) > 2 {
		rest := calc.Max(calc.Zero, calc.Sub(calc.Add(yy...), calc.Mul(l.Slope, sxy)))
		l.Spread = calc.Sqrt(calc.Div(rest, calc.Const(float64(len(x)-2)))).Named("line.spread")
	}
	return l
}

// At is the line's value at x, and the half-width of the 95 % prediction
// interval there (Student's t, N - 2 degrees of freedom).
func (l Line) At(x *calc.Figure) (y, half *calc.Figure) {
	y = calc.Add(l.Intercept, calc.Mul(l.Slope, x))
	d := calc.Sub(x, l.mean)
	n := calc.Const(float64(l.N))
	far := calc.Add(calc.Const(1), calc.Div(calc.Const(1), n), calc.Div(calc.Mul(d, d), l.sxx))
	return y, calc.Mul(calc.Call(tInv, calc.Const(0.05), calc.Const(float64(l.N-2))), l.Spread, calc.Sqrt(far))
}

// tInv is the two-sided quantile of Student's t: TINV(p, df).
var tInv = &calc.Fn{
	Eval: func(v []float64) (float64, bool) {
		if v[1] < 1 {
			return 0, false
		}
		return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: v[1]}.Quantile(1 - v[0]/2), true
	},
	Write: func(a []string) string { return "TINV(" + a[0] + "," + a[1] + ")" },
}
