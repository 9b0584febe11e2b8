package plan

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// checkResult fails where a plan breaks a rule that a maker counts on.
func checkResult(t *rapid.T, b *book.Book, r *Result) {
	minutes := map[day.Date]float64{}
	need := map[string]float64{}
	poured := map[string]int{}
	pitcher, limit := b.Settings.Num(book.Pitcher).V, b.Settings.Num(book.PourMinutes).V
	for i, p := range r.Pours {
		if p.Batch != i+1 || p.Day > p.Due || p.Day < r.Today || p.Cured > r.By {
			t.Fatalf("pour %d: batch %d on %v, due %v, cured %v", i, p.Batch, p.Day, p.Due, p.Cured)
		}
		if p.Blend.Or(math.Inf(1)) > pitcher*(1+1e-9) {
			t.Fatalf("pour %d: %v g in a pitcher of %v", i, p.Blend.Or(0), pitcher)
		}
		minutes[p.Day] += p.Minutes.Or(math.Inf(1)) + p.Changeover.Or(math.Inf(1))
		total := 0.0
		for _, j := range p.Jars {
			poured[j.Product] += j.Units
		}
		for _, w := range p.Weigh {
			total += w.ExactGrams.Or(0)
			checkDose(t, b, w)
		}
		if math.Abs(total-p.Blend.Or(0)) > 1e-9*total {
			t.Fatalf("pour %d: its materials weigh %v, the blend %v", i, total, p.Blend.Or(0))
		}
		for _, x := range p.takes {
			m := x.Of
			need[m.Name.V] += x.Quantity.Or(math.Inf(1))
			if need[m.Name.V] > m.OnHand.V*(1+1e-9) && p.Day < r.Today+day.Date(m.LeadDays.V) {
				t.Fatalf("pour %d takes %s before it is there", i, m.Name.V)
			}
		}
	}
	for d, m := range minutes {
		if m > limit*(1+1e-9) {
			t.Fatalf("%v takes %v of %v minutes", d, m, limit)
		}
	}
	checkOrders(t, r, need)
	checkLeftOut(t, b, r, poured)
}

func checkDose(t *rapid.T, b *book.Book, w Weigh) {
	scale := b.Settings.Num(book.ScaleResolution).V
	if w.Drops.Known() {
		d := w.Drops.Or(0)
		if d < 1 || d != math.Round(d) || apart(d, w.ExactDrops.Or(0), 1) && d > 1 || w.Grams.Known() != (d >= 60) {
			t.Fatalf("%s: %v drops for %v, grams known %v", w.Material, d, w.ExactDrops.Or(0), w.Grams.Known())
		}
		return
	}
	g := w.Grams.Or(math.Inf(1))
	if n := g / scale; math.Abs(n-math.Round(n)) > 1e-9*n || apart(g, w.ExactGrams.Or(0), scale) {
		t.Fatalf("%s: %v g for %v on a scale of %v", w.Material, g, w.ExactGrams.Or(0), scale)
	}
}

// apart reports that a dose is not the step nearest to the exact one, which counts
// for a billionth more than it is.
func apart(dose, exact, step float64) bool {
	return math.Abs(dose-exact*(1+1e-9)) > step/2+1e-12*dose
}

func checkOrders(t *rapid.T, r *Result, need map[string]float64) {
	bought := map[string]bool{}
	for _, x := range r.Buy {
		bought[x.Material] = true
		got := 0.0
		for _, p := range x.Packs {
			if p.Count <= 0 {
				t.Fatalf("%s: %d packs", x.Material, p.Count)
			}
			got += float64(p.Count) * p.Size.Or(0)
		}
		if math.Abs(x.Need.Or(0)-need[x.Material]) > 1e-9*(1+need[x.Material]) || got < (x.Need.Or(0)-x.OnHand.Or(0))*(1-1e-8) || x.OrderBy < r.Today {
			t.Fatalf("%s: need %v of %v, on hand %v, bought %v, order by %v", x.Material, x.Need.Or(0), need[x.Material], x.OnHand.Or(0), got, x.OrderBy)
		}
	}
	for _, m := range r.Source.Materials {
		if short := need[m.Name.V] > m.OnHand.V*(1+1e-9); short != bought[m.Name.V] {
			t.Fatalf("%s: short %v, bought %v", m.Name.V, short, bought[m.Name.V])
		}
	}
}

