package cost

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// flat is every number of a result's JSON by its path.
func flat(t *rapid.T, r *Result) map[string]float64 {
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var any any
	if err := json.Unmarshal(b, &any); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	flatten(any, "", out)
	return out
}

func flatten(v any, path string, out map[string]float64) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			flatten(x, path+"."+k, out)
		}
	case []any:
		for i, x := range v {
			flatten(x, fmt.Sprint(path, ".", i), out)
		}
	case float64:
		out[path] = v
	}
}

// keys are the fields of a value's JSON.
func keys(t *testing.T, v any) []string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	var m map[string]json.RawMessage
	if err := json.Unmarshal(b, &m); err != nil {
		t.Fatal(err)
	}
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// uncosted is the worked book with a third product whose oil is measured by
// volume and has no density: two of it were sold, for 15.00 each, on the web.
func uncosted(t *testing.T) *book.Book {
	b := worked(t)
	oil := material("Rose", book.Fragrance, unit.Volume, 100, 9)
	b.Materials = append(b.Materials, oil)
	r := &book.Recipe{Name: text("Rose"), Ingredients: []book.Ingredient{b.Recipes[0].Ingredients[0], {Material: oil, Amount: num(8), Rate: rate("% of wax")}}}
	b.Recipes = append(b.Recipes, r)
	b.Products = append(b.Products, &book.Product{Code: text("R"), Recipe: r, Jar: b.Jars[0], Finish: book.Natural, Active: cell.Bool{State: cell.Typed}})
	sell(t, b, sale{day: "2026-10-21", product: "R", qty: 2, price: at(15), channel: "Web", order: "A9", customer: "Dot"})
	return b
}

func TestAProductThatCannotBeCosted(t *testing.T) {
	b := uncosted(t)
	r := costed(t, b, monthOf("2026-10"))
	p := r.Products[2]
	if p.UnitCost != nil {
		t.Error("it has a unit cost")
	}
	near(t, "units", p.Units, 2)
	near(t, "net sales", p.NetSales, 30)
	near(t, "fees", p.Fees, 3+1+1.2)
	absent(t, "cost of sales", p.CostOfSales)
	absent(t, "gross margin", p.GrossMargin)
	absent(t, "margin rate", p.MarginRate)
	absent(t, "contribution", p.Contribution)
	near(t, "all net sales", r.Totals.NetSales, 257)
	near(t, "all fees", r.Totals.Fees, 15.6+5.2)
	near(t, "cost of the others", r.Totals.CostOfSales, 147.3)
	near(t, "margin of the others", r.Totals.GrossMargin, 79.7)
	near(t, "contribution of the others", r.Totals.Contribution, 72.7)
	near(t, "contribution of the others on the web", r.Channels[0].Contribution, 97-15.6-2*9.5-34.2)
	near(t, "natural units", r.Split.Overall.Natural, 8)
	near(t, "break-even switch, without it", r.Split.DropNatural.BreakEvenSwitch, 6.42/(91.9/11))
	var amount []float64
	for _, x := range said(r.Problems, problem.MissingField) {
		if x.Say == "not-costed" && x.HasAmount {
			amount = append(amount, x.Amount)
		}
	}
	if !slices.Equal(amount, []float64{30}) {
		t.Errorf("amounts that stand on it: %v", amount)
	}
	if got := keys(t, p); slices.Contains(got, "unit_cost") || slices.Contains(got, "contribution") || !slices.Contains(got, "net_sales") {
		t.Errorf("fields %v", got)
	}
	b.Sales.Keep(func(_ int, s *book.PackedSale) bool { return b.Sales.Unpack(*s).Product == 2 })
	r = costed(t, b, monthOf("2026-10"))
	absent(t, "cost of sales when nothing can be costed", r.Totals.CostOfSales)
	absent(t, "overhead absorbed when nothing can be costed", r.Totals.OverheadAbsorbed)
	near(t, "net sales when nothing can be costed", r.Totals.NetSales, 30)
}

