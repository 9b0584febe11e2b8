package cost

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/sales"
)

// scattered is lines of orders that run over channels, jars and seasons, in any
// order of days; some days are in no season, some products in no jar of Jars.
func scattered(t *testing.T, random *rand.Rand) *book.Book {
	b := shelf(t, nil)
	loose := *b.Products[0]
	loose.Code, loose.Jar = text("L"), &book.Jar{Name: text("Loose")}
	b.Products = append(b.Products, &loose)
	b.Seasons = []book.Season{{Name: text("Warm"), From: 401, To: 831}, {Name: text("Cold"), From: 1001, To: 331}}
	b.Orders, b.Customers = 40, 6
	for i := range 100 + random.IntN(200) {
		b.Sales.Add(book.Sale{
			Day: on("2026-10-31") - day.Date(random.IntN(1000)), Order: int32(random.IntN(b.Orders + 1)), Customer: int32(random.IntN(b.Customers + 1)), Row: int32(i + 2),
			SalePlace:   book.SalePlace{Product: int32(random.IntN(len(b.Products))), Channel: int32(random.IntN(len(b.Channels)+1) - 1)},
			SaleAmounts: book.SaleAmounts{Qty: money.Float(float64(random.IntN(16)-4) / 4), Price: money.Float(20), Has: book.HasPrice},
		})
	}
	return b
}

// groupOf is a group with the lines that one line at a time gives it.
func groupOf(lines []sales.Line, r *run, in func(*sales.Line) bool) *group {
	g := &group{}
	orders := map[int32]float64{}
	for i := range lines {
		if x := &lines[i]; in(x) {
			g.finish[side(r.ledger.Product(x).Finish)].AddUnits(x.Worth)
			orders[x.Order()] += x.Units.Float64()
		}
	}
	for _, m := range orders {
		if m > 0 {
			g.count(m)
		}
	}
	return g
}

func TestGroupsHoldTheLinesOfTheirKind(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 50 {
		b := scattered(t, random)
		to := on("2026-10-31")
		r := &run{book: b, ledger: sales.New(b, to)}
		w := r.window(to)
		lines := r.ledger.Between(windowFrom(to), to).List()
		check := func(name string, got *group, in func(*sales.Line) bool) {
			t.Helper()
			want := groupOf(lines, r, in)
			if got == nil {
				got = &group{}
			}
			if got.finish != want.finish || got.sum != want.sum || got.squares != want.squares || got.orders != want.orders {
				t.Fatalf("%s: %+v, want %+v", name, got, want)
			}
		}
		shops := func(x *sales.Line) bool { return x.Channel >= 0 && b.Channels[x.Channel].Wholesale }
		jar := func(x *sales.Line, j int) bool { return r.ledger.Product(x).Jar == b.Jars[j] }
		check("all", w.all, func(x *sales.Line) bool { return !shops(x) })
		check("wholesale", w.wholesale, shops)
		for j := range b.Jars {
			check("jar", w.jars[j], func(x *sales.Line) bool { return !shops(x) && jar(x, j) })
		}
		for i, s := range w.met {
			check("season", w.seasons[i], func(x *sales.Line) bool { return !shops(x) && x.Season == s })
			for j := range b.Jars {
				check("season and jar", w.both[i][j], func(x *sales.Line) bool { return !shops(x) && x.Season == s && jar(x, j) })
			}
		}
		for i := range w.names {
			check("name", w.names[i], func(x *sales.Line) bool { return !shops(x) && int(x.Season.Row) == i })
		}
		net := map[int32][2]float64{}
		for i := range lines {
			if x := &lines[i]; !shops(x) {
				n := net[x.Customer]
				n[side(r.ledger.Product(x).Finish)] += x.Units.Float64()
				net[x.Customer] = n
			}
		}
		buyers := r.findBuyers(to)
		for _, f := range []book.Finish{book.Colored, book.Natural} {
			tallied(t, r, lines, buyers.of(f), func(x *sales.Line) bool { return !shops(x) && r.ledger.Product(x).Finish == f })
		}
		for k := buysColored; k <= buysBoth; k++ {
			tallied(t, r, lines, buyers.lines[k], func(x *sales.Line) bool { return !shops(x) && x.Customer != 0 && buysOf(net[x.Customer]) == k })
		}
	}
}

// tallied holds the lines of a kind against their tallies.
func tallied(t *testing.T, r *run, lines []sales.Line, got tallies, in func(*sales.Line) bool) {
	t.Helper()
	want := r.noLines()
	for i := range lines {
		if x := &lines[i]; in(x) {
			want.add(x, r.ledger.Product(x))
		}
	}
	for i, x := range want {
		if x == nil {
			if got[i] != nil {
				t.Fatalf("product %d has lines", i)
			}
			continue
		}
		if got[i] == nil || len(got[i].months) != len(x.months) {
			t.Fatalf("product %d has %+v, want %+v", i, got[i], x)
		}
		for n, m := range x.months {
			have := got[i].months[n]
			if math.Abs(have.Fees-m.Fees) < 1e-9 {
				have.Fees = m.Fees
			}
			if have.month != m.month || !reflect.DeepEqual(have.Total, m.Total) {
				t.Fatalf("product %d in %v: %+v, want %+v", i, have.month, have, m)
			}
		}
	}
}
