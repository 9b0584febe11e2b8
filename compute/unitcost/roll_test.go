package unitcost

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/oracle"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// shelf is a book of one product that takes one piece of one part, whose
// purchases, counts and use a test sets; without losses, so that use is units sold.
type shelf struct {
	testing.TB
	book *book.Book
	item *book.Material
	of   *book.Product
	sold sales
}

func newShelf(t testing.TB, method Method) *shelf {
	wax := material("Wax", book.Wax, unit.Mass, 1000, 10)
	item := material("Lid", book.Lid, unit.Count, 10, 20) // 2.00 each
	recipe := &book.Recipe{Name: text("Plain"), Ingredients: []book.Ingredient{{Material: wax, Amount: num(1)}}}
	jar := &book.Jar{Name: text("Jar"), Fill: num(100), Parts: []book.Part{{Material: item, Count: num(1), Dim: unit.Count}}}
	p := &book.Product{Code: text("P"), Recipe: recipe, Jar: jar, Finish: book.Natural}
	b := &book.Book{
		Materials: []*book.Material{wax, item}, Recipes: []*book.Recipe{recipe}, Jars: []*book.Jar{jar},
		Products: []*book.Product{p},
	}
	setting(b, book.PourLoss, 0)
	setting(b, book.RejectRate, 0)
	b.Settings.SetText(book.CostMethod, text(string(method)))
	return &shelf{t, b, item, p, sales{}}
}

func (s *shelf) buy(d string, qty, amount, freight float64) {
	p := book.Purchase{Day: on(d), Material: s.item, Qty: num(qty), Dim: s.item.Dim, Paid: paid(amount)}
	if freight != 0 {
		p.Freight = paid(freight)
	}
	s.book.Purchases = append(s.book.Purchases, p)
}

func (s *shelf) sell(d string, units float64) { s.sold.add(s.of, on(d), units) }

func (s *shelf) count(d string, qty float64) {
	s.book.Counts = append(s.book.Counts, book.Count{Day: on(d), Material: s.item, Qty: num(qty), Dim: s.item.Dim})
}

func (s *shelf) engine(upTo string) *Engine { return New(s.book, s.sold, on(upTo)) }

// year is the story of TestRollByHand.
func year(t testing.TB, method Method) *shelf {
	s := newShelf(t, method)
	s.sell("2026-01-10", 5)
	s.count("2026-01-20", 10)
	s.sell("2026-02-10", 25)
	s.buy("2026-02-05", 30, 60, 3)
	s.buy("2026-03-02", 15, 45, 0)
	s.sell("2026-03-10", 16)
	s.count("2026-03-05", 99) // not the month's last
	s.count("2026-03-20", 12)
	s.sell("2026-03-21", 4)
	s.sell("2026-04-10", 12)
	s.sell("2026-04-12", -2)
	s.sell("2026-05-10", -1)
	s.buy("2026-06-30", 10, 40, 0)
	s.sell("2026-06-01", 3)
	s.count("2026-07-31", 9)
	s.buy("2026-08-01", 1000, 1, 0) // after the last day: not used
	return s
}

