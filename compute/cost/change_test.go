package cost

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
)

// Horngren, Cost Accounting, "Soda King": 500,000 units that leave 4.50 and
// 750,000 that leave 3.50 were expected, 1,230,000 in a mix of 41 to 59 % came:
// mix 12,300 better, quantity 78,000 worse, volume 65,700 worse.
func TestMixAndQuantityPublished(t *testing.T) {
	b := twoProducts(t)
	sell(t, b,
		sale{day: "2026-09-02", product: "C", qty: 500_000, price: at(9.10 + 4.50)}, sale{day: "2026-09-02", product: "N", qty: 750_000, price: at(8.04 + 3.50)},
		sale{day: "2026-10-02", product: "C", qty: 504_300, price: at(9.10 + 4.50)}, sale{day: "2026-10-02", product: "N", qty: 725_700, price: at(8.04 + 3.50)},
	)
	r := costed(t, b, monthOf("2026-10"))
	for what, x := range map[string]struct {
		f    *calc.Figure
		want float64
	}{"mix": {r.MixEffect, 12_300}, "quantity": {r.QuantityEffect, -78_000}, "volume": {calc.Add(r.Change[0].Volume, r.Change[1].Volume), -65_700}} {
		if math.Abs(x.f.Or(0)-x.want) > 1e-6 {
			t.Errorf("%s %v, want %v", what, x.f.Or(0), x.want)
		}
	}
	oracle.Cases(t, 3)
}

func TestChangeWithoutAMonthBefore(t *testing.T) {
	b := twoProducts(t)
	sell(t, b,
		sale{day: "2026-09-02", product: "C", qty: -1, price: at(20)},
		sale{day: "2026-10-02", product: "C", qty: 2, price: at(20)},
		sale{day: "2026-10-02", product: "N", qty: 3, price: at(20)},
	)
	r := costed(t, b, monthOf("2026-10"))
	if len(r.Change) != 2 {
		t.Fatalf("%d rows", len(r.Change))
	}
	// only returns before: all of it is volume, 2 x 10.90 + 10.90
	near(t, "volume of C", r.Change[0].Volume, 3*(20-9.10))
	near(t, "price of C", r.Change[0].Price, 0)
	near(t, "volume of N", r.Change[1].Volume, 3*(20-8.04))
	absent(t, "quantity effect without units before", r.QuantityEffect)
	absent(t, "mix effect without units before", r.MixEffect)
	if r := costed(t, b, Period{on("2026-09-01"), on("2026-10-31")}); r.Change != nil || r.Previous != nil {
		t.Error("two months are compared with one")
	}
}

// anySales is a book of random lines over three months, on or off orders.
func anySales(rt *rapid.T, t *testing.T) *book.Book {
	b := shelf(t, nil)
	b.Channels = append(b.Channels, &book.Channel{Name: text("Corner")})
	n := rapid.IntRange(1, 60).Draw(rt, "lines")
	for i := range n {
		x := sale{
			day:     (on("2026-08-01") + day.Date(rapid.IntRange(0, 91).Draw(rt, "day"))).String(),
			product: rapid.SampledFrom([]string{"C", "N", "C2", "N2"}).Draw(rt, "product"),
			qty:     float64(rapid.SampledFrom([]int{-2, -1, 0, 1, 1, 2, 3, 12}).Draw(rt, "quantity")),
			channel: rapid.SampledFrom([]string{"", "Web", "Stall", "Shop", "Corner"}).Draw(rt, "channel"),
			order:   rapid.SampledFrom([]string{"", "1", "2", "3", fmt.Sprint("x", i)}).Draw(rt, "order"),
		}
		x.customer = rapid.SampledFrom([]string{"", "Ann", "Bea", "Cid"}).Draw(rt, "customer")
		money := at(float64(rapid.IntRange(0, 4000).Draw(rt, "cents")) / 100)
		if rapid.Bool().Draw(rt, "total") {
			x.total = money
		} else {
			x.price, x.discount = money, float64(rapid.IntRange(0, 100).Draw(rt, "discount"))/100
		}
		sell(t, b, x)
	}
	return b
}

func same(t *rapid.T, what string, got, want float64) {
	if math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
		t.Fatalf("%s: %v, want %v", what, got, want)
	}
}

