package sales

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/calc"
)

var octoberOfA = Where(on("2026-10-01"), on("2026-10-31"), "product", "A")

// A tree of fees comes to what the lines are charged.
func TestFeeTreeIsTheFees(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := shop()
		b.Channels[stall].Fee, b.Channels[stall].PerOrder = num(0.03), paid(0.25)
		for range rapid.IntRange(1, 30).Draw(rt, "lines") {
			qty, cents := rapid.IntRange(-2, 4).Draw(rt, "quantity"), rapid.IntRange(0, 3000).Draw(rt, "cents")
			on := []int32{web, stall, none}[rapid.IntRange(0, 2).Draw(rt, "channel")]
			sold(b, float64(qty), float64(cents)/100, blank, 0, on, int32(rapid.IntRange(0, 3).Draw(rt, "order")))
			x := b.Sales.At(b.Sales.Len() - 1)
			x.Product = int32(rapid.IntRange(0, 1).Draw(rt, "product"))
			b.Sales.Set(b.Sales.Len()-1, x)
		}
		l := october(t, b)
		for _, channel := range []int32{-2, web, stall} {
			where, sum := octoberOfA, 0.0
			if channel >= 0 {
				where = append(slices.Clone(where), calc.Cond{Field: "channel", Value: b.Channels[channel].Name.V})
			}
			for x := range l.All().Each {
				if x.Product == 0 && (channel == -2 || x.Channel == channel) {
					sum += x.Fees()
				}
			}
			if v, ok := l.FeeTree(where).Value(); !ok || math.Abs(v-sum) > 1e-9 {
				rt.Fatalf("channel %d: %v, the lines are charged %v", channel, v, sum)
			}
		}
	})
}

// It shows each rate of a channel beside what it is charged by.
func TestFeeTreeShowsTheRates(t *testing.T) {
	b := shop()
	sold(b, 3, 20, blank, 0, web, 1)
	sold(b, 1, 20, blank, 0, web, 1)
	other := b.Sales.At(1)
	other.Product = 1
	b.Sales.Set(1, other)
	sold(b, 2, 20, blank, 0, web, 0)
	sold(b, -1, 20, blank, 0, web, 1)
	f := october(t, b).FeeTree(octoberOfA)
	place := func(g *calc.Figure) string { return g.Name().Key }
	if got := f.Args()[0].Formula(place); got != "fee-share*fees.net+cost-per-unit*fees.units+fee-per-order*fees.orders" {
		t.Errorf("the fees are %s", got)
	}
	want := map[string]float64{"fee-share": 0.1, "fees.net": 80, "cost-per-unit": 0.5, "fees.units": 5, "fee-per-order": 1.2, "fees.orders": 1.75}
	for _, s := range f.Sources() {
		n := s.Name()
		if v, _ := s.Value(); math.Abs(v-want[n.Key]) > 1e-12 {
			t.Errorf("%s is %v, want %v", n.Key, v, want[n.Key])
		}
		if n.Key == "fees.orders" && strings.Join(n.Of, " ") != "A 2026-10-01 2026-10-31 Web 2" {
			t.Errorf("orders of %q", n.Of)
		}
		delete(want, n.Key)
	}
	if len(want) > 0 {
		t.Errorf("not in the tree: %v", want)
	}
}

func TestFeeTreeOfOtherRows(t *testing.T) {
	b := shop()
	sold(b, 1, 20, blank, 0, bad, 0)
	x := book.Sale{Day: on("2026-10-02"), SalePlace: book.SalePlace{Channel: web}}
	x.Has = book.BadMoney
	b.Sales.Add(x)
	l := october(t, b)
	if f := l.FeeTree(octoberOfA); f.Known() {
		t.Errorf("fees of unknown rates and amounts are %v", f.Or(0))
	}
	for _, more := range [][]string{{"jar", "Tin"}, {"wholesale", "no"}} {
		if f := l.FeeTree(append(slices.Clone(octoberOfA), Where(0, 0, more...)[2:]...)); f != nil {
			t.Errorf("rows by %s have a tree", more[0])
		}
	}
	if f := l.FeeTree(octoberOfA[:2]); f != nil {
		t.Error("rows of all products have a tree of one")
	}
}
