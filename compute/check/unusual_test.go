package check

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/unit"
)

func paid(v float64, at cell.Ref) book.Money {
	return book.Money{V: money.Float(v), State: cell.Typed, At: at}
}

func typed(v float64, at cell.Ref) cell.Num { return cell.Num{V: v, State: cell.Typed, At: at} }

// the columns of the sales, as their table has them
const dateCol, quantityCol, priceCol, totalCol, channelCol = 1, 3, 4, 5, 6

// sold is the sound book with n sales of its candle at 20, one a day from 2026
// on, in the rows from 5 on.
func sold(n int) *book.Book {
	b, _ := sound()
	b.SaleSheets = []string{"Orders"}
	b.Channels = []*book.Channel{{Name: text("Web", 9), Fee: typed(0.05, at("Channels", 2, 2)), PerOrder: paid(0.3, at("Channels", 2, 3)), Listed: true}}
	field := func(name string, col int) book.Field { return book.Field{Name: name, At: at("Orders", 4, col)} }
	b.Tables = append(b.Tables, book.Table{Table: book.TSales, Heading: at("Orders", 4, 1), Rows: n, Fields: []book.Field{
		field("date", dateCol), field("quantity", quantityCol), field("unit price", priceCol), field("line total", totalCol), field("channel", channelCol),
	}})
	for i := range n {
		b.Sales.Add(book.Sale{
			Day: day.Of(2026, 1, 1) + day.Date(i), Row: int32(5 + i),
			SaleAmounts: book.SaleAmounts{Qty: money.Float(2), Price: money.Float(20), Has: book.HasPrice},
		})
	}
	return b
}

// mend changes a sale of the book.
func mend(b *book.Book, i int, change func(s *book.Sale)) {
	s := b.Sales.At(i)
	change(&s)
	b.Sales.Set(i, s)
}

func at(sheet string, row, col int) cell.Ref { return cell.Ref{Sheet: sheet, Row: row, Col: col} }

// hands are the warnings of figures, as code, what they say, and cell.
func hands(b *book.Book) []string {
	var out []string
	found := Domain(b, today)
	for _, p := range found.Sorted() {
		if p.Say != "" && p.Say != "lines" && p.Severity == problem.Warning {
			out = append(out, strings.TrimSuffix(fmt.Sprint(p.Code, ".", p.Say, " ", p.At), " "))
		}
	}
	return out
}

