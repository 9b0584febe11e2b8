package unit

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
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

// GNU units is the independent program for every unit and rate.
func TestAgainstGNUUnits(t *testing.T) {
	if _, err := exec.LookPath("units"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("GNU units is required in CI")
		}
		t.Skip("not checked against GNU units: install units")
	}
	theirs := map[string]string{
		"fl oz": "floz", "mL": "ml", "cL": "cl", "L": "liter", "pt": "pint", "qt": "quart", "gal": "gallon",
		"each": "1", "tbsp": "tablespoon", "tsp": "teaspoon", "drops": "1", "h": "hour", "min": "minute",
	}
	base := map[Dimension]string{Mass: "g", Volume: "ml", Count: "1", Drops: "1", Time: "minute"}
	for _, u := range table {
		name := u.Name
		if n := theirs[name]; n != "" {
			name = n
		}
		if got := ask(t, name, base[u.Dim]); math.Abs(got-u.Size) > 1e-12*u.Size {
			t.Errorf("1 %s = %v %s, GNU units has %v", u.Name, u.Size, u.Dim, got)
		}
	}
	for rate, text := range map[string]string{
		"oz/lb": "oz/lb", "g/kg": "g/kg", "g/lb": "g/lb", "g/100g": "g/(100 g)", "% of wax": "0.01",
		"drops/lb": "1/(lb/g)", "drops/8oz": "1/(8 oz/g)", "drops/kg": "1/(kg/g)", "drops/100g": "1/100", "oz/batch": "oz/g",
	} {
		r, ok := FindRate(rate)
		if got := ask(t, text, "1"); !ok || math.Abs(got-r.Scale/r.On) > 1e-12*got {
			t.Errorf("1 %s = %v, GNU units has %v", rate, r.Scale/r.On, got)
		}
	}
}

func ask(t *testing.T, from, to string) float64 {
	t.Helper()
	out, err := exec.Command("units", "-t", "-o", "%.17g", from, to).Output()
	v, perr := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil || perr != nil {
		t.Fatal(fmt.Errorf("units %s %s: %q %v %v", from, to, out, err, perr))
	}
	return v
}
