package unitcost

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/unit"
)

// fate draws a book of one recipe with several waxes and ingredients of every
// rate, in one jar, and its two products.
func fate(t *rapid.T, tt testing.TB) (*book.Book, []*book.Product) {
	b := &book.Book{}
	r := &book.Recipe{Name: text("R"), BatchWax: num(rapid.Float64Range(100, 5000).Draw(t, "batch wax"))}
	add := func(k book.Kind, per string, low, high float64) {
		name := fmt.Sprint(k, len(b.Materials))
		m := material(name, k, unit.Mass, rapid.Float64Range(1, 20000).Draw(t, "size"), rapid.Float64Range(0, 200).Draw(t, "price"))
		b.Materials = append(b.Materials, m)
		r.Ingredients = append(r.Ingredients, book.Ingredient{Material: m, Amount: num(rapid.Float64Range(low, high).Draw(t, "amount")), Rate: rate(per)})
	}
	for range rapid.IntRange(1, 3).Draw(t, "waxes") {
		add(book.Wax, "%", 0.1, 100)
	}
	add(book.Fragrance, rapid.SampledFrom([]string{"%", "% of blend", "oz/lb", "g/kg"}).Draw(t, "per"), 0, 2)
	add(book.Dye, rapid.SampledFrom([]string{"drops/lb", "drops/100g", "g/kg", "drops/batch"}).Draw(t, "dye per"), 0, 20)
	add(book.Additive, rapid.SampledFrom([]string{"% of blend", "g/batch"}).Draw(t, "additive per"), 0, 3)
	j := &book.Jar{Name: text("J"), Fill: num(rapid.Float64Range(5, 3000).Draw(t, "fill"))}
	for _, k := range []book.Kind{book.Wick, book.JarKind, book.Lid, book.Other} {
		m := material(string(k), k, unit.Count, float64(rapid.IntRange(1, 144).Draw(t, "pack")), rapid.Float64Range(0, 50).Draw(t, "part price"))
		b.Materials = append(b.Materials, m)
		j.Parts = append(j.Parts, book.Part{
			Material: m, Count: num(float64(rapid.IntRange(0, 3).Draw(t, "count"))), Dim: unit.Count,
			Finish: rapid.SampledFrom([]book.Finish{book.AnyFinish, book.Colored, book.Natural}).Draw(t, "finish"),
		})
	}
	setting(b, book.PourLoss, rapid.Float64Range(0, 0.3).Draw(t, "pour loss"))
	setting(b, book.RejectRate, rapid.Float64Range(0, 0.3).Draw(t, "reject rate"))
	setting(b, book.OverheadMonth, rapid.Float64Range(0, 500).Draw(t, "overhead"))
	b.Recipes, b.Jars = []*book.Recipe{r}, []*book.Jar{j}
	for _, f := range []book.Finish{book.Colored, book.Natural} {
		b.Products = append(b.Products, &book.Product{Code: text(string(f)), Recipe: r, Jar: j, Finish: f})
	}
	return b, b.Products
}

func TestWeightsAddToTheFillAndPartsToTheCost(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		b, products := fate(r, t)
		e := New(b, nil, 0)
		for _, p := range products {
			c, ok := e.Content(e.Of(p))
			if !ok {
				r.Fatal("content unknown")
			}
			sum := 0.0
			for _, i := range c.Items {
				sum += i.Grams.Or(math.NaN())
			}
			same(r, "weights", sum, p.Jar.Fill.V)
			if p.Finish == book.Natural && (c.Drops.Or(1) != 0 || c.Grams.Dye.Or(1) != 0) {
				r.Error("dye in a natural candle")
			}
			u := e.Cost(e.Of(p), 0)
			sum = u.Labor.Or(math.NaN()) + u.Overhead.Or(math.NaN())
			for _, k := range book.Kinds {
				sum += (*u.Kind(k)).Or(math.NaN())
			}
			same(r, "parts", sum, u.Total.Or(0))
			same(r, "variable", u.Variable.Or(0)+u.Overhead.Or(0), sum)
		}
		newSheet(t).agree("total", e.Cost(e.Of(products[0]), 0).Total)
	})
}

