package pdf

import (
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/plan"
	"pourbook/compute/unit"
)

// bench says what plan to make of a book that is made.
type benchShape struct {
	shape
	units    float64 // expected at the market
	minutes  float64 // of an evening
	away     int     // days from today to the market
	onHand   float64 // of every product
	stocked  bool    // every material is there in plenty
	markets  int     // one, unless more
	by       bool    // a plan without a market
	untested bool
	plain    bool // recipes without temperatures and swatches
	crowded  bool // recipes of nine ingredients, with odd temperatures
	drops    float64
}

var planToday = day.Of(2026, 11, 5)

func benchBook(s benchShape) *book.Book {
	b := makeBook(s.shape)
	b.Settings.SetNum(book.PourMinutes, num(s.minutes))
	b.Settings.SetNum(book.Pitcher, num(2500))
	for i, m := range b.Materials {
		m.Supplier = word([]string{"Ferry Lane Supply", "Oilcloth Supply", "Harrow Glass"}[i%3])
		m.LeadDays = num(float64(3 + i%5))
		amount := 30.0
		if m.Kind.Melted() {
			amount = 900
		}
		if s.stocked {
			amount *= 1000
		}
		m.OnHand = num(amount)
		m.Packs[0].Size.Raw = "1 pack"
	}
	for _, p := range b.Products {
		p.OnHand = num(s.onHand)
	}
	for i, r := range b.Recipes {
		dressRecipe(b, r, i, s)
	}
	for n := range max(s.markets, 1) {
		b.Markets = append(b.Markets, &book.Market{
			Name: word([]string{"Harbor Lights Fair", "Winter Yard"}[n]), Day: planToday + day.Date(s.away+7*n),
			Days: num(2), Channel: b.Channels[1], Expected: num(s.units), Booth: paid(105), At: cell.Ref{Sheet: "Markets", Row: 2 + n, Col: 1},
		})
	}
	b.Tables = append(b.Tables, book.Table{Table: book.TMarkets}, book.Table{Table: book.TBurnTests})
	if !s.untested {
		for _, p := range b.Products {
			b.Burns = append(b.Burns, book.Burn{Day: planToday - 100, Recipe: p.Recipe, Jar: p.Jar, Finish: p.Finish, Pass: true})
		}
	}
	return b
}

func dressRecipe(b *book.Book, r *book.Recipe, i int, s benchShape) {
	r.CureDays = num(14)
	if !s.plain {
		r.MeltTemp, r.DyeTemp, r.FragranceTemp, r.PourTemp = word("185 F"), word("180 F"), word("175 F"), word("135 F")
	} else {
		r.Swatch = cell.Text{}
	}
	if s.drops > 0 {
		r.Ingredients[2].Amount = num(s.drops)
	}
	if !s.crowded {
		return
	}
	r.MeltTemp, r.DyeTemp, r.PourTemp = word("85 C"), word("just under the smoke point of the dye, as on the bottle"), word("60-62 °C")
	r.FragranceTemp.V = "75"
	rate, _ := unit.FindRate("% of wax")
	for k := range 6 {
		kind := []book.Kind{book.Additive, book.Fragrance, book.Wax}[k%3]
		x := &book.Material{
			Name: word("Additive or scent " + r.Name.V + " " + string(rune('A'+k))), Kind: kind, Dim: unit.Mass, Density: num(0.95), OnHand: num(400),
			FlashPoint: word("200 F"), Packs: []book.Pack{{Size: num(500), Dim: unit.Mass, Price: book.Money{V: money.Float(12), State: cell.Typed}}},
		}
		b.Materials = append(b.Materials, x)
		ing := book.Ingredient{Material: x, Amount: num(0.4), Rate: rate}
		if kind == book.Wax {
			ing = book.Ingredient{Material: x, Amount: num(0.1)}
		}
		r.Ingredients = append(r.Ingredients, ing)
	}
}

// benchPlan is the plan of a book that is made.
func benchPlan(t testing.TB, s benchShape) *plan.Result {
	t.Helper()
	b := benchBook(s)
	o := plan.Options{Today: planToday, FirstBatch: 14, By: day.None}
	if s.by {
		o.By, o.Units = planToday+day.Date(s.away), map[string]int{"P1-1C": 30, "P1-1N": 12}
	}
	for n := range s.markets {
		o.Markets = append(o.Markets, []string{"Harbor Lights Fair", "Winter Yard"}[n])
	}
	r, err := plan.Run(b, o)
	if err != nil {
		t.Fatal(err, r.Problems.Sorted())
	}
	return r
}

var planShapes = map[string]benchShape{
	"small":    {shape: shape{recipes: 2, jars: 2}, units: 60, minutes: 180, away: 30, untested: true},
	"mid":      {shape: shape{recipes: 5, jars: 2}, units: 160, minutes: 180, away: 30, onHand: 3, stocked: true},
	"large":    {shape: shape{recipes: 10, jars: 3, long: true}, units: 420, minutes: 420, away: 40, untested: true, plain: true},
	"cards":    {shape: shape{recipes: 10, jars: 2}, units: 500, minutes: 400, away: 45, stocked: true},
	"late":     {shape: shape{recipes: 3, jars: 2}, units: 80, minutes: 180, away: 6},
	"tight":    {shape: shape{recipes: 6, jars: 2}, units: 300, minutes: 90, away: 21, stocked: true},
	"nothing":  {shape: shape{recipes: 2, jars: 2}, units: 30, minutes: 180, away: 30, onHand: 60},
	"by":       {shape: shape{recipes: 2, jars: 2}, units: 30, minutes: 180, away: 30, by: true},
	"two":      {shape: shape{recipes: 3, jars: 2}, units: 60, minutes: 180, away: 30, markets: 2, stocked: true},
	"crowded":  {shape: shape{recipes: 2, jars: 2}, units: 60, minutes: 180, away: 30, crowded: true, drops: 40, untested: true},
	"fewdrops": {shape: shape{recipes: 2, jars: 1}, units: 12, minutes: 180, away: 30, drops: 0.9, stocked: true},
}
