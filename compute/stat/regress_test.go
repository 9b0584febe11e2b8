package stat

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"pourbook/compute/calc"
	"pourbook/compute/oracle"
)

// Speed and stopping distance of cars, the classic teaching data of Ezekiel
// (1930), Methods of Correlation Analysis, shipped with R as "cars".
var (
	speed = []float64{
		4, 4, 7, 7, 8, 9, 10, 10, 10, 11, 11, 12, 12, 12, 12, 13, 13, 13, 13, 14, 14, 14, 14, 15, 15, 15, 16, 16,
		17, 17, 17, 18, 18, 18, 18, 19, 19, 19, 20, 20, 20, 20, 20, 22, 23, 24, 24, 24, 24, 25,
	}
	dist = []float64{
		2, 10, 4, 22, 16, 10, 18, 26, 34, 17, 28, 14, 20, 24, 28, 26, 34, 34, 46, 26, 36, 60, 80, 20, 26, 54, 32, 40,
		32, 40, 50, 42, 56, 76, 84, 36, 46, 68, 32, 48, 52, 56, 64, 66, 54, 70, 92, 93, 120, 85,
	}
)

func consts(v []float64) []*calc.Figure {
	out := make([]*calc.Figure, len(v))
	for i, x := range v {
		out[i] = calc.Const(x)
	}
	return out
}

// The line of R's documentation for lm(dist ~ speed, cars): intercept -17.579,
// slope 3.932, residual standard error 15.38 on 48 degrees of freedom (from
// memory of the printed example; the oracle below recomputes it).
func TestFitLinePublished(t *testing.T) {
	l := FitLine(consts(speed), consts(dist))
	for _, c := range []struct {
		name string
		got  *calc.Figure
		want float64
		tol  float64
	}{{"intercept", l.Intercept, -17.579, 5e-4}, {"slope", l.Slope, 3.932, 5e-4}, {"spread", l.Spread, 15.38, 5e-3}} {
		if v, ok := c.got.Value(); !ok || math.Abs(v-c.want) > c.tol {
			t.Errorf("%s = %v, want %v", c.name, v, c.want)
		}
	}
	oracle.Cases(t, 3)
}

func TestFitLineWithoutSpreadInX(t *testing.T) {
	l := FitLine(consts([]float64{2, 2, 2}), consts([]float64{1, 2, 3}))
	if y, half := l.At(calc.Const(3)); y.Known() || half.Known() {
		t.Errorf("a line through one x is known: %v", y)
	}
}

// The prediction interval against NumPy's least squares and the root of SciPy's
// t distribution function (its ready quantile is good to 1e-9 only).
func TestPredictionAgainstSciPy(t *testing.T) {
	text := scipy(t, fmt.Sprintf(`
import json, numpy as np
from scipy import optimize, stats
x, y = np.array(%s), np.array(%s)
out = []
for x0 in (3, 15.4, 40):
    s, i = np.polyfit(x, y, 1)
    r = y - (i + s * x)
    n = len(x)
    e = np.sqrt((r @ r) / (n - 2)) * np.sqrt(1 + 1 / n + (x0 - x.mean()) ** 2 / ((x - x.mean()) ** 2).sum())
    out.append([i + s * x0, optimize.brentq(lambda q: stats.t.cdf(q, n - 2) - 0.975, 0, 99, xtol=1e-14) * e])
print(json.dumps(out))`, list(speed), list(dist)))
	var want [][2]float64
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	l := FitLine(consts(speed), consts(dist))
	for k, x0 := range []float64{3, 15.4, 40} {
		y, half := l.At(calc.Const(x0))
		if math.Abs(y.Or(0)-want[k][0]) > 1e-9*math.Abs(want[k][0]) || math.Abs(half.Or(0)-want[k][1]) > 1e-9*want[k][1] {
			t.Errorf("at %v: %v ± %v, SciPy has %v", x0, y.Or(0), half.Or(0), want[k])
		}
	}
	oracle.Cases(t, 2*3)
}

func list(v []float64) string {
	b, _ := json.Marshal(v)
	return string(b)
}