// The same book in ounces: jar, packs, pitcher and purchases are the same
// amounts, whatever unit they were written in; the recipe's oz/lb is 6.25 %.
func TestGramsOrOuncesGiveTheSameMoney(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ounces := rapid.Float64Range(1, 30).Draw(r, "fill, oz")
		load := rapid.Float64Range(0, 2).Draw(r, "load, oz/lb")
		pounds := rapid.Float64Range(1, 50).Draw(r, "pack, lb")
		totals := []float64{}
		for _, inGrams := range []bool{true, false} {
			oil := material("Oil", book.Fragrance, unit.Mass, unit.GramsPerPound, 30)
			b, m := dosed(t, oil, load, "oz/lb")
			b.Materials[0].Packs[0].Size = num(pounds * 16 * unit.GramsPerOunce)
			m.Jar.Fill = num(ounces * unit.GramsPerOunce)
			if inGrams {
				m.Recipe.Ingredients[1].Amount, m.Recipe.Ingredients[1].Rate = num(load*28.349523125), rate("g/lb")
				b.Materials[0].Packs[0].Size = num(pounds * 453.59237)
				m.Jar.Fill = num(ounces / 16 * 453.59237)
			}
			totals = append(totals, New(b, nil, 0).Cost(m, 0).Total.Or(math.NaN()))
		}
		same(r, "total", totals[0], totals[1])
	})
}

// Without counts, what came in is used up or still there, in quantity and, where
// stock covers use, in money; and every figure is what its formula says.
func TestRollsConserveQuantityAndValue(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		method := rapid.SampledFrom([]Method{Average, FIFO}).Draw(r, "method")
		s := newShelf(t, method)
		start := on("2026-01-01")
		at := func(label string, from int) string {
			return (start + day.Date(rapid.IntRange(from, 300).Draw(r, label))).String()
		}
		if rapid.Bool().Draw(r, "opening count") {
			s.count("2025-12-20", float64(rapid.IntRange(0, 50).Draw(r, "counted")))
		}
		s.buy("2026-01-01", 20, 40, 0)
		for range rapid.IntRange(0, 12).Draw(r, "purchases") {
			s.buy(at("bought on", 0), float64(rapid.IntRange(1, 60).Draw(r, "bought")), float64(rapid.IntRange(1, 9900).Draw(r, "cents"))/100, 0)
		}
		for range rapid.IntRange(0, 30).Draw(r, "sales") {
			s.sell(at("sold on", 0), float64(rapid.IntRange(1, 9).Draw(r, "sold")))
		}
		e := s.engine("2026-10-31")
		roll := e.rollOf(e.stuff(s.item))
		in, out, spent := roll.months[0].opening.Or(0)*2, 0.0, 0.0 // the first purchase is at 2.00
		for _, m := range roll.months {
			out += m.use.Or(math.NaN())
			spent += m.use.Or(math.NaN()) * m.cost.Or(math.NaN())
		}
		bought := 0.0
		for _, p := range s.book.Purchases {
			in, bought = in+p.Paid.V.Float64(), bought+p.Qty.V
		}
		last := roll.months[len(roll.months)-1]
		if e.Uncovered(s.item) == 0 {
			same(r, "quantity", roll.months[0].opening.Or(0)+bought, out+last.closing.Or(math.NaN()))
			same(r, "value", in, spent+last.value.Or(math.NaN()))
		}
		sheet := newSheet(t)
		for _, f := range []*calc.Figure{last.cost, last.value, last.closing} {
			sheet.agree(string(method), f)
		}
	})
}

func same(t *rapid.T, what string, got, want float64) {
	if !(math.Abs(got-want) <= 1e-9*max(1, math.Abs(want))) {
		t.Errorf("%s: %.15g, want %.15g", what, got, want)
	}
}