// January is before the first purchase: the Materials row's 2.00. The roll
// starts in February with the 10 counted on 20 January, at the 2.10 of the first
// purchase, (60 + 3) / 30. January's sales are not in the roll.
//
//	       opening bought use  left  average              first in, first out
//	Feb      10     30    25   15   (21 + 63) / 40 = 2.10  2.10
//	Mar      15     15    20   10   (31.5 + 45) / 30 = 2.55  (15 x 2.10 + 5 x 3) / 20 = 2.325
//	         counted 12 on the 20th, 4 sold after it: 8 left, 2 missing
//	Apr       8      -    10    0   2.55                   8 at 3, 2 too many at 3: 3.00
//	May       0      -     0    0   2.55 kept              3.00 kept (a refund of 1 is no use)
//	Jun       0     10     3    7   4.00                   4.00
//	Jul       7      -     0    7   4.00                   4.00, the oldest layer left
//	         counted 9 on the 31st: 2 more than there should be, at 4
//
// Latest: 2.00 in January, 2.10 in February, 3.00 from March on, 4.00 from June on.
func TestRollByHand(t *testing.T) {
	months := []string{"2026-01", "2026-02", "2026-03", "2026-04", "2026-05", "2026-06", "2026-07"}
	for method, want := range map[Method]struct {
		price       []float64
		value       float64 // at the end of June
		differences float64 // from January to July
	}{
		Average: {[]float64{2, 2.1, 2.55, 2.55, 2.55, 4, 4}, 28, 2*2.55 - 2*4},
		FIFO:    {[]float64{2, 2.1, 2.325, 3, 3, 4, 4}, 28, 2*2.325 - 2*4},
		Latest:  {[]float64{2, 2.1, 3, 3, 3, 4, 4}, 28, 2*3 - 2*4},
	} {
		t.Run(string(method), func(t *testing.T) {
			s := year(t, method)
			e := s.engine("2026-07-31")
			for i, m := range months {
				near(t, "price in "+m, e.Price(s.item, month(m)), want.price[i])
			}
			near(t, "differences", e.StockDifferences(on("2026-01-01"), on("2026-07-31")), want.differences)
			row := e.Stock(on("2026-01-01"), on("2026-06-30"))[0]
			near(t, "opening", row.Opening, 10)
			near(t, "purchased", row.Purchased, 55)
			near(t, "used", row.Used, 58)
			near(t, "closing", row.Closing, 7)
			near(t, "value", row.Value, want.value)
			near(t, "closing with the surplus", e.Stock(on("2026-07-01"), on("2026-07-31"))[0].Closing, 9)
			if got := e.Uncovered(s.item); got != 2.0/58 {
				t.Errorf("uncovered %v", got)
			}
			if d := cmp.Diff([]string{"purchase-shortage"}, codes(e)); d != "" {
				t.Error(d)
			}
		})
	}
}

// A count surplus in March, 12 where 10 should be, and 30 more bought in April:
// first in, first out goes on with 12 at March's newest price.
func TestSurplusJoinsTheNewestLayer(t *testing.T) {
	s := newShelf(t, FIFO)
	s.buy("2026-03-01", 10, 10, 0)
	s.buy("2026-03-02", 10, 30, 0)
	s.sell("2026-03-05", 10)
	s.count("2026-03-31", 12)
	s.buy("2026-04-01", 30, 150, 0)
	s.sell("2026-04-05", 16)
	e := s.engine("2026-04-30")
	near(t, "March", e.Price(s.item, month("2026-03")), 1)
	near(t, "April", e.Price(s.item, month("2026-04")), (12*3+4*5)/16.0)
	near(t, "value", e.Stock(on("2026-04-01"), on("2026-04-30"))[0].Value, 26*5)
}

// Counted 10 on 3 February, before the first purchase on the 10th: of February's
// 11 only the 4 sold after the count's day leave the roll.
func TestOpeningCountInTheMonthOfTheFirstPurchase(t *testing.T) {
	s := newShelf(t, Average)
	s.sell("2026-02-02", 5)
	s.sell("2026-02-03", 2)
	s.count("2026-02-03", 10)
	s.sell("2026-02-04", 4)
	s.buy("2026-02-10", 10, 30, 0)
	e := s.engine("2026-02-28")
	row := e.Stock(on("2026-02-01"), on("2026-02-28"))[0]
	near(t, "used", row.Used, 4)
	near(t, "closing", row.Closing, 16)
	near(t, "differences", e.StockDifferences(on("2026-02-01"), on("2026-02-28")), 0)

	// A count on the day of the first purchase is taken after it: no opening, a
	// correction. 10 bought, 4 sold: 6, counted 5.
	s = newShelf(t, Average)
	s.buy("2026-02-10", 10, 30, 0)
	s.count("2026-02-10", 9)
	s.sell("2026-02-20", 4)
	e = s.engine("2026-02-28")
	row = e.Stock(on("2026-02-01"), on("2026-02-28"))[0]
	near(t, "opening", row.Opening, 0)
	near(t, "closing", row.Closing, 5)
	near(t, "missing", e.StockDifferences(on("2026-02-01"), on("2026-02-28")), 3)
}

// March takes everything, at (10 x 1 + 10 x 3) / 20; April has neither stock nor
// purchase nor use and keeps that cost, not the newest layer's price.
func TestMonthWithNothingKeepsTheLastCost(t *testing.T) {
	s := newShelf(t, FIFO)
	s.buy("2026-03-01", 10, 10, 0)
	s.buy("2026-03-02", 10, 30, 0)
	s.sell("2026-03-05", 20)
	near(t, "April", s.engine("2026-04-30").Price(s.item, month("2026-04")), 2)
}