func TestHandsOnSales(t *testing.T) {
	sale := func(change func(s *book.Sale)) func(b *book.Book) {
		return func(b *book.Book) { mend(b, 3, change) }
	}
	price := func(v float64) func(b *book.Book) {
		return sale(func(s *book.Sale) { s.Price = money.Float(v) })
	}
	for name, x := range map[string]struct {
		spoil func(b *book.Book)
		want  string
	}{
		"ten times":         {price(200), "unusual-figure.sale-price Orders!D8"},
		"just under":        {price(199.99), ""},
		"a tenth":           {price(2), "unusual-figure.sale-price-low Orders!D8"},
		"just over a tenth": {price(2.01), ""},
		"a gift":            {price(0), ""},
		"a total": {sale(func(s *book.Sale) {
			s.Price, s.Total, s.Has = money.Amount{}, money.Float(400), book.HasTotal
		}), "unusual-figure.sale-price Orders!E8"},
		"a refund of a part":   {sale(func(s *book.Sale) { s.Qty, s.Price = money.Float(-1), money.Float(0.5) }), ""},
		"a refund of too much": {sale(func(s *book.Sale) { s.Qty, s.Price = money.Float(-1), money.Float(200) }), "unusual-figure.sale-price Orders!D8"},
		"a discount of -2":     {sale(func(s *book.Sale) { s.Discount, s.Has = money.Float(-2), s.Has|book.HasDiscount }), "unusual-figure.discount Orders!A8"},
		"a refund's, of -2": {sale(func(s *book.Sale) {
			s.Qty, s.Discount, s.Has = money.Float(-1), money.Float(-2), s.Has|book.HasDiscount
		}), ""},
		"money back only":         {sale(func(s *book.Sale) { s.Qty, s.Total, s.Has = money.Amount{}, money.Float(-400), book.HasTotal }), ""},
		"unknown money":           {sale(func(s *book.Sale) { s.Price, s.Has = money.Float(500), s.Has|book.BadMoney }), ""},
		"six digits":              {sale(func(s *book.Sale) { s.Qty = money.Float(999_999) }), ""},
		"seven digits":            {sale(func(s *book.Sale) { s.Qty = money.Float(1_000_000) }), "bad-number.quantity Orders!C8"},
		"seven digits for little": {sale(func(s *book.Sale) { s.Qty, s.Total, s.Has = money.Float(5_551_234), money.Float(20), book.HasTotal }), "bad-number.quantity Orders!C8"},
		"another decade":          {sale(func(s *book.Sale) { s.Day = day.Of(2016, 1, 4) }), "bad-date.far Orders!A8"},
		"five years before":       {sale(func(s *book.Sale) { s.Day = day.Of(2021, 1, 1) }), ""},
		"a day more":              {sale(func(s *book.Sale) { s.Day = day.Of(2020, 12, 31) }), "bad-date.far Orders!A8"},
		"two stray lines": {func(b *book.Book) {
			for i, v := range map[int]float64{3: 250, 5: 260} {
				mend(b, i, func(s *book.Sale) { s.Price = money.Float(v) })
			}
		}, "unusual-figure.sale-price Orders!D8, unusual-figure.sale-price Orders!D10"},
		"many stray lines": {func(b *book.Book) {
			for i := range 4 {
				mend(b, 2+2*i, func(s *book.Sale) { s.Price = money.Float(300 - 10*float64(i)) })
			}
		}, "unusual-figure.sale-price.many Orders!D7"},
		"fee of 40 %":    {func(b *book.Book) { b.Channels[0].Fee.V, b.Channels[0].PerOrder = 0.4, book.Money{} }, ""},
		"fee above 40 %": {func(b *book.Book) { b.Channels[0].Fee.V = 0.401 }, "unusual-figure.fee Channels!B2"},
		"no channel": {func(b *book.Book) {
			for i, net := range map[int]float64{5: 20, 3: 20, 7: 0, 9: -20} {
				mend(b, i, func(s *book.Sale) {
					s.Channel, s.Price, s.Discount, s.Has = -1, money.Float(net), money.Float(max(0, net/10)), s.Has|book.HasDiscount
				})
			}
		}, "missing-field.no-channel Orders!F8"},
		"no channel anywhere": {func(b *book.Book) {
			for i := range b.Sales.Len() {
				mend(b, i, func(s *book.Sale) { s.Channel = -1 })
			}
		}, ""},
		"no channel, none listed": {func(b *book.Book) {
			b.Channels[0].Listed = false
			mend(b, 3, func(s *book.Sale) { s.Channel = -1 })
		}, ""},
		"fee per order": {func(b *book.Book) { b.Channels[0].PerOrder.V = money.Float(15) }, "unusual-figure.fees Channels!C2"},
	} {
		b := sold(20)
		b.Products[0].List.V = money.Float(1000) // losses have their own test
		x.spoil(b)
		if got := strings.Join(hands(b), ", "); got != x.want {
			t.Errorf("%s: %s, want %s", name, got, x.want)
		}
	}
}

// A median needs three prices; a book's only ones are what they are.
func TestFewSalesStayQuiet(t *testing.T) {
	for n := range fewest {
		b := sold(n)
		if n > 0 {
			mend(b, 0, func(s *book.Sale) { s.Price, s.Day = money.Float(900), day.Of(2001, 1, 1) })
		}
		if got := hands(b); len(got) > 0 {
			t.Errorf("%d lines: %v", n, got)
		}
	}
}

