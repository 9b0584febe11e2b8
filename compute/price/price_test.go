package price

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/money"
	"pourbook/compute/oracle"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// kept is the share of a price that is left after fees and cost, in plain
// arithmetic; every order of these books has one unit.
func kept(c *book.Channel, price, cost float64) float64 {
	fixed := c.PerUnit.V.Float64() + c.PerOrder.V.Float64()
	return (price*(1-c.Fee.V) - fixed - cost) / price
}

func TestUnroundedPriceKeepsTheTarget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		r, err := Run(b, Options{Jar: "Jar 200", Today: today})
		if err != nil {
			t.Fatal(err)
		}
		target, ending := b.Settings.Num(book.TargetMargin).V, b.Settings.Num(book.PriceEnding).V
		for _, p := range r.Prices {
			if len(p.Channels) != 2 {
				t.Fatalf("%d channels", len(p.Channels))
			}
			cost, list := p.UnitCost.Total.Or(math.NaN()), 0.0
			for i, c := range p.Channels {
				price, rounded := c.Price.Or(math.NaN()), c.Rounded.Or(math.NaN())
				if got := kept(b.Channels[i], price, cost); !(math.Abs(got-target) <= 1e-9) {
					t.Errorf("%s keeps %v of %v, not %v", c.Channel, got, price, target)
				}
				// Rounding up allows a relative slack of 1e-9 and is less than one step.
				if !(rounded >= price*(1-1e-9)) || rounded >= price+1 {
					t.Errorf("%v was rounded to %v", price, rounded)
				}
				if f := rounded - ending; math.Abs(f-math.Round(f)) > 1e-9 {
					t.Errorf("%v does not end in %v", rounded, ending)
				}
				if m := c.Margin.Or(math.NaN()); !(m >= target-1e-9) || math.Abs(m-kept(b.Channels[i], rounded, cost)) > 1e-9 {
					t.Errorf("margin %v after rounding, target %v", m, target)
				}
				list = max(list, rounded)
			}
			if p.List.Or(0) != list {
				t.Errorf("list price %v, highest %v", p.List.Or(0), list)
			}
		}
	})
}

func TestVerdictsFollowTheMargins(t *testing.T) {
	seen := map[Verdict]bool{}
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		r, err := Run(b, Options{All: true, Today: today})
		if err != nil {
			t.Fatal(err)
		}
		target, ending := b.Settings.Num(book.TargetMargin).V, b.Settings.Num(book.PriceEnding).V
		for i, x := range r.Whole {
			list, cost := b.Products[i].List.V.Float64(), x.UnitCost.Total.Or(math.NaN())
			lower := math.Ceil(list-ending-list*1e-9) + ending - 1
			least, leastLower := math.Inf(1), math.Inf(1)
			for _, c := range b.Channels[:2] {
				least, leastLower = min(least, kept(c, list, cost)), min(leastLower, kept(c, lower, cost))
			}
			want := Keep
			switch {
			case least < target-1e-9:
				want = Raise
			case lower > 0 && leastLower >= target-1e-9:
				want = Room
			}
			seen[want] = true
			if x.Verdict != want {
				t.Errorf("%s at %v, margins %v and %v, target %v: %s, want %s", x.Product, list, least, leastLower, target, x.Verdict, want)
			}
			if d := x.Change.Or(math.NaN()); want == Raise && !(d > 0) || want == Room && !(d < 0) || math.Abs(d-(x.Price.Or(0)-list)) > 1e-9 {
				t.Errorf("%s: %s by %v", x.Product, want, d)
			}
		}
	})
	if !seen[Raise] || !seen[Room] {
		t.Errorf("the books had the verdicts %v only", seen)
	}
}

// costing is a book whose candle in the jar "Only" costs a given amount: one part, no labor.
func costing(cost float64) *book.Book {
	b := shopBook()
	for _, s := range []book.Setting{book.LaborRate, book.RejectRate, book.PourLoss} {
		b.Settings.SetNum(s, num(0))
	}
	for _, m := range b.Materials {
		m.Packs[0].Price = paid(0)
	}
	part := material(b, "All of it", book.Wick, unit.Count, 1, cost)
	b.Jars = []*book.Jar{booktest.Jar("Only", 200, part)}
	b.Channels = []*book.Channel{{Name: text("Door"), Listed: true}}
	return b
}

