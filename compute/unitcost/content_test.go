package unitcost

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// dosed is a recipe of wax (density 0.9) and one other material, in a jar of 100 g.
func dosed(t testing.TB, m *book.Material, amount float64, per string) (*book.Book, Make) {
	wax := material("Soy", book.Wax, unit.Mass, 1000, 10)
	wax.Density = num(0.9)
	r := &book.Recipe{Name: text("R"), Ingredients: []book.Ingredient{
		{Material: wax, Amount: num(7)}, {Material: m, Amount: num(amount), Rate: rate(per)},
	}}
	j := &book.Jar{Name: text("J"), Fill: num(100)}
	return &book.Book{Materials: []*book.Material{wax, m}, Recipes: []*book.Recipe{r}, Jars: []*book.Jar{j}},
		Make{Recipe: r, Jar: j, Finish: book.Colored, Label: "R"}
}

// Every recipe unit, as grams of the material per gram of wax r (or of blend b):
// W = 100 / (1 + r), or 100 (1 - b).
func TestRecipeUnits(t *testing.T) {
	oil := material("Oil", book.Fragrance, unit.Mass, 100, 10)
	dye := material("Dye", book.Dye, unit.Mass, 10, 10)
	dye.DropsPerGram = num(25)
	for _, x := range []struct {
		m       *book.Material
		amount  float64
		per     string
		perWax  float64
		perDrop float64 // drops per gram of wax
	}{
		{oil, 8, "% of wax", 0.08, 0},
		{oil, 8, "%", 0.08, 0},
		{oil, 8, "% of blend", 0.08 / 0.92, 0},
		{oil, 1, "oz/lb", 0.0625, 0}, // 5.88235294 % of the blend
		{oil, 80, "g/kg", 0.08, 0},
		{oil, 36, "g/lb", 36 / 453.59237, 0},
		{oil, 8, "g/100g", 0.08, 0},
		{oil, 40, "g/batch", 40.0 / 500, 0},
		{oil, 1, "oz/batch", 28.349523125 / 500, 0},
		{dye, 6, "drops/lb", 6 / 453.59237 / 25, 6 / 453.59237},
		{dye, 3, "drops/8oz", 6 / 453.59237 / 25, 6 / 453.59237},
		{dye, 13, "drops/kg", 0.013 / 25, 0.013},
		{dye, 2, "drops/100g", 0.02 / 25, 0.02},
		{dye, 7, "drops/batch", 7.0 / 500 / 25, 7.0 / 500},
	} {
		b, m := dosed(t, x.m, x.amount, x.per)
		m.Recipe.BatchWax = num(500)
		e := New(b, nil, 0)
		c, ok := e.Content(m)
		if !ok {
			t.Errorf("%v %s: unknown", x.amount, x.per)
			continue
		}
		wax := 100 / (1 + x.perWax)
		near(t, x.per+" wax", c.Wax, wax)
		near(t, x.per+" grams", c.Items[1].Grams, wax*x.perWax)
		near(t, x.per+" drops", c.Drops, wax*x.perDrop)
	}
}

func TestBarePercentFollowsTheFragranceBasis(t *testing.T) {
	oil, uv := material("Oil", book.Fragrance, unit.Mass, 100, 10), material("UV", book.Additive, unit.Mass, 100, 10)
	for _, x := range []struct {
		m     *book.Material
		basis string
		wax   float64
	}{{oil, "", 100 / 1.08}, {oil, "wax", 100 / 1.08}, {oil, "blend", 92}, {uv, "blend", 100 / 1.08}} {
		b, m := dosed(t, x.m, 8, "%")
		if x.basis != "" {
			b.Settings.SetText(book.FragranceBasis, text(x.basis))
		}
		e := New(b, nil, 0)
		c, _ := e.Content(m)
		near(t, "wax on "+x.basis, c.Wax, x.wax)
		said := len(codes(e)) > 0 && codes(e)[0] == "default-used.fragrance-basis"
		if want := x.basis == ""; said != want {
			t.Errorf("basis %q of %s: assumption said %v", x.basis, x.m.Kind, said)
		}
	}
}