// In an ordinary book, whose prices lie within a factor of ten and whose days
// follow each other, no hand is raised; the one spoiled price is.
func TestOnlyTheSpoiledLineRaisesAHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 60).Draw(t, "lines")
		b := sold(n)
		d := day.Of(2004, 1, 1)
		for i := range n {
			d += day.Date(rapid.IntRange(0, 130).Draw(t, "days"))
			price := money.Float(float64(rapid.IntRange(1000, 3000).Draw(t, "cents")) / 100)
			if i >= fewest && rapid.IntRange(0, 9).Draw(t, "kind") == 0 {
				price = money.Amount{}
			}
			mend(b, i, func(s *book.Sale) { s.Day, s.Price = d, price })
		}
		if got := hands(b); len(got) > 0 {
			t.Fatalf("an ordinary book: %v", got)
		}
		i := rapid.IntRange(0, n-1).Draw(t, "spoiled")
		mend(b, i, func(s *book.Sale) { s.Price = money.Float(30 * farPrice) })
		if want := fmt.Sprintf("unusual-figure.sale-price Orders!D%d", 5+i); n > 2*fewest && !slices.Contains(hands(b), want) {
			t.Fatalf("want %s, got %v", want, hands(b))
		}
	})
}

// bill is a purchase of packs of 1,000 g.
func bill(m *book.Material, d day.Date, packs, cost float64, row int) book.Purchase {
	return book.Purchase{
		Day: d, Material: m, Qty: typed(packs*1000, at("Bills", row, 3)), Pack: 1000, Dim: unit.Mass, Paid: paid(cost, at("Bills", row, 4)), At: at("Bills", row, 1),
	}
}

func TestHandsOnPurchases(t *testing.T) {
	for name, x := range map[string]struct {
		paid []float64 // for two packs, month by month
		want string
	}{
		"steady":              {[]float64{20, 21, 19, 22}, ""},
		"ten times":           {[]float64{20, 20, 200, 20}, "unusual-figure.purchase-price Bills!D4"},
		"a tenth":             {[]float64{20, 20, 20, 2}, "unusual-figure.purchase-price-low Bills!D5"},
		"three times":         {[]float64{20, 60}, ""},
		"more":                {[]float64{20, 60.01}, "unusual-figure.pack-price Bills!D3"},
		"a third":             {[]float64{60, 20}, ""},
		"less":                {[]float64{60.01, 20}, "unusual-figure.pack-price-low Bills!D3"},
		"a slip and back":     {[]float64{20, 80, 20, 21}, "unusual-figure.pack-price Bills!D3"},
		"risen for good":      {[]float64{20, 80, 80, 82}, "unusual-figure.pack-price Bills!D3"},
		"given away":          {[]float64{20, 0, 20, 20}, ""},
		"one purchase":        {[]float64{9999}, ""},
		"two, ten times":      {[]float64{20, 200}, "unusual-figure.pack-price Bills!D3"},
		"a restless material": {[]float64{20, 70, 20, 70, 220, 70, 15}, "unusual-figure.pack-price Bills!D3, unusual-figure.pack-price Bills!D5, unusual-figure.pack-price Bills!D6, unusual-figure.pack-price-low Bills!D7"},
	} {
		b, m := sound()
		b.Products[0].List.V = money.Float(1000)
		for i, v := range x.paid {
			b.Purchases = append(b.Purchases, bill(m["wax"], day.Of(2026, 1+i, 3), 2, v, 2+i))
		}
		if got := strings.Join(hands(b), ", "); got != x.want {
			t.Errorf("%s: %s, want %s", name, got, x.want)
		}
	}
}

// Packs of other sizes are not compared with each other, nor are weights and volumes.
func TestPacksOfOneSizeAreCompared(t *testing.T) {
	b, m := sound()
	small := bill(m["oil"], day.Of(2026, 2, 1), 0.1, 8, 3)
	small.Pack = 100
	b.Purchases = []book.Purchase{bill(m["oil"], day.Of(2026, 1, 1), 1, 20, 2), small, bill(m["oil"], day.Of(2026, 3, 1), 1, 21, 4)}
	if got := hands(b); len(got) > 0 {
		t.Errorf("packs of two sizes: %v", got)
	}
	b.Purchases[1].Pack = 0 // an amount, which is no whole number of packs
	if got := hands(b); len(got) > 0 {
		t.Errorf("an amount: %v", got)
	}
	b.Purchases[1].Qty.V = 2000 // two packs, unsaid
	b.Purchases[1].Paid.V = money.Float(8 * 20)
	if got, want := hands(b), []string{"unusual-figure.pack-price Bills!D3"}; !slices.Equal(got, want) {
		t.Errorf("two packs: %v, want %v", got, want)
	}
}