// A price from a margin on sales, cost-plus pricing in Barron's business
// dictionary: cost 8.00 and 20 % of the price give 10.00, a markup of 25 %.
// Markups of 20, 25, 33 1/3, 50 and 60 % are margins of 16 2/3, 20, 25, 33 1/3
// and 37 1/2 %: m / (1 + m).
func TestPriceFromMargin(t *testing.T) {
	for _, x := range []struct{ cost, margin, price, markup float64 }{
		{8, 0.2, 10, 0.25}, {8, 1.0 / 6, 9.6, 0.2}, {9, 0.25, 12, 1.0 / 3}, {8, 1.0 / 3, 12, 0.5}, {8, 0.375, 12.8, 0.6},
	} {
		r := mustRun(t, costing(x.cost), Options{Jar: "Only", Margin: num(x.margin)})
		got := r.Prices[0].Channels[0].Price.Or(math.NaN())
		if !(math.Abs(got-x.price) < 1e-9) || math.Abs((got-x.cost)/x.cost-x.markup) > 1e-9 {
			t.Errorf("cost %v at a margin of %v: %v, want %v", x.cost, x.margin, got, x.price)
		}
	}
	oracle.Cases(t, 5)
}

// Break-even: price 250, variable cost 150 and fixed cost 50,000 give 500 units
// (Heisinger & Hoyle, Accounting for Managers, ch. 6). Price 160, variable cost 90 and fixed cost
// 20,000 give 285.714, so 286 units (arithmetic of a textbook exercise).
func TestBreakEven(t *testing.T) {
	for _, x := range []struct{ price, variable, fixed, want float64 }{{250, 150, 50_000, 500}, {160, 90, 20_000, 2000.0 / 7}} {
		b := costing(x.variable)
		b.Settings.SetNum(book.LabelSetup, num(x.fixed))
		b.Settings.SetNum(book.TestJars, num(0))
		r := mustRun(t, b, Options{Jar: "Only", Margin: num(1 - x.variable/x.price)})
		p := r.Prices[0]
		if p.List.Or(0) != x.price || !(math.Abs(p.BreakEven.Or(math.NaN())-x.want) < 1e-9) {
			t.Errorf("at %v: break-even %v, want %v", p.List.Or(0), p.BreakEven.Or(math.NaN()), x.want)
		}
	}
	if got := calc.CeilOf(2000.0 / 7); got != 286 {
		t.Errorf("%v whole units, want 286", got)
	}
	oracle.Cases(t, 3)
}

// Several products, "Boise Company", a managerial accounting textbook problem:
// prices 250, 350, 500 and variable costs 100, 150, 250 in a mix of 30, 50 and
// 20 % contribute 195 on average, so that fixed costs of 3,315,000 take 17,000
// units: 5,100, 8,500 and 3,400.
func TestBreakEvenOfAMix(t *testing.T) {
	mix, sum := []float64{0.3, 0.5, 0.2}, 0.0
	for i, x := range [][2]float64{{250, 100}, {350, 150}, {500, 250}} {
		b := costing(x[1])
		b.Settings.SetNum(book.LabelSetup, num(3_315_000))
		b.Settings.SetNum(book.TestJars, num(0))
		p := mustRun(t, b, Options{Jar: "Only", Margin: num(1 - x[1]/x[0])}).Prices[0]
		sum += mix[i] * p.Launch.Or(math.NaN()) / p.BreakEven.Or(math.NaN())
	}
	if !(math.Abs(sum-195) < 1e-9) {
		t.Errorf("weighted contribution %v, want 195", sum)
	}
	for i, want := range []float64{5100, 8500, 3400} {
		if got := mix[i] * 3_315_000 / sum; !(math.Abs(got-want) < 1e-6) {
			t.Errorf("product %d: %v units, want %v", i, got, want)
		}
	}
	oracle.Cases(t, 4)
}

func TestNoChannelCarriesTheJar(t *testing.T) {
	b := shopBook(90, 200)
	for _, o := range []Options{{Jar: "Jar 90"}, {All: true}} {
		o.Today, o.Margin = today, num(0.97)
		r, err := Run(b, o)
		if !errors.Is(err, ErrMargin) || !has(r.Problems, problem.BadNumber, "margin") {
			t.Errorf("%v, %v", err, r.Problems.Sorted())
		}
	}
	r := mustRun(t, b, Options{Jar: "Jar 90", Margin: num(0.95)})
	if c := r.Prices[0].Channels; !c[0].Price.Known() || c[1].Price.Known() || !has(r.Problems, problem.BadNumber, "margin") {
		t.Errorf("the website cannot carry 95 %% beside its fee: %+v", c)
	}
}

