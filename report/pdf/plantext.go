package pdf

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/plan"
	"pourbook/compute/unit"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// batchName is a pour's number as it stands on its card: "B-014".
func batchName(x *plan.Pour) string { return templates.Text("plan.batch", "n", batchDigits(x)) }

func batchDigits(x *plan.Pour) string { return fmt.Sprintf("%03d", x.Batch) }

// batchNames lists pours, at most a few by name.
func batchNames(pours []*plan.Pour) string {
	const most = 6
	var names []string
	for _, x := range pours[:min(len(pours), most)] {
		names = append(names, batchName(x))
	}
	if more := len(pours) - most; more > 0 {
		return templates.Text("plan.more-batches", "some", strings.Join(names, ", "), "n", more)
	}
	return listed(names)
}

// swatch is the look of a pour.
func (p *planPages) swatch(x *plan.Pour) *draw.Swatch {
	s := &draw.Swatch{Natural: x.Finish == book.Natural, Name: x.Recipe, Pattern: p.looks[x.Recipe]}
	if x.Of != nil {
		s.Hex = x.Of.Swatch.V
	}
	return s
}

// color is the finish of a pour, with the dyes that give it.
func color(x *plan.Pour) string {
	name := finishName(x.Finish)
	var dyes []string
	for _, w := range x.Weigh {
		if w.Of != nil && w.Of.Kind == book.Dye {
			dyes = append(dyes, w.Material)
		}
	}
	if len(dyes) == 0 {
		return name
	}
	return name + ": " + listed(dyes)
}

// jarName is the jar that units of a pour are filled into.
func jarName(j plan.Jar) string {
	if j.Of != nil && j.Of.Jar != nil {
		return j.Of.Jar.Name.V
	}
	return j.Product
}

// making is what a pour fills: "24 × Amber jar 9 oz, 6 × Tin 4 oz".
func making(x *plan.Pour) string {
	var out []string
	for _, j := range x.Jars {
		out = append(out, unbroken(fmt.Sprintf("%d × ", j.Units))+jarName(j))
	}
	return strings.Join(out, ", ")
}

// titleOf is a product's name, or its code.
func titleOf(of *book.Product, code string) string {
	if of == nil || of.Title() == "" {
		return code
	}
	return of.Title()
}

// decimalsOf is how many decimals a scale of a resolution shows.
func decimalsOf(resolution float64) int32 {
	for n := range int32(4) {
		if v := resolution * math.Pow10(int(n)); v > 0 && math.Abs(v-math.Round(v)) < 1e-6*v {
			return n
		}
	}
	return 0
}

// grams is a weight as the scale shows it.
func (p *planPages) grams(f *calc.Figure) string {
	if v, ok := f.Value(); ok {
		return show.Decimals(v, p.places)
	}
	return draw.Nil
}

// quantity is how much of a material to set out, in its own unit.
func (p *planPages) quantity(f *calc.Figure, dim string) (number, unitName string) {
	v, ok := f.Value()
	switch {
	case !ok:
		return draw.Nil, ""
	case dim == unit.Count.String():
		return show.Units(f), ""
	case dim == unit.Volume.String():
		return show.Decimals(v, 1), dim
	case v != 0 && math.Abs(v) < 10 && p.places == 0:
		return show.Decimals(v, 1), dim
	}
	return p.grams(f), dim
}

// amount is a quantity in one text, for tables that are not read at the bench.
func amount(f *calc.Figure, dim string) string {
	if !f.Known() {
		return draw.Nil
	}
	switch dim {
	case unit.Mass.String():
		return show.Weight(f)
	case unit.Volume.String():
		return show.Decimal(f, 1) + " " + dim
	}
	return show.Units(f)
}

// dose is what a card says of a material in one text: "41 drops", "294 g".
func (p *planPages) dose(w plan.Weigh) string {
	if v, ok := w.Drops.Value(); ok {
		return templates.Text("plan.n-drops", "n", show.Decimals(v, 0))
	}
	return p.grams(w.Grams) + " " + unit.Mass.String()
}

// days is a number of days with its sign: "4 d", "−3 d".
func days(n int) string { return templates.Text("plan.days-short", "n", show.Decimals(float64(n), 0)) }

// asTyped is an amount as it stands in the book when that names its unit, else
// other.
func asTyped(raw, other string) string {
	if strings.ContainsFunc(raw, unicode.IsLetter) {
		return strings.Join(strings.Fields(raw), " ")
	}
	return other
}

// total adds up the figures that are known.
func total(figures []*calc.Figure) *calc.Figure {
	var known []*calc.Figure
	for _, f := range figures {
		if f.Known() {
			known = append(known, f)
		}
	}
	if len(known) == 0 {
		return nil
	}
	return calc.Add(known...)
}

func count(n int) string { return show.Decimals(float64(n), 0) }

// unbroken keeps a text on one line.
func unbroken(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }
