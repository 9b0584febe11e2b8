package sales

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
)

var num, text, paid, on = booktest.Num, booktest.Text, booktest.Paid, booktest.Day

// The channels of the tests.
const (
	web = int32(iota) // 10 %, 1.20 an order, 0.50 a unit
	stall
	bad  // its fee cannot be read
	none = int32(-1)
)

func shop() *book.Book {
	b := &book.Book{
		Products: []*book.Product{{Code: text("A")}, {Code: text("B")}},
		Channels: []*book.Channel{
			{Name: text("Web"), Fee: num(0.1), PerOrder: paid(1.2), PerUnit: paid(0.5), Listed: true},
			{Name: text("Stall"), Listed: true},
			{Name: text("Bad"), Fee: cell.Num{State: cell.Bad}, Listed: true},
		},
		SaleSheets: []string{"Sales"},
	}
	b.Orders = 3
	return b
}

// sold is a line of product A on a day in October; price and total NaN for blank.
func sold(b *book.Book, qty, price, total, discount float64, channel, order int32) {
	s := book.Sale{Day: day.Of(2026, 10, 2), Order: order, Row: int32(b.Sales.Len() + 2)}
	s.Channel, s.Qty, s.Discount = channel, money.Float(qty), money.Float(discount)
	if !math.IsNaN(price) {
		s.Price, s.Has = money.Float(price), s.Has|book.HasPrice
	}
	if !math.IsNaN(total) {
		s.Total, s.Has = money.Float(total), s.Has|book.HasTotal
	}
	b.Sales.Add(s)
}

var blank = math.NaN()

func october(t testing.TB, b *book.Book) *Ledger { return New(b, on("2026-10-31")) }

func TestNetOfALine(t *testing.T) {
	for name, x := range map[string]struct {
		qty, price, total, discount float64
		units, gross, less, net     float64
	}{
		"price":                             {3, 20, blank, 0, 3, 60, 0, 60},
		"price and discount":                {3, 20, blank, 5, 3, 60, 5, 55},
		"total, after discount":             {3, blank, 55, 5, 3, 60, 5, 55},
		"both, the total counts":            {3, 20, 54, 5, 3, 59, 5, 54},
		"refund by quantity":                {-1, 20, blank, 0, -1, -20, 0, -20},
		"refund by quantity and price":      {-1, -20, blank, 0, -1, -20, 0, -20},
		"refund by price":                   {1, -20, blank, 0, -1, -20, 0, -20},
		"refund by total":                   {2, blank, -40, 0, -2, -40, 0, -40},
		"refund by quantity, total with it": {-2, blank, -40, 0, -2, -40, 0, -40},
		"refund by quantity, total without": {-2, blank, 40, 0, -2, -40, 0, -40},
		"refund, discount as it was sold":   {-1, 20, blank, 2, -1, -20, -2, -18},
		"refund, discount taken back":       {-1, 20, blank, -2, -1, -20, -2, -18},
		"refund by total and discount":      {1, blank, -18, 2, -1, -20, -2, -18},
		"money only":                        {0, blank, -3, 0, 0, -3, 0, -3},
		"gift":                              {1, 0, blank, 0, 1, 0, 0, 0},
		"wholly discounted":                 {1, 20, blank, 20, 1, 20, 20, 0},
		"cents that binary cannot hold":     {3, 0.1, blank, 0.2, 3, 0.3, 0.2, 0.1},
	} {
		b := shop()
		sold(b, x.qty, x.price, x.total, x.discount, none, 0)
		l := october(t, b).All().List()[0]
		got := [4]float64{l.Units.Float64(), l.Gross.Float64(), l.Discount.Float64(), l.Net.Float64()}
		if got != [4]float64{x.units, x.gross, x.less, x.net} {
			t.Errorf("%s: units, gross, discount, net %v", name, got)
		}
	}
}

func found(l *Ledger, code problem.Code) (out []problem.Problem) {
	for _, p := range l.Problems.Sorted() {
		if p.Code == code {
			out = append(out, p)
		}
	}
	return out
}

func TestTotalThatDiffersFromItsPrice(t *testing.T) {
	b := shop()
	sold(b, 3, 20, 60, 0, none, 0)
	sold(b, 3, 20, 60.01, 0, none, 0) // a minor unit is rounding
	sold(b, 3, 20, 55, 5, none, 0)
	sold(b, -3, 20, 60, 0, none, 0)
	sold(b, 0, 20, -5, 0, none, 0) // money only
	sold(b, 3, 20, 60.02, 0, none, 0)
	got := found(october(t, b), problem.TotalMismatch)
	if len(got) != 1 || got[0].At.Row != 7 || got[0].Severity != problem.Warning {
		t.Errorf("%v", got)
	}
}

