package parse

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/unit"
	"pourbook/ingest/grid"
)

// quantityCases are texts with what stands beside them, and what they are.
var quantityCases = []struct {
	read  string
	units Units
	value float64
	unit  string // of the unit or the recipe unit
	base  float64
	packs float64
	code  string
}{
	{"16oz", Units{}, 16, "oz", 16 * unit.GramsPerOunce, 0, ""},
	{"16 oz.", Units{}, 16, "oz", 16 * unit.GramsPerOunce, 0, ""},
	{"1 lb 4 oz", Units{}, 1.25, "lb", 20 * unit.GramsPerOunce, 0, ""},
	{"1lb4oz", Units{}, 1.25, "lb", 20 * unit.GramsPerOunce, 0, ""},
	{"1 lb, 4 oz", Units{}, 1.25, "lb", 20 * unit.GramsPerOunce, 0, ""},
	{"1 lb and 4 oz", Units{}, 1.25, "lb", 20 * unit.GramsPerOunce, 0, ""},
	{"-1 lb 4 oz", Units{}, -1.25, "lb", -20 * unit.GramsPerOunce, 0, ""},
	{"(1 lb 4 oz)", Units{}, -1.25, "lb", -20 * unit.GramsPerOunce, 0, ""},
	{"10-lb", Units{}, 10, "lb", 4535.9237, 0, ""},
	{"10#", Units{}, 10, "lb", 4535.9237, 0, ""},
	{"½ lb", Units{}, 0.5, "lb", 226.796185, 0, ""},
	{"1 1/2 lbs", Units{}, 1.5, "lb", 680.388555, 0, ""},
	{"1,250.5 g", Units{}, 1250.5, "g", 1250.5, 0, ""},
	{"2,5 kg", Units{}, 2.5, "kg", 2500, 0, ""},
	{"4 fl oz", Units{}, 4, "fl oz", 4 * unit.MLPerFluidOz, 0, ""},
	{"4 fl. oz.", Units{}, 4, "fl oz", 4 * unit.MLPerFluidOz, 0, ""},
	{"1 gal", Units{}, 1, "gal", 3785.411784, 0, ""},
	{"10l", Units{}, 10, "L", 10000, 0, ""},
	{"100 ct", Units{}, 100, "each", 100, 0, ""},
	{"2 dozen", Units{}, 2, "dozen", 24, 0, ""},
	{"6 drops", Units{}, 6, "drops", 6, 0, ""},
	{"4 min", Units{}, 4, "min", 4, 0, ""},

	{"6 drops/lb", Units{}, 6, "drops/lb", 0, 0, ""},
	{"6 drops per lb", Units{}, 6, "drops/lb", 0, 0, ""},
	{"1 oz/lb", Units{}, 1, "oz/lb", 0, 0, ""},
	{"6 g/100g", Units{}, 6, "g/100g", 0, 0, ""},
	{"1 oz", Units{Column: "per lb"}, 1, "oz/lb", 0, 0, ""},
	{"6 drops", Units{Column: "Per pound"}, 6, "drops/lb", 0, 0, ""},
	{"30 g", Units{Column: "/kg"}, 30, "g/kg", 0, 0, ""},
	{"1 lb", Units{Column: "per oz"}, 0, "", 0, 0, "bad-unit.two"},
	{"2 cups", Units{}, 2, "cup", 2 * unit.MLPerGallon / 16, 0, ""},
	{"8 %", Units{}, 8, "%", 0, 0, ""},
	{"8%", Units{Column: "% of wax"}, 8, "% of wax", 0, 0, ""},
	{"8 % of blend", Units{}, 8, "% of blend", 0, 0, ""},

	{"2 x 16 oz", Units{}, 16, "oz", 16 * unit.GramsPerOunce, 2, ""},
	{"2×16oz", Units{}, 16, "oz", 16 * unit.GramsPerOunce, 2, ""},
	{"16 oz x 2", Units{}, 16, "oz", 16 * unit.GramsPerOunce, 2, ""},
	{"3 packs of 1 lb 4 oz", Units{}, 1.25, "lb", 20 * unit.GramsPerOunce, 3, ""},
	{"2 x 16", Units{Column: "oz"}, 16, "oz", 16 * unit.GramsPerOunce, 2, ""},
	{"3 packs", Units{}, 3, "", 0, 3, ""},

	{"16", Units{}, 16, "", 0, 0, ""},
	{"16", Units{Column: "oz"}, 16, "oz", 16 * unit.GramsPerOunce, 0, ""},
	{"16", Units{Heading: "oz"}, 16, "oz", 16 * unit.GramsPerOunce, 0, ""},
	{"16", Units{Column: "lb", Heading: "oz"}, 16, "lb", 16 * unit.GramsPerPound, 0, ""},
	{"2 lb", Units{Heading: "oz"}, 2, "lb", 2 * unit.GramsPerPound, 0, ""},
	{"2 lb", Units{Column: "pounds"}, 2, "lb", 2 * unit.GramsPerPound, 0, ""},
	{"6", Units{Column: "drops per lb"}, 6, "drops/lb", 0, 0, ""},

	{"1,234 g", Units{}, 1234, "g", 1234, 0, "~number-style"},
	{"8oz", Units{Column: "g"}, 0, "", 0, 0, "bad-unit.two"},
	{"8 %", Units{Column: "g"}, 0, "", 0, 0, "bad-unit.two"},
	{"8", Units{Column: "jars"}, 0, "", 0, 0, "bad-unit"},
	{"12 wicks", Units{}, 0, "", 0, 0, "bad-unit"},
	{"6 drops/jar", Units{}, 0, "", 0, 0, "bad-unit"},
	{"1O oz", Units{}, 0, "", 0, 0, "bad-number.letter"},
	{"1Ooz", Units{}, 0, "", 0, 0, "bad-number.letter"},
	{"oz", Units{}, 0, "", 0, 0, "bad-number"},
	{"4 oz 1 lb", Units{}, 0, "", 0, 0, "bad-number"},
	{"1 lb 4 mL", Units{}, 0, "", 0, 0, "bad-number"},
	{"1 lb 4", Units{}, 0, "", 0, 0, "bad-number"},
	{"10-12 oz", Units{}, 0, "", 0, 0, "bad-number"},
	{"1.2.3 oz", Units{}, 0, "", 0, 0, "bad-number"},
	{"$8", Units{}, 0, "", 0, 0, "bad-number.money"},
	{"a few", Units{}, 0, "", 0, 0, "bad-number"},
	{"n/a", Units{}, 0, "", 0, 0, "bad-number.no-figure"},
}

