package unit

import (
	"cmp"
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/oracle"
)

// NIST Handbook 44, appendix C, and NIST SP 811, appendix B.9 (the gallon is
// 231 cubic inches).
func TestExactSizes(t *testing.T) {
	for name, want := range map[string]float64{
		"lb": 453.59237, "oz": 28.349523125, "gal": 3785.411784, "fl oz": 29.5735295625, "tbsp": 14.78676478125,
		"tsp": 4.92892159375, "kg": 1000, "L": 1000,
	} {
		u, ok := Find(name)
		if !ok || u.Size != want {
			t.Errorf("1 %s = %v, want %v", name, u.Size, want)
		}
	}
}

func TestSpellings(t *testing.T) {
	for name, want := range map[string]string{
		"LBS": "lb", "Pounds": "lb", "fl. oz.": "fl oz", "Fluid Ounces": "fl oz", "ml": "mL", "ct": "each", "pcs": "each", "Grams": "g", "OZ.": "oz",
	} {
		if u, ok := Find(name); !ok || u.Name != want {
			t.Errorf("Find(%q) = %q, want %q", name, u.Name, want)
		}
	}
	for _, name := range []string{"", "stone", "o z z", "1"} {
		if u, ok := Find(name); ok {
			t.Errorf("Find(%q) = %q", name, u.Name)
		}
	}
}

func TestEveryUnitIsFoundByItsNames(t *testing.T) {
	for _, u := range table {
		for _, name := range append(strings.Fields(u.also), u.Name) {
			if got, ok := Find(name); !ok || got != u.Unit {
				t.Errorf("Find(%q) = %v, want %v", name, got, u.Unit)
			}
		}
	}
}

func TestRates(t *testing.T) {
	for text, want := range map[string]string{
		"%": "%", "% of wax": "% of wax", "percent of wax": "% of wax", "% of blend": "% of blend", "oz/lb": "oz/lb", "oz per lb": "oz/lb",
		"ounces per pound": "oz/lb", "oz per lbs": "oz/lb", "drops/lb": "drops/lb", "drops per pound": "drops/lb", "drops per 8 oz": "drops/8oz",
		"g/kg": "g/kg", "g per 100 g": "g/100g", "drops / 100g": "drops/100g", "g/batch": "g/batch", "drops per batch": "drops/batch",
		"grams per kilogram": "g/kg", "drop/lb": "drops/lb",
	} {
		if r, ok := FindRate(text); !ok || r.Name != want {
			t.Errorf("FindRate(%q) = %q, want %q", text, r.Name, want)
		}
	}
	for _, text := range []string{"", "lb", "oz", "drops", "furlongs/lb"} {
		if r, ok := FindRate(text); ok {
			t.Errorf("FindRate(%q) = %q", text, r.Name)
		}
	}
	// 1 oz per lb is 6.25 % of the wax: arithmetic from the exact units.
	r, _ := FindRate("oz/lb")
	if got := r.Scale / r.On; got != 0.0625 || GramsPerOunce/GramsPerPound != 0.0625 {
		t.Errorf("1 oz per lb = %v", got)
	}
}

// GNU units is the independent program for every unit, every unit in every
// other of its dimension, and every recipe unit.
func TestAgainstGNUUnits(t *testing.T) {
	oracle.Need(t, oracle.Units)
	theirs := map[string]string{
		"fl oz": "floz", "mL": "ml", "cL": "cl", "L": "liter", "pt": "pint", "qt": "quart", "gal": "gallon",
		"each": "1", "tbsp": "tablespoon", "tsp": "teaspoon", "drops": "1", "h": "hour", "min": "minute",
	}
	var asked []conversion
	for _, u := range table {
		for _, v := range table {
			if u.Dim == v.Dim {
				asked = append(asked, conversion{u.Name + " in " + v.Name, cmp.Or(theirs[u.Name], u.Name), cmp.Or(theirs[v.Name], v.Name), u.Size / v.Size})
			}
		}
	}
	perGram := map[string]string{
		"oz/lb": "oz/lb", "g/kg": "g/kg", "g/lb": "g/lb", "g/100g": "g/(100 g)", "% of wax": "0.01", "% of blend": "0.01", "%": "0.01",
		"drops/lb": "g/lb", "drops/8oz": "g/(8 oz)", "drops/kg": "g/kg", "drops/100g": "g/(100 g)",
		"oz/batch": "oz/g", "g/batch": "1", "drops/batch": "1",
	}
	for _, r := range Rates {
		asked = append(asked, conversion{r.Name, perGram[r.Name], "1", r.Scale / r.On})
	}
	for i, want := range ask(t, asked) {
		if c := asked[i]; !(math.Abs(c.ours-want) <= 1e-12*want) {
			t.Errorf("1 %s = %v, GNU units has %v", c.name, c.ours, want)
		}
	}
	oracle.Cases(t, len(asked))
}

// conversion is what one of the first is in the second, in GNU's words.
type conversion struct {
	name, from, to string
	ours           float64
}

// ask has one run of GNU units answer all.
func ask(t *testing.T, all []conversion) []float64 {
	t.Helper()
	var in strings.Builder
	for _, c := range all {
		fmt.Fprintf(&in, "%s\n%s\n", c.from, c.to)
	}
	cmd := exec.Command("units", "-t", "-q", "-o", "%.17g")
	cmd.Stdin = strings.NewReader(in.String())
	text, err := cmd.Output()
	lines := strings.Fields(string(text))
	if err != nil || len(lines) != len(all) {
		t.Fatalf("units: %v, %d answers to %d questions:\n%s", err, len(lines), len(all), text)
	}
	out := make([]float64, len(all))
	for i, line := range lines {
		if out[i], err = strconv.ParseFloat(line, 64); err != nil {
			t.Fatalf("units %s: %q", all[i].name, line)
		}
	}
	return out
}