// The launch cost is test jars x materials and parts + label set-up, whatever
// channels there are: a book that sells to shops only has no list price to pay
// it back at.
func TestLaunchCostNeedsNoChannel(t *testing.T) {
	b := shopBook(90, 200)
	b.Channels = b.Channels[2:]
	b.Settings.SetNum(book.TestJars, num(4))
	b.Settings.SetNum(book.LabelSetup, num(25))
	p := mustRun(t, b, Options{Jar: "Jar 90"}).Prices[0]
	c := p.UnitCost
	want := 4*(c.Total.Or(0)-c.Labor.Or(0)-c.Overhead.Or(0)) + 25
	if got := p.Launch.Or(math.NaN()); !(math.Abs(got-want) < 1e-9) {
		t.Errorf("launch cost %v, want %v", got, want)
	}
	if len(p.Channels) > 0 || p.List.Known() || p.BreakEven.Known() {
		t.Errorf("a price on a channel: %+v", p)
	}
}

// A table of Channels without a row is no channel: the jar is sold without fees.
func TestChannelsWithoutRows(t *testing.T) {
	b := shopBook(90, 200)
	b.Channels = nil
	p := mustRun(t, b, Options{Jar: "Jar 90", Margin: num(0.5)}).Prices[0]
	if len(p.Channels) != 1 || !(math.Abs(p.Channels[0].Price.Or(math.NaN())-2*p.UnitCost.Total.Or(0)) < 1e-9) {
		t.Errorf("prices %+v, want twice %v", p.Channels, p.UnitCost.Total.Or(0))
	}
}

// The first run's usual batch is shared between the finishes as the jar of the
// nearest size sold them: 3 of 4 dyed here, while the larger jar sold 1 of 4.
func TestFirstRunFollowsTheNearestJar(t *testing.T) {
	b := shopBook(150, 400)
	for i, p := range b.Products {
		dyed := p.Finish == book.Colored
		few := dyed != (p.Jar == b.Jars[0])
		b.Sales.Add(book.Sale{
			Day: today - 20, Row: int32(i + 2), SalePlace: book.SalePlace{Product: int32(i)},
			SaleAmounts: book.SaleAmounts{Has: book.HasPrice, Qty: money.Float(map[bool]float64{true: 10, false: 30}[few]), Price: money.Float(20)},
		})
	}
	for _, p := range mustRun(t, b, Options{Jar: "New", Fill: num(180), Parts: []Part{{Name: "Wick", Cost: num(0.2)}}}).Prices {
		batch := p.UsualBatch.Or(math.NaN())
		want := math.Floor(0.75*batch + 0.5)
		if p.Finish == book.Natural {
			want = batch - want
		}
		if got := p.FirstRun.Or(math.NaN()); got != want || batch < 4 {
			t.Errorf("%s %s: %v of %v in the first run, want %v", p.Recipe, p.Finish, got, batch, want)
		}
	}
}

func TestJarWithoutAWick(t *testing.T) {
	b := shopBook(90, 200)
	if has(mustRun(t, b, Options{Jar: "Jar 90"}).Problems, problem.MissingField, "wick-part") {
		t.Error("the jar has a wick")
	}
	b.Jars[0].Parts = b.Jars[0].Parts[:1]
	if r := mustRun(t, b, Options{Jar: "Jar 90"}); !has(r.Problems, problem.MissingField, "wick-part") || !r.Prices[0].List.Known() {
		t.Error("a jar of the book without a wick is not said")
	}
	bowl := Options{Jar: "Bowl", Fill: num(300), Parts: []Part{{Name: "jar", Cost: num(4)}}}
	if !has(mustRun(t, b, bowl).Problems, problem.MissingField, "wick") {
		t.Error("a new jar without a wick is not said")
	}
	bowl.Parts = append(bowl.Parts, Part{Name: "wick", Cost: num(0.2)})
	if has(mustRun(t, b, bowl).Problems, problem.MissingField, "wick") {
		t.Error("the bowl has a wick")
	}
}

func TestRecipeOverTheWaxsMaximumLoad(t *testing.T) {
	b := shopBook(90, 200)
	b.Materials[0].MaxLoad = num(0.1)
	b.Recipes[0].Ingredients[1].Amount = num(12)
	for _, o := range []Options{{Jar: "Jar 90"}, {All: true}} {
		if !has(mustRun(t, b, o).Problems, problem.OverMaxLoad, "") {
			t.Errorf("12 %% of fragrance in a wax that takes 10 is not said: %+v", o)
		}
		o.Recipes = []string{"Cedar"}
		if has(mustRun(t, b, o).Problems, problem.OverMaxLoad, "") {
			t.Errorf("the other recipe is not priced: %+v", o)
		}
	}
}

