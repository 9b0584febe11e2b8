package book

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/day"
	"pourbook/compute/money"
)

// lines are up to some chunks of lines, of numbers near each other or far apart.
func lines(t *rapid.T) []Sale {
	some := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Sale {
		small := func(name string) int32 { return rapid.Int32Range(-1, 3).Draw(t, name) }
		amount := func(name string) money.Amount {
			return money.Float(float64(rapid.IntRange(-2, 3).Draw(t, name)) / 4)
		}
		return Sale{
			Day: day.Date(small("day")), Order: small("order"), Customer: small("customer"), Row: small("row"),
			SalePlace:   SalePlace{small("product"), small("channel"), small("market"), small("sheet")},
			SaleAmounts: SaleAmounts{SaleHas(small("has") + 1), amount("quantity"), amount("price"), amount("total"), amount("discount")},
		}
	}), 0, 50).Draw(t, "lines")
	if len(some) == 0 {
		return nil
	}
	apart := rapid.SampledFrom([]int32{1, 100, 100_000}).Draw(t, "apart")
	for i := range some {
		some[i].Order, some[i].Customer = some[i].Order*apart, some[i].Customer*apart
	}
	return slices.Repeat(some, rapid.IntRange(1, 5*chunkLines/2/len(some)).Draw(t, "times"))
}

func salesOf(lines []Sale) *Sales {
	var s Sales
	for _, x := range lines {
		s.Add(x)
	}
	return &s
}

// Packed lines are what was added, changed and kept, as a plain slice has them.
func TestSalesAreWhatASliceWouldHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := lines(t)
		s := salesOf(want)
		same(t, s, want)
		if len(want) > 0 {
			i := rapid.IntRange(0, len(want)-1).Draw(t, "set")
			want[i].Qty, want[i].Product = money.Float(99), 7
			s.Set(i, want[i])
		}
		var kept []Sale
		for _, x := range want {
			if x.Channel != 1 {
				x.Day++
				kept = append(kept, x)
			}
		}
		s.Keep(func(i int, p *PackedSale) bool {
			if got := s.Unpack(*p); got != want[i] {
				t.Fatalf("line %d is %+v while keeping, want %+v", i, got, want[i])
			}
			p.Day++
			return s.Places()[p.Place].Channel != 1
		})
		same(t, s, kept)
		s.Add(Sale{Row: 5})
		same(t, s, append(kept, Sale{Row: 5}))
	})
}

// Many lines at once are kept as one by one.
func TestManyLinesAreKeptAtOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := lines(t)
		s := salesOf(want)
		drop, atOnce := rapid.IntRange(0, max(1, len(want))).Draw(t, "drop"), 0
		var kept []Sale
		looks, changes := Whole, Places|Amounts
		swaps := rapid.Bool().Draw(t, "swaps")
		if swaps {
			looks, changes = Days, changes|Orders|Customers
		}
		s.KeepMany(looks, changes, func(n *Stretch) bool {
			i := n.First
			if drop >= i && drop < i+chunkLines {
				n.Places[0]++ // which is not kept
				return false
			}
			for j := range n.Len {
				x := want[i+j]
				if n.Days[j] != int32(x.Day) || n.Orders[j] != x.Order || n.Customers[j] != x.Customer || s.Places()[n.Places[j]] != x.SalePlace || s.Amounts()[n.Amounts[j]] != x.SaleAmounts {
					t.Fatalf("line %d is on %d, want %+v", i+j, n.Days[j], x)
				}
				x.Market, x.Qty = x.Market+1, x.Qty.Neg()
				y := x
				y.Order, y.Customer = x.Customer, x.Order
				p := s.Pack(&y)
				n.Places[j], n.Amounts[j], n.Orders[j], n.Customers[j] = p.Place, p.Amounts, p.Order, p.Customer
				if swaps {
					x = y
				}
				kept = append(kept, x)
			}
			atOnce++
			return true
		}, func(i int, p *PackedSale) bool {
			if x := s.Unpack(*p); x != want[i] {
				t.Fatalf("line %d is %+v, want %+v", i, x, want[i])
			}
			if i != drop {
				kept = append(kept, want[i])
			}
			return i != drop
		})
		same(t, s, kept)
		if drop >= len(want) && atOnce != len(want)/chunkLines {
			t.Fatalf("%d times at once for %d lines", atOnce, len(want))
		}
	})
}

