package unitcost

import (
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/oracle"
	"pourbook/compute/unit"
)

// Warren, Exercise 23-5: standard 430 at 6.90, actual 450 at 6.50: price -180,
// quantity +138. The month's cost is the standard's, since first in, first out
// takes the month's use from stock bought at 6.90 the month before.
func TestPublishedVariances(t *testing.T) {
	s := newShelf(t, FIFO)
	s.buy("2026-01-05", 1000, 6900, 0)
	s.count("2026-01-31", 1000)
	s.buy("2026-02-10", 450, 450*6.5, 0)
	s.sell("2026-02-12", 430)
	s.count("2026-02-28", 1000)
	row := s.engine("2026-02-28").Stock(on("2026-02-01"), on("2026-02-28"))[0]
	near(t, "actual use", row.ActualUse, 450)
	near(t, "usage variance", row.UsageVariance, 138)
	near(t, "price variance", row.PriceVariance, -180)
	oracle.Cases(t, 2)
}

// A textbook exercise: 7,900 units at a standard of 5 lb at 9.00; actual 40,000 lb
// at 9.20: price +8,000, quantity +4,500. Here the 5 lb are the wax of a jar.
func TestPublishedVariancesByWeight(t *testing.T) {
	const lb = unit.GramsPerPound
	s := newShelf(t, FIFO)
	wax := s.book.Materials[0]
	wax.Packs[0].Size, wax.Packs[0].Price = num(lb), paid(9)
	s.of.Jar.Fill = num(5 * lb)
	buy := func(d string, pounds, price float64) {
		s.book.Purchases = append(s.book.Purchases, book.Purchase{
			Day: on(d), Material: wax,
			Qty: num(pounds * lb), Dim: unit.Mass, Paid: paid(pounds * price),
		})
	}
	buy("2026-01-05", 50_000, 9)
	buy("2026-02-05", 40_000, 9.2)
	for _, d := range []string{"2026-01-31", "2026-02-28"} {
		s.book.Counts = append(s.book.Counts, book.Count{Day: on(d), Material: wax, Qty: num(50_000 * lb), Dim: unit.Mass})
	}
	s.sell("2026-02-20", 7900)
	row := s.engine("2026-02-28").Stock(on("2026-02-01"), on("2026-02-28"))[0]
	near(t, "price variance", row.PriceVariance, 8000)
	near(t, "usage variance", row.UsageVariance, 4500)
	near(t, "actual use", row.ActualUse, 40_000*lb)
	oracle.Cases(t, 2)
}

// Both counts are taken at the end of their day: what is bought or sold on the
// day of the first is in it, on the day of the last too.
func TestActualUseBetweenTheEndsOfTwoDays(t *testing.T) {
	s := newShelf(t, Average)
	s.buy("2026-01-01", 100, 100, 0)
	s.buy("2026-01-15", 20, 20, 0)
	s.sell("2026-01-15", 30)
	s.count("2026-01-15", 90)
	s.buy("2026-02-10", 50, 100, 0) // average (90 + 100) / 140
	s.sell("2026-02-10", 20)
	s.sell("2026-02-11", 40)
	s.count("2026-02-10", 117)
	e := s.engine("2026-02-28")
	row := e.Stock(on("2026-02-01"), on("2026-02-28"))[0]
	near(t, "actual use", row.ActualUse, 90+50-117)
	near(t, "usage variance", row.UsageVariance, (23-20)*190.0/140)
	near(t, "price variance", row.PriceVariance, 100-50)
	near(t, "closing", row.Closing, 77)
	near(t, "missing by the count of the first day", e.StockDifferences(on("2026-02-10"), on("2026-02-10")), 3*190.0/140)
	near(t, "no count between", e.StockDifferences(on("2026-02-11"), on("2026-02-28")), 0)
	fromCount := e.Stock(on("2026-02-10"), on("2026-02-28"))[0]
	near(t, "actual use from the day of a count", fromCount.ActualUse, 23)
	near(t, "opening on the day of a count", fromCount.Opening, 90)
	without := e.Stock(on("2026-02-11"), on("2026-02-28"))[0]
	if without.ActualUse.Known() || without.UsageVariance.Known() {
		t.Error("actual use without a count in the period")
	}
	near(t, "price variance without a purchase", without.PriceVariance, 0)
}

// Nothing dated after the period's end is used, whatever the engine's last day.
func TestStockEndsWithThePeriod(t *testing.T) {
	s := year(t, FIFO)
	early, late := s.engine("2026-03-10"), s.engine("2026-07-31")
	a := early.Stock(on("2026-03-01"), on("2026-03-10"))[0]
	b := late.Stock(on("2026-03-01"), on("2026-03-10"))[0]
	near(t, "closing", a.Closing, 99-16)
	near(t, "closing by the later engine", b.Closing, a.Closing.Or(0))
	near(t, "value by the later engine", b.Value, a.Value.Or(0))
}

func TestOverheadsOfTheMonthsThatAPeriodTouches(t *testing.T) {
	b, _, _ := twoCandles(t)
	e := New(b, nil, on("2026-11-02"))
	near(t, "overheads", e.Overheads(on("2026-09-30"), on("2026-11-02")), 170+160+160)
	b.Overheads = append(b.Overheads, book.Overhead{
		Name: text("Stall"), Amount: paid(10),
		From: book.Date{V: on("2026-09-10"), State: cell.Typed}, To: book.Date{V: on("2026-10-01"), State: cell.Typed},
	})
	e = New(b, nil, on("2026-11-02"))
	for m, want := range map[string]float64{"2026-08": 170, "2026-09": 180, "2026-10": 170, "2026-11": 160} {
		near(t, "overheads of "+m, e.Overhead(month(m)), want)
	}
	bad := cell.Ref{Sheet: "Overheads", Row: 7, Col: 3}
	b.Overheads[0].From = book.Date{State: cell.Bad, At: bad}
	e = New(b, nil, on("2026-11-02"))
	if e.Overhead(month("2026-10")).Known() || e.Cost(e.Of(b.Products[0]), month("2026-10")) != nil {
		t.Error("overheads are known though a date cannot be read")
	}
	if p := e.Problems.Sorted(); len(p) != 1 || p[0].Other != bad {
		t.Errorf("the problem does not name the date: %v", p)
	}
	b.Overheads = nil
	setting(b, book.OverheadMonth, 55)
	near(t, "by the setting", New(b, nil, on("2026-11-02")).Overheads(on("2026-09-30"), on("2026-10-01")), 110)
}

// The use of a part is count / (1 - reject rate), which no weight goes into: a
// candle whose fill needs a density that nobody gave uses its lid all the same,
// 10 / 0.8 of them, and its wax not at all.
func TestPartsAreUsedWhereTheWeightsAreUnknown(t *testing.T) {
	s := newShelf(t, Average)
	jar := s.book.Jars[0]
	jar.Fill, jar.Capacity, jar.FillPercent = cell.Num{}, num(100), num(0.9)
	setting(s.book, book.RejectRate, 0.2)
	s.buy("2026-03-01", 40, 80, 0)
	s.sell("2026-03-05", 10)
	e := s.engine("2026-03-31")
	if e.Cost(e.Of(s.of), month("2026-03")) != nil {
		t.Error("a unit cost without a weight")
	}
	row := e.Stock(on("2026-03-01"), on("2026-03-31"))[0]
	near(t, "lids used", row.Used, 12.5)
	near(t, "lids left", row.Closing, 27.5)
	near(t, "wax used", e.Use(s.book.Materials[0], on("2026-03-01"), on("2026-03-31")), 0)
}