func checkLeftOut(t *rapid.T, b *book.Book, r *Result, poured map[string]int) {
	good := 1 - b.Settings.Num(book.RejectRate).V
	left, lost, all := map[string]int{}, 0.0, 0.0
	for _, l := range r.LeftOut {
		left[l.Product] = l.Units
		lost += l.Contribution.Or(math.NaN())
	}
	sum := 0
	for _, d := range r.Demand {
		all += d.Contribution.Or(math.NaN())
		sum += d.Bring
		n := poured[d.Product]
		if d.Need != max(0, d.Bring-d.OnHand) || float64(d.Pour)*good < float64(d.Need)-1e-9 || d.Pour > 0 && float64(d.Pour-1)*good >= float64(d.Need) {
			t.Fatalf("%+v", d)
		}
		if units, out := left[d.Product]; (n < d.Pour) != out || out && units != d.Need-min(d.Need, int(float64(n)*good+1e-9)) {
			t.Fatalf("%s: %d of %d poured, left out %d", d.Product, n, d.Pour, units)
		}
	}
	if c := b.Markets[2].Capacity; c.OK() && float64(sum) > c.V {
		t.Fatalf("%d units on a table for %v", sum, c.V)
	}
	if math.Abs(r.Contribution.Or(0)-(all-lost)) > 1e-9*(1+all) || r.Bound.Or(0) < r.Contribution.Or(0)-1e-9*(1+all) || r.Bound.Or(0) > all+1e-9*(1+all) {
		t.Fatalf("contribution %v (%v - %v), bound %v", r.Contribution.Or(0), all, lost, r.Bound.Or(0))
	}
	if len(left) == 0 && r.Gap.Or(1) != 0 {
		t.Fatalf("everything fits and the gap is %v", r.Gap.Or(1))
	}
}

func TestPlansKeepTheirRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		o := options()
		o.effort = 10_000
		r, err := Run(b, o)
		if err != nil {
			t.Fatalf("%v: %v", err, r.Problems.Sorted())
		}
		checkResult(t, b, r)
		if rapid.IntRange(0, 4).Draw(t, "again") > 0 {
			return
		}
		again, _ := Run(b, o)
		one, _ := json.Marshal(r)
		two, _ := json.Marshal(again)
		if string(one) != string(two) {
			t.Fatal("the same book gave two plans")
		}
	})
}

func TestPlanByHand(t *testing.T) {
	b := plainBook()
	r := mustRun(t, b, options())
	// 68 were sold at the fair's last date, 20 of them RGC; of the 108 sold in
	// spring and summer 68 were in spring. Mix prior 20.
	near(t, "expected total", r.ExpectedTotal, 68)
	if r.From != fromSameName || strings.Join(r.FromWhat, ",") != "Spring Fair 2025-04-12" || r.Market.Season != "Spring" {
		t.Errorf("from %s %v, season %s", r.From, r.FromWhat, r.Market.Season)
	}
	d := r.Demand[0]
	near(t, "mean of RGC", d.Mean, 68*(20+20*20.5/72)/88)
	near(t, "spread", d.R, 4)
	if d.Need != d.Bring || d.Pour != int(math.Ceil(float64(d.Bring)/0.99)) || len(r.LeftOut) != 0 {
		t.Errorf("%+v, left out %v", d, r.LeftOut)
	}
	p := r.Pours[0]
	if p.Due != date("2026-03-27") || p.Cured != p.Day+14 || p.Finish != book.Natural && p.Finish != book.Colored {
		t.Errorf("due %v, cured %v on %v", p.Due, p.Cured, p.Day)
	}
	units, blend, minutes := 0, 0.0, 20.0
	for _, j := range p.Jars {
		units += j.Units
		blend += float64(j.Units) * j.Of.Jar.Fill.V / 0.98
		minutes += 4 * float64(j.Units)
	}
	if p.Finish == book.Colored {
		minutes += 8
	}
	near(t, "blend", p.Blend, blend)
	near(t, "minutes", p.Minutes, minutes)
	if got := p.Weigh[0]; got.Material != "Soy" || got.Grams.Or(0) != math.Round(got.ExactGrams.Or(0)) {
		t.Errorf("weigh %s %v for %v", got.Material, got.Grams.Or(0), got.ExactGrams.Or(0))
	}
	if len(p.Flags) != 1 || p.Flags[0] != FlagUntested {
		t.Errorf("flags %v", p.Flags)
	}
}

