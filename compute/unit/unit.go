// Package unit knows the units of the trade. Inside the program there are
// four: gram, millilitre, piece and drop.
//
// Sizes: NIST Handbook 44, appendix C, and NIST SP 811, appendix B.
package unit

import "strings"

// Dimension is what a unit measures.
type Dimension uint8

// The dimensions. Text is the base unit's symbol in results.
const (
	None   Dimension = iota
	Mass             // base gram
	Volume           // base millilitre
	Count            // base piece
	Drops            // base drop
	Time             // base minute
)

// String is the base unit's symbol: "g", "mL", "each", "drops", "min".
func (d Dimension) String() string {
	return [...]string{"", "g", "mL", "each", "drops", "min"}[d]
}

// Unit is a unit and its size in base units of its dimension.
type Unit struct {
	Name string
	Dim  Dimension
	Size float64
}

// Exact sizes.
const (
	GramsPerPound = 453.59237
	GramsPerOunce = 28.349523125
	MLPerFluidOz  = 29.5735295625
	MLPerGallon   = 3785.411784
	MLPerTeaspoon = 4.92892159375
	MLPerTbsp     = 3 * MLPerTeaspoon
)

var table = []struct {
	Unit
	also string
}{
	{Unit{"g", Mass, 1}, "gram grams gr gm gms"},
	{Unit{"kg", Mass, 1000}, "kilo kilos kilogram kilograms kgs"},
	{Unit{"mg", Mass, 0.001}, "milligram milligrams"},
	{Unit{"lb", Mass, GramsPerPound}, "lbs pound pounds #"},
	{Unit{"oz", Mass, GramsPerOunce}, "ounce ounces ozs wt-oz oz-wt"},
	{Unit{"mL", Volume, 1}, "ml mls milliliter milliliters millilitre millilitres cc"},
	{Unit{"cL", Volume, 10}, "cl centiliter centilitre"},
	{Unit{"L", Volume, 1000}, "l liter liters litre litres ltr"},
	{Unit{"fl oz", Volume, MLPerFluidOz}, "floz fluid-oz fluid-ounce fluid-ounces fl-ounce fl-ounces us-fl-oz"},
	{Unit{"pt", Volume, MLPerGallon / 8}, "pint pints"},
	{Unit{"qt", Volume, MLPerGallon / 4}, "quart quarts"},
	{Unit{"gal", Volume, MLPerGallon}, "gallon gallons us-gal"},
	{Unit{"cup", Volume, MLPerGallon / 16}, "cups us-cup"},
	{Unit{"tsp", Volume, MLPerTeaspoon}, "teaspoon teaspoons"},
	{Unit{"tbsp", Volume, MLPerTbsp}, "tablespoon tablespoons"},
	{Unit{"each", Count, 1}, "ea pc pcs piece pieces ct count unit units"},
	{Unit{"dozen", Count, 12}, "doz dz"},
	{Unit{"drops", Drops, 1}, "drop drp gtt"},
	{Unit{"min", Time, 1}, "minute minutes mins"},
	{Unit{"h", Time, 60}, "hour hours hr hrs"},
}

var byName = index()

func index() map[string]Unit {
	m := map[string]Unit{}
	for _, u := range table {
		m[key(u.Name)] = u.Unit
		for _, w := range strings.Fields(u.also) {
			m[key(w)] = u.Unit
		}
	}
	return m
}

func key(s string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '.' || r == '-' || r == '\u00a0' {
			return -1
		}
		return r
	}, strings.ToLower(s))
}

// Find is the unit of a name in any accepted spelling.
func Find(s string) (Unit, bool) {
	u, ok := byName[key(s)]
	return u, ok
}

// Names lists the units' own names, for help and hints.
func Names() []string {
	var out []string
	for _, u := range table {
		out = append(out, u.Name)
	}
	return out
}

// Spellings lists the other ways to write a unit's own name, with "-" where
// there may also be a space.
func Spellings(name string) []string {
	for _, u := range table {
		if u.Name == name {
			return strings.Fields(u.also)
		}
	}
	return nil
}

// Basis is what a recipe's amount is given on.
type Basis uint8

// The bases of a recipe's amount.
const (
	PerWax     Basis = iota // on the weight of the wax
	PerBlend                // on the weight of the finished blend
	PerBatch                // on the recipe's batch wax
	PerDefault              // a bare %: on the wax, or as the setting says for a fragrance
)

// Rate is a recipe's way to give an amount: amount x Scale / On is grams (or
// drops) per gram of what Basis says; for PerBatch, amount x Scale is grams
// (or drops) per batch and On is 1.
type Rate struct {
	Name  string
	Basis Basis
	Drops bool
	Scale float64
	On    float64
}

// Rates is the list of recipe units.
var Rates = []Rate{
	{"% of wax", PerWax, false, 1, 100},
	{"%", PerDefault, false, 1, 100},
	{"% of blend", PerBlend, false, 1, 100},
	{"oz/lb", PerWax, false, 1, 16},
	{"g/kg", PerWax, false, 1, 1000},
	{"g/lb", PerWax, false, 1, GramsPerPound},
	{"g/100g", PerWax, false, 1, 100},
	{"drops/lb", PerWax, true, 1, GramsPerPound},
	{"drops/8oz", PerWax, true, 1, 8 * GramsPerOunce},
	{"drops/kg", PerWax, true, 1, 1000},
	{"drops/100g", PerWax, true, 1, 100},
	{"g/batch", PerBatch, false, 1, 1},
	{"oz/batch", PerBatch, false, GramsPerOunce, 1},
	{"drops/batch", PerBatch, true, 1, 1},
}

var rateWords = strings.NewReplacer(
	"percent", "%", "pct", "%", "per", "/", "ounces", "oz", "ounce", "oz", "pounds", "lb", "pound", "lb", "lbs", "lb",
	"grams", "g", "gram", "g", "kilograms", "kg", "kilogram", "kg", "kilo", "kg", "fragranceload", "%", "drop/", "drops/",
	"ofthe", "of", "1lb", "lb", "1kg", "kg", "/16oz", "/lb", "/1000g", "/kg", "drops/drops", "drops")

// FindRate is the recipe unit of a text in any accepted spelling.
func FindRate(s string) (Rate, bool) {
	k := rateWords.Replace(key(s))
	for _, r := range Rates {
		if key(r.Name) == k || k == strings.Replace(key(r.Name), "/", "/1", 1) {
			return r, true
		}
	}
	switch k {
	case "%wax", "%ofwaxweight", "%onwax", "%/wax":
		return Rates[0], true
	case "%blend", "%oftotal", "%ofblendweight", "%oftotalweight", "%onblend":
		return Rates[2], true
	case "%load":
		return Rates[1], true
	}
	return Rate{}, false
}

// RateNames lists the recipe units' own names, for help and hints.
func RateNames() []string {
	var out []string
	for _, r := range Rates {
		out = append(out, r.Name)
	}
	return out
}