func TestLinesWithoutAPrice(t *testing.T) {
	b := shop()
	sold(b, 1, 20, blank, 20, none, 0)
	sold(b, 2, 0, blank, 0, none, 0)
	sold(b, 1, blank, 0, 0, none, 0)
	sold(b, 0, blank, 0, 0, none, 0)
	sold(b, -1, 0, blank, 0, none, 0)
	got := found(october(t, b), problem.ZeroPrice)
	if len(got) != 1 || got[0].At.Row != 3 || fmt.Sprint(got[0].Args) != "[n 2 units 3]" {
		t.Errorf("%v", got)
	}
}

// Web takes 10 %, 1.20 an order and 0.50 a unit.
func TestFees(t *testing.T) {
	b := shop()
	sold(b, 3, 20, blank, 0, web, 1)   // 6.00 + 1.50 + 1.20 x 60 / 80
	sold(b, 1, 22, blank, 2, web, 1)   // 2.00 + 0.50 + 1.20 x 20 / 80
	sold(b, -1, 20, blank, 0, web, 1)  // -2.00
	sold(b, 1, 0, blank, 0, web, 1)    // 0.50
	sold(b, -1, 0, blank, 0, web, 1)   // nothing
	sold(b, 0, blank, -3, 0, web, 1)   // -0.30
	sold(b, 2, 20, blank, 0, web, 0)   // 4.00 + 1.00 + 1.20, an order of its own
	sold(b, 2, 20, blank, 0, web, 0)   // and another
	sold(b, 1, 20, blank, 0, stall, 1) // the same id elsewhere is another order
	sold(b, 1, 20, blank, 0, none, 1)
	sold(b, 1, 20, blank, 0, bad, 2)
	l := october(t, b)
	want := []float64{8.4, 2.8, -2, 0.5, 0, -0.3, 6.2, 6.2, 0, 0, blank}
	lines := l.All().List()
	for i, w := range want {
		if got := lines[i].Fees(); math.Abs(got-w) > 1e-12 || math.IsNaN(got) != math.IsNaN(w) {
			t.Errorf("line %d: fees %v, want %v", i, got, w)
		}
	}
	orders := map[int32]bool{}
	for _, x := range lines {
		orders[x.Order()] = true
	}
	if len(orders) != 6 {
		t.Errorf("%d orders, want 6", len(orders))
	}
}

// The fees per order of a channel add up to the fee times its orders with a sale.
func TestFeesPerOrderAddUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := shop()
		b.Channels[web].Fee, b.Channels[web].PerUnit = cell.Num{}, book.Money{}
		paying := map[int32]bool{}
		for i := range rapid.IntRange(1, 30).Draw(rt, "lines") {
			qty, cents := rapid.IntRange(-2, 4).Draw(rt, "quantity"), rapid.IntRange(0, 3000).Draw(rt, "cents")
			order := int32(rapid.IntRange(0, 3).Draw(rt, "order"))
			sold(b, float64(qty), float64(cents)/100, blank, 0, web, order)
			if order == 0 {
				order = -int32(i) - 1
			}
			if qty > 0 && cents > 0 {
				paying[order] = true
			}
		}
		sum := 0.0
		for x := range october(t, b).All().Each {
			sum += x.Fees()
		}
		if math.Abs(sum-1.2*float64(len(paying))) > 1e-9 {
			rt.Fatalf("fees %v for %d orders", sum, len(paying))
		}
	})
}

// An id is another order on every channel, however many there are.
func TestAnOrderOfEachChannel(t *testing.T) {
	b := shop()
	b.Channels = nil
	for range 400 {
		b.Channels = append(b.Channels, &book.Channel{PerOrder: paid(1.2)})
	}
	on := []int32{200, 3, 127, 128, 399}
	for _, c := range on {
		sold(b, 2, 20, blank, 0, c, 1)
		sold(b, 1, 20, blank, 0, c, 1)
		sold(b, 1, 20, blank, 0, c, 2)
	}
	l, orders := october(t, b), map[int32]float64{}
	for x := range l.All().Each {
		orders[x.Order()] += x.Fees()
	}
	for n, fees := range orders {
		if math.Abs(fees-1.2) > 1e-12 {
			t.Errorf("fees of %v on order %d, want 1.2", fees, n)
		}
	}
	if len(orders) != 2*len(on) {
		t.Errorf("%d orders, want %d", len(orders), 2*len(on))
	}
	for _, c := range on {
		if v, ok := l.UnitsPerOrder(b.Channels[c]).Value(); !ok || v != 2 {
			t.Errorf("channel %d: %v units an order, want 2", c, v)
		}
	}
}

