package calc

import (
	"encoding/json"
	"testing"

	"pourbook/compute/oracle"
)

// Quotients of decimal fractions, a third of them whole: floors and ceilings as
// exact fractions have them, which floating point alone misses.
func TestFloorsAgainstFractions(t *testing.T) {
	var rows [][4]float64
	out := oracle.Python(t, `
import json, math, random
from fractions import Fraction
random.seed(5)
rows = []
for i in range(600):
    b = Fraction(random.randint(1, 9999), 10 ** random.randint(1, 4))
    a = b * random.randint(1, 5000) if i % 3 == 0 else Fraction(random.randint(1, 999999), 100)
    rows.append([float(a), float(b), math.floor(a / b), math.ceil(a / b)])
print(json.dumps(rows))
`, oracle.SciPy)
	if err := json.Unmarshal(out, &rows); err != nil {
		t.Fatal(err)
	}
	for _, x := range rows {
		if f, c := FloorOf(x[0]/x[1]), CeilOf(x[0]/x[1]); f != x[2] || c != x[3] {
			t.Errorf("floor and ceiling of %v / %v: %v, %v; as fractions %v, %v", x[0], x[1], f, c, x[2], x[3])
		}
	}
	oracle.Cases(t, 2*len(rows))
}