func TestBlendOver100IsAnErrorOnce(t *testing.T) {
	b, m := dosed(t, material("Oil", book.Fragrance, unit.Mass, 100, 10), 100, "% of blend")
	e := New(b, nil, 0)
	if _, ok := e.Content(m); ok {
		t.Error("a blend without wax has a content")
	}
	m.Finish = book.Natural
	e.Content(m)
	if e.Cost(m, 0) != nil {
		t.Error("a blend without wax has a cost")
	}
	if d := cmp.Diff([]string{"blend-over-100", "missing-field.unit-cost", "no-dye"}, codes(e)); d != "" {
		t.Error(d)
	}
}

// 300 mL filled to 90 % with 30 g of wax at 0.8, 70 g of the main wax at 0.9, 10 g
// of oil at 1.05, 1 g of dye without a density (the setting's 0.90) and 2 g of an
// additive without one (the main wax's 0.9): specific volume
// (30 / 0.8 + 72 / 0.9 + 10 / 1.05 + 1 / 0.9) / 113.
func TestFillFromCapacity(t *testing.T) {
	oil, dye := material("Oil", book.Fragrance, unit.Mass, 100, 10), material("Dye", book.Dye, unit.Mass, 10, 10)
	oil.Density = num(1.05)
	b, m := dosed(t, oil, 10, "% of wax")
	for _, x := range []struct {
		m *book.Material
		v float64
	}{{dye, 1}, {material("UV", book.Additive, unit.Mass, 10, 10), 2}} {
		m.Recipe.Ingredients = append(m.Recipe.Ingredients, book.Ingredient{Material: x.m, Amount: num(x.v), Rate: rate("%")})
	}
	soft := material("Soft", book.Wax, unit.Mass, 1000, 10)
	soft.Density = num(0.8)
	m.Recipe.Ingredients = append([]book.Ingredient{{Material: soft, Amount: num(3)}}, m.Recipe.Ingredients...)
	m.Jar.Fill, m.Jar.Capacity, m.Jar.FillPercent = cell.Num{}, num(300), num(0.9)
	e := New(b, nil, 0)
	near(t, "fill", e.Fill(m), 270*113/(30/0.8+72/0.9+10/1.05+1/0.9))
	if d := cmp.Diff([]string{"default-used.density-of-wax"}, codes(e)); d != "" {
		t.Error(d)
	}
	assumed := calc.Assumed(e.Fill(m))
	if len(assumed) != 1 || assumed[0].Name().Of[0] != "dye density" {
		t.Errorf("assumed %v", assumed)
	}

	b.Materials[0].Density = cell.Num{}
	e = New(b, nil, 0)
	if e.Fill(m).Known() {
		t.Error("a fill without the main wax's density")
	}
	if d := cmp.Diff([]string{"default-used.density-of-wax", "no-density"}, codes(e)); d != "" {
		t.Error(d)
	}
}

// Oil bought by volume, 100 mL for 30.00, issued by weight: 8 g are 8 / 1.05 mL.
// A second size by weight, 105 g (100 mL) for 24.00, is the cheaper one.
func TestDensityTurnsMassIntoVolume(t *testing.T) {
	oil := material("Oil", book.Fragrance, unit.Volume, 100, 30)
	oil.Density = num(1.05)
	b, m := dosed(t, oil, 8, "% of blend")
	setting(b, book.PourLoss, 0)
	setting(b, book.RejectRate, 0)
	near(t, "fragrance", New(b, nil, 0).Cost(m, 0).Fragrance, 8/1.05*0.3)
	oil.Packs = append(oil.Packs, book.Pack{Size: num(105), Dim: unit.Mass, Price: paid(24)})
	near(t, "fragrance from the cheaper pack", New(b, nil, 0).Cost(m, 0).Fragrance, 8/1.05*0.24)

	oil.Density = cell.Num{}
	e := New(b, nil, 0)
	if e.Cost(m, 0) != nil {
		t.Error("a cost without a density")
	}
	if d := cmp.Diff([]string{"missing-field.unit-cost", "no-density", "no-dye"}, codes(e)); d != "" {
		t.Error(d)
	}
}