func TestPlanWithoutAMarket(t *testing.T) {
	b := plainBook()
	b.Products[1].Name, b.Products[1].OnHand = text("Rose glass, natural"), num(50)
	o := options()
	o.By, o.Units = date("2026-04-01"), map[string]int{"rgc": 10, "Rose  GLASS, natural": 5}
	r := mustRun(t, b, o)
	if r.Market != nil || r.Demand != nil || r.ExpectedTotal.Known() || r.Bound.Known() || len(r.LeftOut) != 0 || r.By != o.By {
		t.Errorf("a plan without a market has one: %+v", r)
	}
	poured := map[string]int{}
	for _, p := range r.Pours {
		for _, j := range p.Jars {
			poured[j.Product] += j.Units
		}
	}
	if len(poured) != 2 || poured["RGC"] != 11 || poured["RGN"] != 6 {
		t.Errorf("poured %v", poured)
	}
	js, err := json.Marshal(r)
	if err != nil || strings.Contains(string(js), `"demand"`) || strings.Contains(string(js), `"market"`) || strings.Contains(string(js), "expected_total") {
		t.Errorf("%v %s", err, js)
	}
	o.By = date("2026-03-10") // too late for 14 days of cure
	if r = mustRun(t, b, o); len(r.Pours) != 0 || len(r.LeftOut) != 2 || r.LeftOut[0].Units != 10 || r.LeftOut[0].Contribution.Known() {
		t.Errorf("too late: %d pours, left out %+v", len(r.Pours), r.LeftOut)
	}
}

func TestTwoMarketsShareStockAndEvenings(t *testing.T) {
	b := plainBook()
	b.Markets = append(b.Markets, &book.Market{Name: text("Old Fair"), Day: date("2026-04-18"), Channel: b.Channels[0], Expected: num(40)})
	for _, p := range b.Products {
		p.OnHand = num(12)
	}
	o := options()
	o.Markets = []string{"old fair", "Spring Fair"}
	r := mustRun(t, b, o)
	if r.Market.Market != "Spring Fair" || len(r.Also) != 1 || r.Also[0].Market.Market != "Old Fair" {
		t.Fatalf("%+v, also %+v", r.Market, r.Also)
	}
	for i, d := range r.Demand {
		if also := r.Also[0].Demand[i]; d.OnHand != 12 || also.OnHand != 12-min(12, d.Bring) {
			t.Errorf("%s: on hand %d, then %d; bring %d", d.Product, d.OnHand, also.OnHand, d.Bring)
		}
	}
	of := map[string]int{}
	for _, p := range r.Pours {
		of[p.Market]++
	}
	if of["Spring Fair"] == 0 || of["Old Fair"] == 0 || of[""] != 0 {
		t.Errorf("pours %v", of)
	}
}

// A market before the one that is planned for may take what is on hand.
func TestMarketsBeforeAreTold(t *testing.T) {
	for onHand, want := range map[float64][]string{0: nil, 12: {"Spring Fair"}} {
		b := plainBook()
		b.Markets = append(b.Markets, &book.Market{Name: text("Old Fair"), Day: date("2026-04-18"), Channel: b.Channels[0], Expected: num(40)})
		b.Products[0].OnHand = num(onHand)
		told := func(markets ...string) (out []string) {
			o := options()
			o.Markets = markets
			for _, p := range mustRun(t, b, o).Problems.Sorted() {
				if p.Code == problem.DefaultUsed && p.Say == "market-before" {
					out = append(out, fmt.Sprint(p.Args[3]))
				}
			}
			return out
		}
		if got := told("Old Fair"); !slices.Equal(got, want) {
			t.Errorf("%v on hand: told of %q before", onHand, got)
		}
		if got := told("Old Fair", "Spring Fair"); got != nil {
			t.Errorf("%v on hand: told of %q though both are planned for", onHand, got)
		}
	}
}