// Nothing dated after the last day counts, not even in its month.
func TestNothingAfterTheLastDayIsUsed(t *testing.T) {
	for _, method := range []Method{Average, FIFO, Latest} {
		s := newShelf(t, method)
		s.buy("2026-03-01", 10, 10, 0)
		s.sell("2026-03-05", 4)
		s.buy("2026-03-16", 10, 90, 0)
		s.sell("2026-03-20", 5)
		s.count("2026-03-25", 1)
		s.book.Pours = []book.Pour{{Day: on("2026-03-05"), Product: s.of, Units: num(4)}, {Day: on("2026-03-16"), Product: s.of, Units: num(3)}}
		for _, pours := range [][]book.Pour{s.book.Pours, nil} {
			s.book.Pours = pours
			e := s.engine("2026-03-15")
			near(t, "price", e.Price(s.item, month("2026-03")), 1)
			near(t, "use", e.Use(s.item, on("2026-03-01"), on("2026-03-31")), 4)
			near(t, "closing", e.Stock(on("2026-03-01"), on("2026-03-15"))[0].Closing, 6)
		}
	}
}

func TestPurchaseWithoutAQuantityIsLeftOut(t *testing.T) {
	s := newShelf(t, Average)
	s.buy("2026-03-01", 10, 10, 0)
	s.buy("2026-03-02", -5, -20, 0)
	e := s.engine("2026-03-31")
	near(t, "price", e.Price(s.item, month("2026-03")), 1)
	p := e.Problems.Sorted()
	if len(p) != 1 || p[0].Say != "purchase-quantity" || p[0].Amount != -20 {
		t.Errorf("problems %+v", p)
	}
}

// A purchase whose unit needs a density that is not there is left out, with its money.
func TestPurchaseThatCannotBeConvertedIsLeftOut(t *testing.T) {
	s := newShelf(t, Average)
	wax := s.book.Materials[0] // 0.01 per g
	at := cell.Ref{Sheet: "Purchases", Row: 2, Col: 3}
	s.book.Purchases = []book.Purchase{{
		Day: on("2026-03-01"), Material: wax, Dim: unit.Volume, Paid: paid(40),
		Qty: cell.Num{V: 1000, State: cell.Typed, At: at},
	}}
	e := s.engine("2026-03-31")
	near(t, "price without it", e.Price(wax, month("2026-03")), 0.01)
	p := e.Problems.Sorted()
	if len(p) != 1 || p[0].Code != problem.NoDensity || p[0].Amount != 40 || p[0].At != at {
		t.Errorf("problems %+v", p)
	}
	wax.Density = num(0.8)
	near(t, "price with a density", s.engine("2026-03-31").Price(wax, month("2026-03")), 40.0/800)
}

// A period from mid-month opens with what there was on its first day: March
// opens with 15, 15 are bought on the 2nd and 16 sold on the 10th. After the count
// of the 20th it is the count.
func TestStockFromMidMonth(t *testing.T) {
	e := year(t, Average).engine("2026-04-15")
	for from, want := range map[string][3]float64{ // opening, purchased, used up to 15 April
		"2026-03-02": {15, 15, 30},
		"2026-03-03": {30, 0, 30},
		"2026-03-11": {83, 0, 14}, // 99 counted on the 5th, 16 sold on the 10th
		"2026-03-21": {12, 0, 14},
		"2026-03-22": {8, 0, 10},
		"2026-04-11": {0, 0, 0},
	} {
		row := e.Stock(on(from), on("2026-04-15"))[0]
		near(t, "opening on "+from, row.Opening, want[0])
		near(t, "purchased from "+from, row.Purchased, want[1])
		near(t, "used from "+from, row.Used, want[2])
		near(t, "closing", row.Closing, 0)
	}
}

func TestUseGoesByPoursWhereThereAreAny(t *testing.T) {
	s := newShelf(t, Average)
	s.buy("2026-02-01", 100, 100, 0)
	s.sell("2026-02-05", 7)
	if e := s.engine("2026-02-28"); e.Basis() != "sales" {
		t.Errorf("basis %q", e.Basis())
	}
	s.book.Pours = []book.Pour{{Day: on("2026-02-03"), Product: s.of, Units: num(20)}, {Day: on("2026-03-01"), Product: s.of, Units: num(5)}}
	e := s.engine("2026-02-28")
	if e.Basis() != "pours" {
		t.Errorf("basis %q", e.Basis())
	}
	near(t, "used", e.Stock(on("2026-02-01"), on("2026-02-28"))[0].Used, 20)
}