// A dye bought by volume has the setting's density, and what is assumed is listed.
func TestAssumedInputsAreListed(t *testing.T) {
	b, colored, natural := twoCandles(t)
	e := New(b, nil, on("2026-10-31"))
	var names []string
	for _, f := range calc.Assumed(e.Cost(e.Of(colored), month("2026-10")).Total, e.Cost(e.Of(natural), month("2026-10")).Total) {
		names = append(names, f.Name().Of[0])
	}
	var notes problem.List
	NoteDefaults(&notes, e.Cost(e.Of(colored), month("2026-10")).Total, e.LaborMinutes(e.Of(colored)))
	if got := notes.Sorted()[0]; len(notes.Sorted()) != len(names) || got.Code != problem.DefaultUsed || got.Args[1] != "colored batch extra minutes" || got.Args[3] != "8" {
		t.Errorf("notes %+v", notes.Sorted())
	}
	slices.Sort(names)
	want := []string{
		"colored batch extra minutes", "drops per mL", "dye density", "minutes per batch", "minutes per unit",
		"pitcher capacity", "productive hours per month",
	}
	if d := cmp.Diff(want, names); d != "" {
		t.Error(d)
	}
}

// A part that a command line gives is one piece, divided by 1 - reject rate; the
// jar's own parts are not taken.
func TestPartsGivenInsteadOfTheJars(t *testing.T) {
	b, colored, _ := twoCandles(t)
	e := New(b, nil, on("2026-10-31"))
	m := e.Of(colored)
	m.Parts = map[book.Kind]*calc.Figure{book.JarKind: calc.Const(2.5)}
	c := e.Cost(m, month("2026-10"))
	near(t, "jar", c.Jar, 2.5/0.98)
	near(t, "wick", c.Wick, 0)
	near(t, "the same wax", c.Wax, e.Cost(e.Of(colored), month("2026-10")).Wax.Or(0))
}

// A row that could not be read is said of the candles that lack it: a dye's of
// the colored ones, a jar part's of those of its finish.
func TestCandlesCostedWithoutARowSaySo(t *testing.T) {
	b, colored, natural := twoCandles(t)
	at := func(row int) cell.Ref { return cell.Ref{Sheet: "Recipes", Row: row, Col: 2} }
	colored.Code.At, natural.Code.At = cell.Ref{Sheet: "Products", Row: 2, Col: 1}, cell.Ref{Sheet: "Products", Row: 3, Col: 1}
	colored.Recipe.LeftOut = []book.LeftOut{
		{Name: "Cedar oil", Finish: book.AnyFinish, At: at(4)}, {Name: "Red", Kind: book.Dye, Finish: book.Colored, At: at(5)}, {Finish: book.AnyFinish, At: at(6)},
	}
	colored.Jar.LeftOut = []book.LeftOut{{Name: "Lid", Finish: book.Natural, At: at(7)}}
	e := New(b, nil, on("2026-10-31"))
	for _, p := range []*book.Product{colored, natural} {
		if e.Cost(e.Of(p), month("2026-10")) == nil {
			t.Fatalf("%s has no cost", p.Code.V)
		}
	}
	var got []string
	for _, p := range e.Problems.Sorted() {
		if p.Code == problem.MissingField && p.Severity == problem.Warning {
			got = append(got, p.Say+" "+p.At.Name()+" "+p.Other.Name())
		}
	}
	want := []string{"left-out A2 B4", "left-out A2 B5", "left-out-row A2 B6", "left-out A3 B4", "left-out-part A3 B7", "left-out-row A3 B6"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}