func TestEffectsAddUpToTheChange(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := costed(t, anySales(rt, t), monthOf("2026-10"))
		var all, volume float64
		for _, c := range r.Change {
			same(rt, "effects of "+c.Product, c.Volume.Or(0)+c.Price.Or(0)+c.Cost.Or(0), c.Total.Or(math.NaN()))
			all, volume = all+c.Total.Or(0), volume+c.Volume.Or(0)
		}
		before := 0.0
		if r.Previous != nil {
			before = r.Previous.GrossMargin.Or(math.NaN())
		}
		same(rt, "change in gross margin", all, r.Totals.GrossMargin.Or(math.NaN())-before)
		if r.MixEffect.Known() {
			same(rt, "mix and quantity", r.MixEffect.Or(0)+r.QuantityEffect.Or(0), volume)
		}
	})
}

func TestPartsAddUpToTheWhole(t *testing.T) {
	fields := map[string]func(Sales) *calc.Figure{
		"units": func(s Sales) *calc.Figure { return s.Units }, "net sales": func(s Sales) *calc.Figure { return s.NetSales },
		"fees": func(s Sales) *calc.Figure { return s.Fees }, "cost of sales": func(s Sales) *calc.Figure { return s.CostOfSales },
		"gross margin": func(s Sales) *calc.Figure { return s.GrossMargin }, "contribution": func(s Sales) *calc.Figure { return s.Contribution },
	}
	rapid.Check(t, func(rt *rapid.T) {
		r := costed(t, anySales(rt, t), Period{on("2026-08-20"), on("2026-10-31")})
		x := r.Totals
		all := Sales{Units: x.Units, NetSales: x.NetSales, Fees: x.Fees, CostOfSales: x.CostOfSales, GrossMargin: x.GrossMargin, Contribution: x.Contribution}
		for name, of := range fields {
			var products, channels float64
			for _, p := range r.Products {
				products += of(p.Sales).Or(math.NaN())
			}
			for _, c := range r.Channels {
				channels += of(c.Sales).Or(math.NaN())
			}
			same(rt, name+" of products", products, of(all).Or(math.NaN()))
			same(rt, name+" of channels", channels, of(all).Or(math.NaN()))
		}
		same(rt, "gross - discounts", x.GrossSales.Or(0)-x.Discounts.Or(0), x.NetSales.Or(0))
	})
}

func TestSeasonsAddUpToTheWhole(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := anySales(rt, t)
		for i, s := range b.Sales.All() {
			s.Qty = s.Qty.Abs() // a group of returns would count as 0
			b.Sales.Set(i, s)
		}
		s := costed(t, b, monthOf("2026-10")).Split
		var seasons, jars, both [2]float64
		add := func(to *[2]float64, groups []SplitGroup) {
			for _, g := range groups {
				to[0], to[1] = to[0]+g.Colored.Or(math.NaN()), to[1]+g.Natural.Or(math.NaN())
			}
		}
		add(&seasons, s.BySeason)
		add(&jars, s.ByJar)
		add(&both, s.BySeasonAndJar)
		for _, x := range [][2]float64{seasons, jars, both} {
			same(rt, "colored", x[0], s.Overall.Colored.Or(math.NaN()))
			same(rt, "natural", x[1], s.Overall.Natural.Or(math.NaN()))
		}
	})
}

// What a figure is does not depend on the order in which the lines stand.
func TestTheOrderOfLinesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := anySales(rt, t)
		first := costed(t, b, monthOf("2026-10"))
		seed := rapid.Uint64().Draw(rt, "seed")
		rand.New(rand.NewPCG(seed, 1)).Shuffle(b.Sales.Len(), func(i, j int) {
			x, y := b.Sales.At(i), b.Sales.At(j)
			b.Sales.Set(i, y)
			b.Sales.Set(j, x)
		})
		again := costed(t, b, monthOf("2026-10"))
		x, y := flat(rt, first), flat(rt, again)
		if len(x) != len(y) {
			rt.Fatalf("%d figures, then %d", len(x), len(y))
		}
		for path, v := range x {
			w, ok := y[path]
			if !ok {
				rt.Fatalf("%s is missing", path)
			}
			same(rt, path, w, v)
		}
	})
}