func TestMethodFollowsThePurchases(t *testing.T) {
	s := newShelf(t, "")
	if m := s.engine("2026-02-28").Method(); m != Latest {
		t.Errorf("method %q without purchases", m)
	}
	s.buy("2026-02-01", 100, 100, 0)
	if m := s.engine("2026-02-28").Method(); m != Average {
		t.Errorf("method %q with purchases", m)
	}
}

// Periodic weighted average and first in, first out of published exercises,
// each run as one month of purchases and use.
func TestPublishedMaterialCosts(t *testing.T) {
	type lot struct{ qty, price float64 } // price 0: used
	for _, x := range []struct {
		source                                 string
		lots                                   []lot
		average, averageLeft, fifo, fifoLeft   float64
		averageWithin, averagePrice, fifoPrice float64
	}{
		{ // FIFO printed; the average recomputed from the same purchases
			"Wild, Fundamental Accounting Principles, problem 6-1A",
			[]lot{{100, 50}, {400, 55}, {420, 0}, {120, 60}, {200, 62}, {160, 0}},
			32960.98, 13639.02, 31800, 14800, 0.005, 46600.0 / 820, 31800.0 / 580,
		},
		{
			"textbook exercise, one period",
			[]lot{{2000, 5}, {5000, 6}, {3000, 8}, {6000, 0}},
			38400, 25600, 34000, 30000, 1e-6, 6.4, 34000.0 / 6000,
		},
		{ // FIFO printed; the simple mean of the prices, 34.25, would be wrong
			"textbook exercise, purchases between uses",
			[]lot{{1000, 30}, {400, 0}, {1800, 32}, {1600, 0}, {800, 36}, {800, 0}, {1200, 39}},
			95200, 68000, 87600, 75600, 1e-6, 34, 87600.0 / 2800,
		},
	} {
		for _, method := range []Method{Average, FIFO} {
			s := newShelf(t, method)
			first := on("2026-03-01")
			for i, l := range x.lots {
				if d := (first + day.Date(i)).String(); l.price == 0 {
					s.sell(d, l.qty)
				} else {
					s.buy(d, l.qty, l.qty*l.price, 0)
				}
			}
			e := s.engine("2026-03-31")
			row := e.Stock(first, on("2026-03-31"))[0]
			used, left, price := x.average, x.averageLeft, x.averagePrice
			if method == FIFO {
				used, left, price = x.fifo, x.fifoLeft, x.fifoPrice
			}
			near(t, x.source+" price", row.Price, price)
			within(t, x.source+" cost of use", row.Used.Or(0)*row.Price.Or(0), used, x.averageWithin)
			within(t, x.source+" stock", row.Value.Or(0), left, x.averageWithin)
		}
	}
	oracle.Cases(t, 3*2*3)
}

func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if d := got - want; d > tolerance || d < -tolerance {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}

func TestUnknownPriceSpreadsOnlyWhereItIsUsed(t *testing.T) {
	s := newShelf(t, FIFO)
	s.buy("2026-02-01", 10, 10, 0)
	s.buy("2026-03-01", 10, 10, 0)
	s.book.Purchases[1].Freight = book.Money{State: cell.Bad, Raw: "n/a", At: cell.Ref{Sheet: "Purchases", Row: 3, Col: 5}}
	s.sell("2026-02-05", 10)
	s.sell("2026-03-05", 5)
	s.buy("2026-04-01", 10, 30, 0)
	s.sell("2026-04-05", 5)
	s.sell("2026-05-05", 5)
	e := s.engine("2026-05-31")
	near(t, "February", e.Price(s.item, month("2026-02")), 1)
	near(t, "May", e.Price(s.item, month("2026-05")), 3)
	for _, m := range []string{"2026-03", "2026-04"} {
		if f := e.Price(s.item, month(m)); f.Known() {
			t.Errorf("price in %s is known: %v", m, f.Or(0))
		}
	}
	if e.Cost(e.Of(s.of), month("2026-03")) != nil {
		t.Error("a unit has a cost without the price of its lid")
	}
	e.Cost(e.Of(s.of), month("2026-04"))
	problems := e.Problems.Sorted()
	if len(problems) != 1 || problems[0].Say != "unit-cost" || problems[0].Other.String() != "Purchases!E3" {
		t.Errorf("problems %+v", problems)
	}
}