func TestHandsOnQuantities(t *testing.T) {
	phone := at("S", 7, 7)
	for name, spoil := range map[string]func(b *book.Book, m map[string]*book.Material){
		"bought": func(b *book.Book, m map[string]*book.Material) {
			b.Purchases = []book.Purchase{bill(m["wax"], today, 1e6, 20, 7)}
			b.Purchases[0].Qty.At = phone
		},
		"poured": func(b *book.Book, _ map[string]*book.Material) {
			b.Pours = []book.Pour{{Day: today, Product: b.Products[0], Units: typed(5551234, phone)}}
		},
		"counted": func(b *book.Book, _ map[string]*book.Material) {
			b.Counts = []book.Count{{Day: today, Product: b.Products[0], Dim: unit.Count, Qty: typed(5551234, phone)}}
		},
		"on hand": func(b *book.Book, _ map[string]*book.Material) { b.Products[0].OnHand = typed(5551234, phone) },
		"expected": func(b *book.Book, _ map[string]*book.Material) {
			b.Markets = []*book.Market{{Name: text("Fair", 8), Day: today, Expected: typed(5551234, phone)}}
		},
	} {
		b, m := sound()
		spoil(b, m)
		if got, want := hands(b), "bad-number.quantity S!G7"; !slices.Contains(got, want) {
			t.Errorf("%s: %v, want %s", name, got, want)
		}
	}
}