func TestZeroIsThereAndUnknownIsNot(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-09"))
	n := r.Products[1]
	want := []string{"drops", "finish", "grams", "jar", "labor_minutes", "list_price", "name", "product", "recipe", "unit_cost", "usual_batch"}
	sold := []string{"contribution", "cost_of_sales", "fees", "gross_margin", "net_sales", "units"}
	all := append(slices.Clone(append(want, sold...)), "margin_rate")
	slices.Sort(all)
	if got := keys(t, n); !slices.Equal(got, all) {
		t.Errorf("fields of a product with sales %v", got)
	}
	if got := keys(t, n.UnitCost); len(got) != 14 || !slices.Contains(got, "dye") {
		t.Errorf("parts of a natural product's cost %v", got)
	}
	quiet := costed(t, worked(t), monthOf("2026-08"))
	all = append(want, sold...)
	slices.Sort(all)
	if got := keys(t, quiet.Products[0]); !slices.Equal(got, all) {
		t.Errorf("fields of a product without sales %v", got)
	}
	near(t, "units without sales", quiet.Products[0].Units, 0)
	near(t, "contribution without sales", quiet.Totals.Contribution, 0)
	b, err := json.Marshal(quiet)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{`"change"`, `"quantity_effect"`, `null`, `"season_test"`} {
		if strings.Contains(string(b), s) {
			t.Errorf("%s in %s", s, b)
		}
	}
	if !strings.Contains(string(b), `"by_season":[`) || !strings.Contains(string(b), `"stock":[]`) {
		t.Errorf("lists that are empty are no lists: %s", b)
	}
}

// Products of wax alone use neither dye nor fragrance, which is a list without rows.
func TestNothingButWax(t *testing.T) {
	b := twoProducts(t)
	b.Recipes[0].Ingredients = b.Recipes[0].Ingredients[:1]
	sell(t, b, sale{day: "2026-09-03", product: "N", qty: 2, channel: "Stall"})
	r := costed(t, b, monthOf("2026-09"))
	near(t, "units", r.Products[1].Units, 2)
	if r.Use == nil || len(r.Use) > 0 {
		t.Errorf("the use of materials is %v", r.Use)
	}
}

func TestChannelsOfTheBookAndOfTheSales(t *testing.T) {
	b := twoProducts(t)
	b.Channels = append(b.Channels, &book.Channel{Name: text("Porch")}, &book.Channel{Name: text("Gallery")}, &book.Channel{Name: text("Attic")})
	sell(t, b,
		sale{day: "2026-10-05", product: "C", qty: 1, price: at(20), channel: "Gallery"},
		sale{day: "2026-10-04", product: "C", qty: 1, price: at(20)},
		sale{day: "2026-10-03", product: "C", qty: 1, price: at(20), channel: "Porch"},
		sale{day: "2026-09-03", product: "C", qty: 1, price: at(20), channel: "Attic"},
	)
	var names []string
	for _, c := range costed(t, b, monthOf("2026-10")).Channels {
		names = append(names, c.Channel)
	}
	if want := []string{"Web", "Stall", "Shop", "Gallery", "", "Porch"}; !slices.Equal(names, want) {
		t.Errorf("channels %q, want %q", names, want)
	}
}

// An amount that cannot be read leaves what rests on it unknown: the line's own
// money, and the share of the order's fee that its other lines bear.
func TestAnAmountThatCannotBeRead(t *testing.T) {
	b := worked(t)
	for i, s := range b.Sales.All() {
		if s.Discount.Sign() != 0 {
			s.Has |= book.BadMoney
			b.Sales.Set(i, s)
			break
		}
	}
	r := costed(t, b, monthOf("2026-10"))
	near(t, "units of N", r.Products[1].Units, 4)
	absent(t, "net sales of N", r.Products[1].NetSales)
	near(t, "net sales of C", r.Products[0].NetSales, 170)
	absent(t, "fees of C, in the same order", r.Products[0].Fees)
	absent(t, "all net sales", r.Totals.NetSales)
	near(t, "cost of sales", r.Totals.CostOfSales, 147.3)
}

func TestABadFeeLeavesItsChannelUnknown(t *testing.T) {
	b := worked(t)
	b.Channels[0].Fee = cell.Num{State: cell.Bad, Raw: "ten"}
	r := costed(t, b, monthOf("2026-10"))
	absent(t, "fees on the web", r.Channels[0].Fees)
	absent(t, "contribution on the web", r.Channels[0].Contribution)
	near(t, "gross margin on the web", r.Channels[0].GrossMargin, 97-56.4)
	near(t, "contribution at the stall", r.Channels[1].Contribution, 42.5)
}

