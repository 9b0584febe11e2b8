package unitcost

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/unit"
)

// twoCandles is a book of two products, worked by hand in TestTwoProductsByHand.
func twoCandles(t testing.TB) (*book.Book, *book.Product, *book.Product) {
	soy := material("Soy", book.Wax, unit.Mass, 10000, 90)          // 0.009 per g
	hard := material("Hardener", book.Wax, unit.Mass, 1000, 14)     // 0.014 per g
	fig := material("Fig oil", book.Fragrance, unit.Mass, 500, 30)  // with freight 33 / 500 = 0.066 per g
	red := material("Red dye", book.Dye, unit.Volume, 30, 6)        // 0.20 per mL, 20 drops per mL, 0.90 g/mL
	uv := material("UV guard", book.Additive, unit.Mass, 100, 12.5) // 0.125 per g
	wick := material("Wick", book.Wick, unit.Count, 100, 9)         // 0.09 each
	tin := material("Tin", book.JarKind, unit.Count, 24, 30)        // 1.25 each
	wrap := material("Tissue", book.Packaging, unit.Mass, 454, 4.54)
	label := material("Red label", book.Label, unit.Count, 50, 10)
	fig.Packs[0].Freight = paid(3)
	amount := func(m *book.Material, v float64, per string) book.Ingredient {
		return book.Ingredient{Material: m, Amount: num(v), Rate: rate(per)}
	}
	recipe := &book.Recipe{Name: text("Fig"), Ingredients: []book.Ingredient{
		amount(soy, 4, "%"), amount(hard, 1, "%"), amount(fig, 1, "oz/lb"), amount(red, 6, "drops/lb"), amount(uv, 0.5, "% of blend"),
	}}
	jar := &book.Jar{Name: text("Tin 8"), Fill: num(200), Parts: []book.Part{
		{Material: tin, Count: num(1), Dim: unit.Count, Finish: book.AnyFinish},
		{Material: wick, Count: num(2), Dim: unit.Count, Finish: book.AnyFinish},
		{Material: wrap, Count: num(5), Dim: unit.Mass, Finish: book.AnyFinish},
		{Material: label, Count: num(1), Dim: unit.Count, Finish: book.Colored},
	}}
	colored := &book.Product{Code: text("FIG-C"), Recipe: recipe, Jar: jar, Finish: book.Colored}
	natural := &book.Product{Code: text("FIG-N"), Recipe: recipe, Jar: jar, Finish: book.Natural, Minutes: num(3)}
	b := &book.Book{
		Materials: []*book.Material{soy, hard, fig, red, uv, wick, tin, wrap, label},
		Recipes:   []*book.Recipe{recipe}, Jars: []*book.Jar{jar}, Products: []*book.Product{colored, natural},
		Overheads: []book.Overhead{
			{Name: text("Rent"), Amount: paid(100)},
			{Name: text("Permit"), Amount: paid(60), From: book.Date{V: on("2026-10-31"), State: cell.Typed}},
			{Name: text("Old rent"), Amount: paid(70), To: book.Date{V: on("2026-09-30"), State: cell.Typed}},
		},
	}
	setting(b, book.PourLoss, 0.04)
	setting(b, book.RejectRate, 0.02)
	setting(b, book.LaborRate, 18)
	return b, colored, natural
}

// Colored, fill F = 200 g:
//
//	r: fragrance 1 oz/lb = 0.0625 g per g of wax; dye 6 drops/lb = 6 / 453.59237 = 0.0132277 drops per g of wax,
//	   at 20 / 0.9 = 22.2222 drops per g = 0.000595248 g per g of wax. b: 0.5 % of blend = 0.005.
//	W = 200 x 0.995 / 1.063095248 = 187.189245...; soy 4/5, hardener 1/5; fragrance W x 0.0625; additive 1 g;
//	drops W x 6 / 453.59237 = 2.4761; dye grams = drops x 0.9 / 20.
//	losses: melted / 0.96 / 0.98, parts / 0.98. Usual batch floor(1800 x 0.96 / 200) = floor(8.64) = 8.
//	labor (4 + (20 + 8) / 8) / 0.98 = 7.5 / 0.98 minutes; x 18 / 60.
//	overhead in October: rent 100 + permit 60 (in force on the 31st) = 160; / 80 h = 2 per hour.
//
// Natural: no dye row, so W = 200 x 0.995 / 1.0625; own 3 minutes: (3 + 20 / 8) / 0.98 = 5.5 / 0.98.
// No red label, no dye. In September: rent 100 + old rent 70 = 170 / 80.
func TestTwoProductsByHand(t *testing.T) {
	b, colored, natural := twoCandles(t)
	e := New(b, nil, on("2026-10-31"))
	oct := month("2026-10")

	wax := 200 * 0.995 / (1 + 0.0625 + 6/453.59237*0.9/20)
	drops := wax * 6 / 453.59237
	c, ok := e.Content(e.Of(colored))
	if !ok {
		t.Fatal("content unknown: ", codes(e))
	}
	near(t, "wax", c.Grams.Wax, wax)
	near(t, "soy", c.Items[0].Grams, wax*0.8)
	near(t, "hardener", c.Items[1].Grams, wax*0.2)
	near(t, "fragrance", c.Grams.Fragrance, wax/16)
	near(t, "drops", c.Drops, drops)
	near(t, "dye", c.Grams.Dye, drops*0.9/20)
	near(t, "additive", c.Grams.Additive, 1)

	const melt, good = 0.96 * 0.98, 0.98
	u := e.Cost(e.Of(colored), oct)
	if u == nil {
		t.Fatal("no unit cost: ", codes(e))
	}
	near(t, "cost of wax", u.Wax, wax*(0.8*0.009+0.2*0.014)/melt)
	near(t, "cost of fragrance", u.Fragrance, wax/16*0.066/melt)
	near(t, "cost of dye", u.Dye, drops/20*0.2/melt)
	near(t, "cost of additive", u.Additive, 0.125/melt)
	near(t, "cost of wicks", u.Wick, 2*0.09/good)
	near(t, "cost of the tin", u.Jar, 1.25/good)
	near(t, "cost of a lid", u.Lid, 0)
	near(t, "cost of the label", u.Label, 0.2/good)
	near(t, "cost of packaging", u.Packaging, 5*0.01/good)
	near(t, "other", u.Other, 0)
	near(t, "usual batch", e.UsualBatch(e.Of(colored)), 8)
	near(t, "labor minutes", e.LaborMinutes(e.Of(colored)), 7.5/good)
	near(t, "labor", u.Labor, 7.5/good*18/60)
	near(t, "overhead", u.Overhead, 7.5/good/60*2)
	near(t, "variable", u.Variable, u.Total.Or(0)-7.5/good/60*2)

	wax = 200 * 0.995 / 1.0625
	n := e.Cost(e.Of(natural), oct)
	near(t, "cost of natural wax", n.Wax, wax*0.01/melt)
	near(t, "cost of dye in a natural candle", n.Dye, 0)
	near(t, "label of a natural candle", n.Label, 0)
	near(t, "natural labor", n.Labor, 5.5/good*18/60)
	near(t, "natural overhead in September", e.Cost(e.Of(natural), oct-1).Overhead, 5.5/good/60*170/80)
	near(t, "natural total", n.Total, wax*0.01/melt+wax/16*0.066/melt+0.125/melt+(0.18+1.25+0.05)/good+5.5/good*18/60+5.5/good/60*2)
	if d := cmp.Diff([]string(nil), codes(e)); d != "" {
		t.Error(d)
	}
}