// Lines have what their numbers are turned into, and so have lines added later.
func TestNumbersAreTurned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := lines(t)
		s := salesOf(want)
		own := Sale{SalePlace: SalePlace{Product: 9, Market: 9}, SaleAmounts: SaleAmounts{Has: HasTotal}}
		addOwn := func() {
			place, amounts := s.AddPlace(own.SalePlace), s.AddAmounts(own.SaleAmounts)
			if p := s.Pack(&own); p.Place == place || p.Amounts == amounts {
				t.Fatal("a number that another line has")
			}
		}
		addOwn()
		places, amounts := slices.Clone(s.Places()), slices.Clone(s.Amounts())
		for i := range places {
			places[i].Sheet = places[i].Product + 3
		}
		for i := range amounts {
			amounts[i].Discount = amounts[i].Qty
		}
		s.Turn(places, amounts)
		for i := range want {
			want[i].Sheet, want[i].Discount = want[i].Product+3, want[i].Qty
		}
		same(t, s, want)
		more := append(slices.Clone(want), own)
		for _, x := range more {
			s.Add(x)
		}
		same(t, s, append(want, more...))
		if len(s.Places()) > len(places)+1 || len(s.Amounts()) > len(amounts)+1 {
			t.Fatal("lines like those before got numbers of their own")
		}
		s.Turn(places, amounts)
		addOwn()
	})
}

func same(t *rapid.T, s *Sales, want []Sale) {
	if s.Len() != len(want) {
		t.Fatalf("%d lines, want %d", s.Len(), len(want))
	}
	for i, x := range s.All() {
		if x != want[i] {
			t.Fatalf("line %d is %+v, want %+v", i, x, want[i])
		}
	}
}

// Columns are the lines' own, of any stretch and in any order.
func TestColumnsAreTheLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := salesOf(lines(t))
		want := Columns(rapid.IntRange(0, int(Whole)).Draw(t, "columns"))
		lo := rapid.IntRange(0, s.Len()).Draw(t, "from")
		hi := rapid.IntRange(lo, s.Len()).Draw(t, "to")
		n := lo
		for x := range s.Stretches(lo, hi, want) {
			n += x.Len
			for i := range x.Len {
				sameColumns(t, x, i, s.Packed(x.First+i), want)
			}
		}
		if n != hi {
			t.Fatalf("lines %d to %d end at %d", lo, hi, n)
		}
		var picked []int32
		for i := hi - 1; i >= lo; i-- {
			picked = append(picked, int32(i))
		}
		n = 0
		for x := range s.Picked(picked, want) {
			n += x.Len
			for i := range x.Len {
				sameColumns(t, x, i, s.Packed(int(picked[x.First+i])), want)
			}
		}
		if n != len(picked) {
			t.Fatalf("%d lines of %d", n, len(picked))
		}
	})
}

func sameColumns(t *rapid.T, s *Stretch, i int, p PackedSale, want Columns) {
	for f, got := range [][]int32{s.Days, s.Orders, s.Customers, s.Rows, s.Places, s.Amounts} {
		if (len(got) == s.Len) != (want&(1<<f) != 0) && s.Len > 0 {
			t.Fatalf("column %d has %d numbers of %d", f, len(got), s.Len)
		}
		if len(got) > 0 && got[i] != p.column(f) {
			t.Fatalf("column %d has %d in line %d, want %d", f, got[i], s.First+i, p.column(f))
		}
	}
	if want == Whole && s.Packed(i) != p {
		t.Fatalf("line %d is %+v, want %+v", s.First+i, s.Packed(i), p)
	}
}