func TestNothingAfterThePeriodIsUsed(t *testing.T) {
	b := worked(t)
	b.Purchases = slices.Insert(b.Purchases, 0, book.Purchase{Day: on("2024-01-05"), Material: b.Materials[0], Qty: num(100_000), Dim: unit.Mass, Paid: paid(1600)})
	a, err := json.Marshal(costed(t, b, monthOf("2026-09")))
	if err != nil {
		t.Fatal(err)
	}
	b.Purchases = b.Purchases[:1]
	b.Sales.Keep(func(_ int, s *book.PackedSale) bool { return s.Day <= on("2026-09-30") })
	c, err := json.Marshal(costed(t, b, monthOf("2026-09")))
	if err != nil {
		t.Fatal(err)
	}
	if string(a) != string(c) {
		t.Errorf("October changes September:\n%s\n%s", a, c)
	}
}

func TestDefaultMonth(t *testing.T) {
	b := worked(t)
	for today, want := range map[string]string{"2026-11-01": "2026-10", "2026-10-31": "2026-09", "2026-09-30": "2024-10", "2030-01-01": "2026-10"} {
		if m, ok := DefaultMonth(b, on(today)); !ok || m.String() != want {
			t.Errorf("on %s the default is %v, want %s", today, m, want)
		}
	}
	if _, ok := DefaultMonth(b, on("2024-10-31")); ok {
		t.Error("a month that has not ended is costed")
	}
	r, err := Run(b, Options{Today: on("2024-10-31")})
	if !errors.Is(err, ErrBook) || len(said(r.Problems, problem.MissingTable)) != 1 {
		t.Errorf("%v, %v", err, r.Problems.Sorted())
	}
}

func TestABookWithoutWhatACostingNeeds(t *testing.T) {
	b := worked(t)
	b.Jars, b.Sales = nil, book.Sales{}
	b.Tables = slices.DeleteFunc(b.Tables, func(x book.Table) bool { return x.Table == book.TJars })
	r, err := Run(b, Options{Period: monthOf("2026-10")})
	var say []string
	for _, p := range said(r.Problems, problem.MissingTable) {
		say = append(say, fmt.Sprint(p.Args[1], " ", p.Say))
	}
	slices.Sort(say)
	if !errors.Is(err, ErrBook) || !slices.Equal(say, []string{"Jars ", "Sales no-rows"}) {
		t.Errorf("%v, %q", err, say)
	}
}

func TestDefaultsThatMattered(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-10"))
	var what []string
	for _, p := range said(r.Problems, problem.DefaultUsed) {
		if p.Say == "setting" {
			what = append(what, p.Args[1].(string))
			continue
		}
		what = append(what, p.Say)
	}
	slices.Sort(what)
	if want := []string{"currency", "dye density", "seasons", "target margin", "wholesale discount"}; !slices.Equal(what, want) {
		t.Errorf("notes on %q, want %q", what, want)
	}
}

func TestBoothFeeThatCannotBeRead(t *testing.T) {
	b := worked(t)
	b.Markets[0].Booth = book.Money{State: cell.Bad, Raw: "?"}
	absent(t, "booth fees", costed(t, b, monthOf("2026-10")).Totals.BoothFees)
	near(t, "booth fees of September", costed(t, b, monthOf("2026-09")).Totals.BoothFees, 0)
}

// What a report asks to decide stands in the order of what it is worth, also
// where a kind's second is worth more than another kind's first.
func TestDecisionsStandByTheirAmounts(t *testing.T) {
	b := twoProducts(t)
	b.Settings.SetNum(book.TargetMargin, num(0.9))
	sell(t, b,
		sale{day: "2026-10-02", product: "C", qty: 10, price: at(20), channel: "Stall"},
		sale{day: "2026-10-02", product: "N", qty: 8, price: at(20), channel: "Stall"})
	decided(t, costed(t, b, monthOf("2026-10")), []asked{
		{"below-target", "C", 0.9*200 - 10*(20-9.1)}, {"below-target", "N", 0.9*160 - 8*(20-8.04)}, {"color-does-not-pay", "C", 10 * (9.1 - 8.04)},
	})
}