func TestWhatStopsAPlan(t *testing.T) {
	for _, x := range []struct {
		name   string
		change func(*book.Book, *Options)
		err    error
		code   problem.Code
		say    string
	}{
		{"unknown market", func(b *book.Book, o *Options) { o.Markets = []string{"Autumn Fair"} }, ErrMarket, problem.UnknownMarket, "asked"},
		{"market without a date ahead", func(b *book.Book, o *Options) { o.Markets = []string{"Old Fair"} }, ErrMarket, problem.UnknownMarket, "past"},
		{"no market ahead", func(b *book.Book, o *Options) { o.Today = date("2027-01-01") }, ErrMarket, problem.UnknownMarket, "none-ahead"},
		{"no markets", func(b *book.Book, o *Options) { b.Markets = nil }, ErrMarket, problem.UnknownMarket, "no-markets"},
		{"no sales at all", func(b *book.Book, o *Options) { b.Sales = book.Sales{} }, ErrTotal, problem.MissingField, "expected"},
		{"no materials", func(b *book.Book, o *Options) { b.Materials = nil }, ErrBook, problem.MissingTable, "no-rows"},
		{"everything is rejected", func(b *book.Book, o *Options) { set(b, book.RejectRate, 1) }, ErrBook, problem.BadNumber, "loss"},
		{"no pitcher", func(b *book.Book, o *Options) { set(b, book.Pitcher, 0) }, ErrBook, problem.BadNumber, "above-zero"},
		{"unknown product", func(b *book.Book, o *Options) { o.By, o.Units = date("2026-04-01"), map[string]int{"X": 1} }, ErrUnits, problem.UnknownProduct, "asked"},
	} {
		b, o := plainBook(), options()
		x.change(b, &o)
		r, err := Run(b, o)
		if err != x.err {
			t.Errorf("%s: %v", x.name, err)
		}
		found := false
		for _, p := range r.Problems.Sorted() {
			if p.Code == x.code && p.Say == x.say {
				found = true
				if x.code == problem.UnknownMarket && x.say != "no-markets" && p.Args[3] != "Spring Fair, Old Fair" {
					t.Errorf("%s: known markets %v", x.name, p.Args)
				}
			}
		}
		if !found {
			t.Errorf("%s: %v", x.name, r.Problems.Sorted())
		}
	}
}

func TestUnknownCostAndPriceBringNothing(t *testing.T) {
	b := plainBook()
	b.Recipes[1].Ingredients[1].Amount = cell.Num{State: cell.Bad} // cedar cannot be costed
	b.Products[0].List = book.Money{}
	b.Products[1].List = paid(0.5)
	r := mustRun(t, b, options())
	if d := r.Demand[0]; d.Bring != 0 || !d.Known || d.ExpectedSold.Or(-1) != 0 {
		t.Errorf("without a price: %+v", d)
	}
	if d := r.Demand[1]; d.Bring != 0 || d.Contribution.Or(-1) != 0 {
		t.Errorf("sold below its cost: %+v", d)
	}
	js, _ := json.Marshal(r.Demand[4])
	if s := string(js); strings.Contains(s, "bring") || strings.Contains(s, "need") || !strings.Contains(s, "mean") || !strings.Contains(s, `"on_hand":0`) {
		t.Errorf("without a cost: %s", s)
	}
	codes := map[problem.Code]bool{}
	for _, p := range r.Problems.Sorted() {
		codes[p.Code] = true
	}
	if !codes[problem.NoListPrice] || !codes[problem.ZeroPrice] || !codes[problem.MissingField] {
		t.Errorf("problems %v", codes)
	}
}