func TestFewSizesHaveNoCurve(t *testing.T) {
	for _, fills := range [][]float64{{200}, {200, 90}, {200, 90, 340}} {
		r := mustRun(t, shopBook(fills...), Options{Jar: "Jar 200"})
		few := len(fills) < 3
		if p := r.Prices[0]; p.Range.Sizes != len(fills) || p.Range.Predicted.Known() == few || !p.List.Known() {
			t.Errorf("%d sizes: %+v", len(fills), p.Range)
		}
		if has(r.Problems, problem.NoListPrice, "sizes") != few {
			t.Errorf("%d sizes: %v", len(fills), r.Problems.Sorted())
		}
	}
}

// One more percent of fragrance and one more drop per pound are what the unit
// cost moves by when the recipe has them.
func TestStepsAreWhatTheRecipeWouldChange(t *testing.T) {
	for _, basis := range []string{"wax", "blend"} {
		t.Run(basis, func(t *testing.T) { checkSteps(t, basis) })
	}
}

func checkSteps(t *testing.T, basis string) {
	priced := func(load, drops float64) (total, loadStep, dropStep float64) {
		b := shopBook(200)
		b.Settings.SetText(book.FragranceBasis, text(basis))
		b.Settings.SetNum(book.PourLoss, num(0.03))
		b.Settings.SetNum(book.RejectRate, num(0.05))
		stearin := book.Ingredient{Material: material(b, "Stearin", book.Additive, unit.Mass, 500, 9), Amount: num(3), Rate: rate("% of blend")}
		r := b.Recipes[0]
		r.Ingredients[1].Amount, r.Ingredients[1].Rate, r.Ingredients[2].Amount = num(load), rate("%"), num(drops)
		r.Ingredients = append(r.Ingredients, stearin)
		p := mustRun(t, b, Options{Jar: "Jar 200"}).Prices[0]
		return p.UnitCost.Total.Or(math.NaN()), p.LoadStep.Or(math.NaN()), p.DropStep.Or(math.NaN())
	}
	base, load, drop := priced(8, 6)
	more, _, _ := priced(9, 6)
	dyed, _, _ := priced(8, 7)
	if d := more - base; !(math.Abs(d-load) < 1e-9) || d < 0.01 {
		t.Errorf("one more percent adds %v, said %v", d, load)
	}
	if d := dyed - base; !(math.Abs(d-drop) < 1e-9) || d < 0.001 {
		t.Errorf("one more drop adds %v, said %v", d, drop)
	}
}

func TestPairSplitsAtTheCommaBetweenJars(t *testing.T) {
	b := shopBook(90, 200)
	b.Jars[0].Name = text("Tin, 3 oz")
	for names, want := range map[string][2]string{
		"Tin, 3 oz, Jar 200": {"Tin, 3 oz", "Jar 200"}, "jar 200,tin, 3 oz": {"jar 200", "tin, 3 oz"}, "Tin, Jar 200": {}, "Jar 200": {},
	} {
		if got, ok := Pair(b, names); got != want || ok != (want[0] != "") {
			t.Errorf("%q: %q %v", names, got, ok)
		}
	}
	c, err := Compare(b, [2]string{"Tin, 3 oz", "Jar 200"}, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range []string{"Tin, 3 oz", "Jar 200"} {
		alone := mustRun(t, b, Options{Jar: name})
		for k, p := range c.Results[i].Prices {
			if p.List.Or(0) != alone.Prices[k].List.Or(1) {
				t.Errorf("%s: %v beside another, %v alone", name, p.List.Or(0), alone.Prices[k].List.Or(1))
			}
		}
	}
}

func TestRangeWithoutCostOrListPrice(t *testing.T) {
	b := shopBook(90, 200)
	b.Products[0].List = book.Money{}
	b.Products[1].Active.V = false
	b.Jars[1].Fill.V, b.Jars[1].Fill.State = 0, 0
	r := mustRun(t, b, Options{All: true})
	if len(r.Whole) != 7 || r.Whole[0].Verdict != "" || !r.Whole[0].Price.Known() || !has(r.Problems, problem.NoListPrice, "") {
		t.Errorf("%d products, the first %+v", len(r.Whole), r.Whole[0])
	}
	if x := r.Whole[6]; x.UnitCost != nil || x.Verdict != "" || !has(r.Problems, problem.MissingField, "not-priced") {
		t.Errorf("a jar without a fill: %+v", x)
	}
	for _, p := range b.Products {
		p.Active.V = false
	}
	if r, err := Run(b, Options{All: true, Today: today}); !errors.Is(err, ErrBook) || !has(r.Problems, problem.MissingField, "active") {
		t.Errorf("%v", err)
	}
}
