package stat

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"pourbook/compute/oracle"
)

// scipy runs a Python program on SciPy.
func scipy(t *testing.T, program string) []byte {
	t.Helper()
	return oracle.Python(t, program, oracle.SciPy)
}

func TestNegBinAgainstSciPy(t *testing.T) {
	out := scipy(t, `
import json
from scipy.stats import nbinom
rows = []
for r in (2, 2.5, 4, 7.3, 20, 50):
    for m in (0.05, 0.7, 3, 11.25, 64, 500, 12000):
        d = nbinom(r, r / (r + m))
        for t in (0.02, 0.3, 0.5, 0.77, 0.95, 0.999):
            q = int(d.ppf(t))
            low = float(sum(d.sf(k) for k in range(min(q, 400))))
            rows.append([m, r, t, q, float(d.pmf(q)), float(d.cdf(q)), float(d.sf(q)), min(q, 400), low])
print(json.dumps(rows))
`)
	var rows [][9]float64
	if err := json.Unmarshal(out, &rows); err != nil {
		t.Fatal(err)
	}
	if len(rows) != 6*7*6 {
		t.Fatalf("%d cases", len(rows))
	}
	for _, x := range rows {
		d := NegBin{Mean: x[0], R: x[1]}
		name := fmt.Sprintf("mean %g, r %g, at %g", x[0], x[1], x[2])
		q := int(x[3])
		if got := d.Quantile(x[2]); got != q {
			t.Errorf("%s: quantile %d, SciPy %d", name, got, q)
		}
		for what, pair := range map[string][2]float64{
			"pmf": {d.PMF(q), x[4]}, "cdf": {d.CDF(q), x[5]}, "above": {d.Above(q), x[6]}, "expected min": {d.ExpectedMin(int(x[7])), x[8]},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9*math.Max(1e-3, math.Abs(pair[1])) {
				t.Errorf("%s: %s %.15g, SciPy %.15g", name, what, pair[0], pair[1])
			}
		}
	}
	oracle.Cases(t, 4*len(rows))
}
