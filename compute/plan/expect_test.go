package plan

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/stat"
)

func TestWhereTheExpectedTotalComesFrom(t *testing.T) {
	fair := func(b *book.Book, name, on string, sold float64) {
		b.Markets = append(b.Markets, &book.Market{Name: text(name), Day: date(on)})
		number := b.SaleMarkets.Number(name)
		if sold != 0 {
			sell(b, on, number, sold)
		}
	}
	for _, x := range []struct {
		name   string
		change func(*book.Book, *book.Market)
		total  float64
		from   string
		what   string
	}{
		{"its own", func(b *book.Book, m *book.Market) { m.Expected, m.Growth = num(90), num(0.5) }, 90, fromRow, "Spring Fair 2025-04-12"},
		{"its name's last date", func(*book.Book, *book.Market) {}, 68, fromSameName, "Spring Fair 2025-04-12"},
		{"grown", func(_ *book.Book, m *book.Market) { m.Growth = num(0.25) }, 85, fromSameName, "Spring Fair 2025-04-12"},
		{"like another", func(_ *book.Book, m *book.Market) { m.Like = text("old  FAIR") }, 40, fromLike, "Old Fair 2025-06-14"},
		{"like one without sales", func(b *book.Book, m *book.Market) {
			m.Like = text("New Fair")
			fair(b, "New Fair", "2025-09-01", 0)
		}, 68, fromSameName, "Spring Fair 2025-04-12"},
		{"a new one in spring", func(b *book.Book, m *book.Market) {
			m.Name = text("May Day")
			fair(b, "April Day", "2025-04-20", 32)
		}, 50, fromSeason, "Spring Fair 2025-04-12,April Day 2025-04-20"},
		{"a new one in winter", func(b *book.Book, m *book.Market) {
			m.Name, m.Day = text("Yule"), date("2026-12-20")
			fair(b, "April Day", "2025-04-20", 12)
		}, 40, fromAll, "Spring Fair 2025-04-12,April Day 2025-04-20,Old Fair 2025-06-14"},
		{
			"only the last six", func(b *book.Book, m *book.Market) {
				m.Name, m.Day = text("Yule"), date("2026-12-20")
				for i, on := range []string{"2025-09-06", "2025-09-13", "2025-09-20", "2025-10-04", "2025-10-11"} {
					fair(b, "Fair "+string(rune('A'+i)), on, float64(10*(i+1)))
				}
			}, (40 + 10 + 20 + 30 + 40 + 50) / 6.0, fromAll,
			"Old Fair 2025-06-14,Fair A 2025-09-06,Fair B 2025-09-13,Fair C 2025-09-20,Fair D 2025-10-04,Fair E 2025-10-11",
		},
	} {
		b := plainBook()
		x.change(b, b.Markets[2])
		r := mustRun(t, b, options())
		near(t, x.name, r.ExpectedTotal, x.total)
		if what := strings.Join(r.FromWhat, ","); r.From != x.from || what != x.what {
			t.Errorf("%s: from %s %s, want %s %s", x.name, r.From, what, x.from, x.what)
		}
	}
}

func TestNothingAfterTodayIsUsed(t *testing.T) {
	b := plainBook()
	sell(b, "2026-03-20", 1, 500)
	near(t, "expected total", mustRun(t, b, options()).ExpectedTotal, 68)
}

func TestRefundsBeyondSalesCountAsNone(t *testing.T) {
	b := plainBook()
	sell(b, "2025-04-12", 1, 0, -50)
	near(t, "expected total", mustRun(t, b, options()).ExpectedTotal, 56)
}

func consts(v ...float64) []*calc.Figure {
	var out []*calc.Figure
	for _, x := range v {
		out = append(out, calc.Const(x))
	}
	return out
}