func TestUnitsPerOrder(t *testing.T) {
	b := shop()
	sold(b, 3, 20, blank, 0, web, 1)
	sold(b, 1, 20, blank, 0, web, 1)
	sold(b, 2, 20, blank, 0, web, 0)
	sold(b, 5, 0, blank, 0, web, 2)   // a gift
	sold(b, -1, 20, blank, 0, web, 1) // a refund
	sold(b, 9, 20, blank, 0, stall, 3)
	l := october(t, b)
	for i, want := range []float64{3, 9, 1} {
		if v, ok := l.UnitsPerOrder(b.Channels[i]).Value(); !ok || v != want {
			t.Errorf("%s: %v units an order, want %v", b.Channels[i].Name.V, v, want)
		}
	}
}

func TestUnitsOfDays(t *testing.T) {
	b := shop()
	for i, d := range []string{"2026-10-05", "2026-10-01", "2026-10-05", "2026-11-01", "2026-09-30"} {
		sold(b, float64(int(1)<<i), 20, blank, 0, none, 0)
		x := b.Sales.At(i)
		x.Day = on(d)
		b.Sales.Set(i, x)
	}
	other := b.Sales.At(2)
	other.Product = 1
	b.Sales.Set(2, other)
	l := october(t, b)
	if first, ok := l.First(); !ok || first != on("2026-09-30") {
		t.Errorf("first day %v", first)
	}
	for span, want := range map[[2]string]float64{
		{"2026-10-01", "2026-10-31"}: 3, {"2026-10-02", "2026-10-05"}: 1, {"2026-09-30", "2026-10-01"}: 18, {"2026-10-06", "2026-12-31"}: 0, {"2026-10-05", "2026-10-01"}: 0,
	} {
		f := l.Units(b.Products[0], on(span[0]), on(span[1]))
		if v, ok := f.Value(); !ok || v != want || f.Kind() != calc.Rows {
			t.Errorf("%v: %v units, want %v", span, v, want)
		}
	}
	if n := l.Between(on("2026-10-01"), on("2026-12-31")).Len(); n != 3 {
		t.Errorf("%d lines in October, want 3: nothing after the last day is used", n)
	}
	if _, ok := New(b, on("2026-01-01")).First(); ok {
		t.Error("there is a first day without sales")
	}
}

// A ledger of shuffled sales holds the same lines in the order of days.
func TestLinesStandInTheOrderOfDays(t *testing.T) {
	b := shop()
	random := rand.New(rand.NewPCG(3, 4))
	for i := range 500 {
		sold(b, float64(i), 1, blank, 0, none, 0)
		x := b.Sales.At(i)
		x.Day = on("2026-10-20") - day.Date(random.IntN(4000))
		b.Sales.Set(i, x)
	}
	l := october(t, b)
	if !slices.IsSortedFunc(l.All().List(), func(x, y Line) int {
		if x.Day != y.Day {
			return int(x.Day - y.Day)
		}
		return int(x.Row - y.Row)
	}) {
		t.Error("the lines are not in order")
	}
	for x := range l.All().Each {
		if x.Month != x.Day.Month() || x.Season != l.Seasons.Of(x.Day) {
			t.Fatalf("%v is in %v, %v", x.Day, x.Month, x.Season)
		}
	}
}

func TestMarketOfALine(t *testing.T) {
	b := shop()
	for _, name := range []string{"fair ", "Elsewhere", "Fair"} {
		b.SaleMarkets.Number(name)
	}
	b.Markets = []*book.Market{
		{Name: text("Fair"), Day: on("2026-10-10"), Days: num(2)}, {Name: text("Fair"), Day: on("2026-05-03")}, {Name: text("Other"), Day: on("2026-10-04")},
	}
	for _, x := range []struct {
		day    string
		market int32
		want   int
	}{
		{"2026-10-10", 1, 0},
		{"2026-10-11", 3, 0},
		{"2026-10-13", 1, 0},
		{"2026-05-03", 1, 1},
		{"2026-07-22", 1, 1},
		{"2026-07-23", 1, 0},
		{"2026-01-01", 1, 1},
		{"2026-08-30", 1, 0},
		{"2026-10-04", 1, 0},
		{"2026-10-04", 2, -1},
		{"2026-10-04", 0, -1},
	} {
		sold(b, 1, 20, blank, 0, none, 0)
		s := b.Sales.At(b.Sales.Len() - 1)
		s.Day, s.Market = on(x.day), x.market
		b.Sales.Set(b.Sales.Len()-1, s)
		l := New(b, on("2026-12-31"))
		for line := range l.All().Each {
			if line.Row == s.Row {
				if got := l.MarketOf(line); got != x.want {
					t.Errorf("%s at %q belongs to row %d, want %d", x.day, b.SaleMarkets.At(x.market), got, x.want)
				}
			}
		}
	}
}