func TestHandsOnDatesOfOtherTables(t *testing.T) {
	b, m := sound()
	b.Tables = append(b.Tables, book.Table{Table: book.TMarkets, Heading: at("Fairs", 1, 1), Fields: []book.Field{{Name: "date", At: at("Fairs", 1, 2)}}})
	for i, y := range []int{2025, 2026, 2016, 2062, 2026, 2027, 2025, 2024} {
		b.Markets = append(b.Markets, &book.Market{Name: text("Fair", 2), Day: day.Of(y, 6, 1), At: at("Fairs", 2+i, 1)})
	}
	for i, y := range []int{2026, 2026, 1926} {
		b.Purchases = append(b.Purchases, bill(m["wax"], day.Of(y, 6, 1), 1, 20, 2+i))
	}
	if got, want := hands(b), []string{"bad-date.far Bills!A4", "bad-date.far Fairs!B4", "bad-date.far Fairs!B5"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// A book that was kept for twenty years has no strange dates, however far the
// first lies from most.
func TestOldBooksStayQuiet(t *testing.T) {
	var all []dated
	for y := 2004; y <= 2026; y += 4 {
		all = append(all, dated{day.Of(y, 1, 1), 1 + (y-2004)*10, at("S", y, 1)})
	}
	if got := far(all); len(got) > 0 {
		t.Errorf("far: %v", got)
	}
}

func TestHandsOnRecipes(t *testing.T) {
	for name, x := range map[string]struct {
		spoil func(b *book.Book, m map[string]*book.Material)
		want  []string
	}{
		"14 %": {func(b *book.Book, _ map[string]*book.Material) {
			b.Recipes[0].Ingredients[1].Amount = typed(14, at("Recipes", 3, 4))
		}, nil},
		"more": {func(b *book.Book, _ map[string]*book.Material) {
			b.Recipes[0].Ingredients[1].Amount = typed(14.1, at("Recipes", 3, 4))
		}, []string{"over-max-load.high Recipes!D3"}},
		"over the wax's own": {func(b *book.Book, m map[string]*book.Material) {
			b.Recipes[0].Ingredients[1].Amount, m["wax"].MaxLoad = num(15), num(0.1)
		}, nil},
		"twice the drops": {func(b *book.Book, _ map[string]*book.Material) {
			b.Recipes[0].Ingredients[2].Amount = typed(20, at("Recipes", 4, 4))
		}, nil},
		"more drops": {func(b *book.Book, _ map[string]*book.Material) {
			b.Recipes[0].Ingredients[2].Amount = typed(20.1, at("Recipes", 4, 4))
		}, []string{"over-drop-limit.twice Recipes!D4"}},
	} {
		b, m := sound()
		m["wax"].MaxLoad, m["oil"].MaxLoad = cell.Num{}, cell.Num{}
		x.spoil(b, m)
		if got := hands(b); !slices.Equal(got, x.want) {
			t.Errorf("%s: %v, want %v", name, got, x.want)
		}
	}
}

func TestHandsOnLosses(t *testing.T) {
	b := sold(20)
	u := &unusual{book: b, lines: Look(ledger(b))}
	p := b.Products[0]
	p.List, p.Wholesale = paid(10, at("Products", 2, 6)), paid(5, at("Products", 2, 7))
	// 5 % and 0.30 on an order of two candles leave 9.35 of 10.
	for _, x := range []struct {
		cost float64
		want string
	}{{5, ""}, {5.01, "below-cost-wholesale G2"}, {9.35, "below-cost-wholesale G2"}, {9.36, "below-cost-fees F2"}, {10, "below-cost-fees F2"}, {10.01, "below-cost F2"}} {
		f, _ := u.loss(p, x.cost)
		if got := strings.TrimSpace(f.Say + " " + f.At.Name()); got != x.want {
			t.Errorf("cost %v: %q, want %q", x.cost, got, x.want)
		}
	}
	p.List, p.Wholesale = book.Money{}, book.Money{}
	if f, lost := u.loss(p, 99); lost {
		t.Errorf("without a price: %v", f)
	}
}

func TestLossesAreAtTheCostOfTheMonth(t *testing.T) {
	b, m := sound()
	m["wax"].Packs[0].Price = paid(1000, at("Materials", 2, 4))
	if got := hands(b); !slices.Contains(got, "zero-price.below-cost") {
		t.Errorf("%v", got)
	}
	b.Products[0].Active.V = false
	if got := hands(b); len(got) > 0 {
		t.Errorf("inactive: %v", got)
	}
}

// A median of counted values is that of the values written out.
func TestMedian(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []weighed
		var flat []float64
		for range rapid.IntRange(1, 8).Draw(t, "values") {
			w := weighed{float64(rapid.IntRange(1, 50).Draw(t, "v")), rapid.IntRange(1, 5).Draw(t, "n")}
			all = append(all, w)
			flat = append(flat, slices.Repeat([]float64{w.v}, w.n)...)
		}
		slices.Sort(flat)
		want := (flat[(len(flat)-1)/2] + flat[len(flat)/2]) / 2
		if got, n := median(all); got != want || n != len(flat) {
			t.Fatalf("median %v of %d, want %v of %d", got, n, want, len(flat))
		}
	})
}

func ledger(b *book.Book) *sales.Ledger { return sales.New(b, today) }

func BenchmarkMillionLines(b *testing.B) {
	k := sold(0)
	for i := range 40 {
		p := *k.Products[0]
		p.Code = text(fmt.Sprint("P", i), 20+i)
		k.Products = append(k.Products, &p)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 1_000_000 {
		k.Sales.Add(book.Sale{
			Day: day.Of(2024, 1, 1) + day.Date(i/1000), Row: int32(i + 5), SalePlace: book.SalePlace{Product: int32(r.IntN(len(k.Products)))},
			SaleAmounts: book.SaleAmounts{Has: book.HasPrice, Qty: money.Float(float64(1 + r.IntN(3))), Price: money.Float(float64(1000+r.IntN(2000)) / 100)},
		})
	}
	l := ledger(k)
	for b.Loop() {
		Unusual(Look(l), nil, today, SalePrices, Quantities, Dates, Purchases, Fees)
	}
}