func TestQuantityIn(t *testing.T) {
	for _, c := range quantityCases {
		q := QuantityIn(typed(c.read), Style{}, c.units)
		inWords(t, q.Finding)
		if code(q.Finding) != c.code {
			t.Errorf("%q %+v: found %q, want %q", c.read, c.units, code(q.Finding), c.code)
		}
		if q.Finding.Bad() {
			continue
		}
		name := q.Unit.Name
		if q.Rate != nil {
			name = q.Rate.Name
		}
		if q.V != c.value || q.A.Float64() != c.value || name != c.unit || q.Bare() != (c.unit == "") || math.Abs(q.Base-c.base) > 1e-9*math.Abs(c.base) ||
			q.Packs != c.packs || q.HasPacks != (c.packs != 0) || q.Raw != c.read {
			t.Errorf("%q %+v: %+v", c.read, c.units, q)
		}
	}
}

func TestQuantityInKindsOfCell(t *testing.T) {
	if q := QuantityIn(shownAsPercent(0.08), Style{}, Units{}); q.V != 8 || q.Rate == nil || q.Rate.Name != "%" {
		t.Errorf("8 %% by format: %+v", q)
	}
	if q := QuantityIn(shownAsPercent(0.08), Style{}, Units{Column: "% of blend"}); q.V != 8 || code(q.Finding) != "" || q.Rate.Name != "% of blend" {
		t.Errorf("8 %% by format beside a unit: %+v", q)
	}
	if q := QuantityIn(number(16), Style{}, Units{Heading: "oz"}); q.Base != 16*unit.GramsPerOunce {
		t.Errorf("16 under oz: %+v", q)
	}
	for kind, want := range map[grid.Kind]string{grid.Date: "bad-number.date", grid.Error: "cell-error", grid.NoValue: "cell-error.no-value"} {
		if q := QuantityIn(grid.Cell{Kind: kind, Raw: "?"}, Style{}, Units{}); code(q.Finding) != want {
			t.Errorf("%v: %q, want %q", kind, code(q.Finding), want)
		}
	}
	inWords(t, NoUnit("16"))
}