func TestSpreadFromEarlierTotals(t *testing.T) {
	// one name, 50 and 150: x = 0.5, 1.5; CV^2 = 0.5 / 1; r = 1 / (0.5 - 0.01)
	near(t, "one name", spreadOf([][]*calc.Figure{consts(50, 150)}), 1/(0.5-0.01))
	// two names about their own means 100 and 10: x = 0.8 1.2 and 0.5 1.5, n - g = 2,
	// mean of the raw totals 55
	near(t, "two names", spreadOf([][]*calc.Figure{consts(80, 120), consts(5, 15)}), 1/((0.08+0.5)/2-1/55.0))
	near(t, "hardly any", spreadOf([][]*calc.Figure{consts(100, 101, 99)}), 50)
	near(t, "wild", spreadOf([][]*calc.Figure{consts(1, 300)}), 2)
}

func TestSpreadOfABook(t *testing.T) {
	b := plainBook()
	r := mustRun(t, b, options())
	near(t, "two totals are too few", r.Demand[0].R, 4)
	if len(calc.Assumed(r.Demand[0].R)) != 1 {
		t.Error("the assumed spread is not marked as assumed")
	}
	b.Markets = append(b.Markets, &book.Market{Name: text("Spring Fair"), Day: date("2024-04-13")})
	sell(b, "2024-04-13", 1, 100)
	// Spring Fair has two dates, but two totals are fewer than three: all three
	// about their common mean.
	mean := (100 + 68 + 40) / 3.0
	cv2 := (math.Pow(100/mean-1, 2) + math.Pow(68/mean-1, 2) + math.Pow(40/mean-1, 2)) / 2
	near(t, "three totals", mustRun(t, b, options()).Demand[0].R, 1/(cv2-1/mean))
	b.Settings.SetNum(book.DemandSpread, num(7))
	near(t, "the setting", mustRun(t, b, options()).Demand[0].R, 7)
	b.Settings.SetNum(book.DemandSpread, cell.Num{})
}

// drawChances draws products that differ in mean and in what they earn.
func drawChances(t *rapid.T, n int) []chance {
	out := make([]chance, n)
	for i := range out {
		c := chance{
			NegBin: stat.NegBin{Mean: float64(rapid.IntRange(0, 60).Draw(t, "mean")) / 10, R: 4},
			under:  float64(rapid.IntRange(1, 900).Draw(t, "under")) / 100, over: float64(rapid.IntRange(1, 300).Draw(t, "over")) / 100,
		}
		c.critical = c.under / (c.under + c.over)
		c.uncapped = c.Quantile(c.critical)
		out[i] = c
	}
	return out
}

func (c *chance) earns(q int) float64 {
	sold := c.ExpectedMin(q)
	return c.under*sold - c.over*(float64(q)-sold)
}

func TestCappedUnitsEarnTheMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chances := drawChances(t, 3)
		limit := rapid.IntRange(0, 12).Draw(t, "limit")
		got, sum, most := 0.0, 0, 0.0
		for i, q := range capped(chances, limit) {
			if q > chances[i].uncapped {
				t.Fatalf("brings %d, its own chances ask for %d", q, chances[i].uncapped)
			}
			got += chances[i].earns(q)
			sum += q
		}
		for a := range limit + 1 {
			for b := range limit + 1 - a {
				for c := range limit + 1 - a - b {
					most = math.Max(most, chances[0].earns(a)+chances[1].earns(b)+chances[2].earns(c))
				}
			}
		}
		if sum > limit || got < most-1e-9 {
			t.Fatalf("%d units earn %v, %d could earn %v", sum, got, limit, most)
		}
	})
}

func TestWorthsAddUpToTheContribution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChances(t, 1)[0]
		q, sum := rapid.IntRange(0, 30).Draw(t, "q"), 0.0
		for k := range q {
			sum += c.worth(k + 1)
		}
		if math.Abs(sum-c.earns(q)) > 1e-9*(1+math.Abs(sum)) {
			t.Fatalf("units are worth %v, together %v", sum, c.earns(q))
		}
	})
}

func TestTiesGoInTableOrder(t *testing.T) {
	c := chance{NegBin: stat.NegBin{Mean: 5, R: 4}, under: 8, over: 2, critical: 0.8}
	c.uncapped = c.Quantile(0.8)
	if got := capped([]chance{c, c, c}, 4); got[0] != 2 || got[1] != 1 || got[2] != 1 {
		t.Errorf("four units of three equal products: %v", got)
	}
}