func TestSuspectAsksAboutFractions(t *testing.T) {
	for _, c := range []struct {
		cell grid.Cell
		unit string
		rule PercentRule
		want string
	}{
		{number(0.08), "%", LoadPercent, "percent-as-fraction"},
		{number(0.08), "% of wax", LoadPercent, "percent-as-fraction"},
		{number(0.08), "oz/lb", LoadPercent, ""},
		{number(0.08), "%", AnyPercent, ""},
		{number(8), "%", LoadPercent, ""},
		{shownAsPercent(0.08), "%", LoadPercent, ""},
		{shownAsPercent(0.001), "%", LoadPercent, ""},
		{typed("0.08 %"), "%", LoadPercent, ""},
		{typed("0.08"), "%", LoadPercent, "percent-as-fraction"},
	} {
		q := QuantityIn(c.cell, Style{}, Units{Column: c.unit})
		if got := code(q.Suspect(c.rule)); got != c.want {
			t.Errorf("%+v in %s: %q, want %q", c.cell, c.unit, got, c.want)
		}
	}
}

// Every unit in its own spelling, and pounds with ounces, come back.
func TestQuantityReadsWhatIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := Style{'.', true}
		n := float64(rapid.IntRange(1, 999_999).Draw(t, "thousandths")) / 1000
		name := rapid.SampledFrom(unit.Names()).Draw(t, "unit")
		u, _ := unit.Find(name)
		space := rapid.SampledFrom([]string{"", " ", "\u00a0", "-"}).Draw(t, "space")
		q := QuantityIn(typed(fmt.Sprintf("%g%s%s", n, space, name)), st, Units{})
		if !q.OK() || q.Unit != u || q.V != n || q.Base != n*u.Size {
			t.Fatalf("%g%s%s: %+v", n, space, name, q)
		}
		lb, oz := rapid.IntRange(0, 50).Draw(t, "lb"), rapid.IntRange(0, 15).Draw(t, "oz")
		q = QuantityIn(typed(fmt.Sprintf("%d lb %d oz", lb, oz)), st, Units{})
		if want := float64(lb*16+oz) * unit.GramsPerOunce; !q.OK() || math.Abs(q.Base-want) > 1e-9 {
			t.Fatalf("%d lb %d oz: %+v, want %g g", lb, oz, q, want)
		}
	})
}

func TestSplitHeading(t *testing.T) {
	for s, want := range map[string]Heading{
		"Price (USD)":           {Name: "Price", Unit: "USD"},
		"Price ($)":             {Name: "Price", Unit: "$"},
		"Price [€]":             {Name: "Price", Unit: "€"},
		"Size oz":               {Name: "Size", Unit: "oz"},
		"Size, oz":              {Name: "Size", Unit: "oz"},
		"Qty (g)":               {Name: "Qty", Unit: "g"},
		"Qty g":                 {Name: "Qty", Unit: "g"},
		"Weight in grams":       {Name: "Weight", Unit: "grams"},
		"Weight (in grams)":     {Name: "Weight", Unit: "grams"},
		"Fill weight fl oz":     {Name: "Fill weight", Unit: "fl oz"},
		"Fee %":                 {Name: "Fee", Unit: "%"},
		"Amount (drops/lb)":     {Name: "Amount", Unit: "drops/lb"},
		"Pack\nsize\u00a0(lb)":  {Name: "Pack size", Unit: "lb"},
		"Count (each)":          {Name: "Count", Unit: "each"},
		"Price (with tax)":      {Name: "Price", Note: "with tax"},
		"Order #":               {Name: "Order #"},
		"Item count":            {Name: "Item count"},
		"Drops per mL":          {Name: "Drops per mL"},
		"Labor rate per hour":   {Name: "Labor rate per hour"},
		"Pour minutes":          {Name: "Pour minutes"},
		"Size L":                {Name: "Size L"},
		"oz":                    {Name: "oz"},
		"(g)":                   {Name: "(g)"},
		"Product":               {Name: "Product"},
		"":                      {},
		"Cost (per pack) (USD)": {Name: "Cost (per pack)", Unit: "USD"},
	} {
		if got := SplitHeading(s); got != want {
			t.Errorf("%q: %+v, want %+v", s, got, want)
		}
	}
}
