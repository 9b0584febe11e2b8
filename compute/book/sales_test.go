package book

import (
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/day"
	"pourbook/compute/money"
)

func lines(t *rapid.T) []Sale {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Sale {
		small := func(name string) int32 { return rapid.Int32Range(-1, 3).Draw(t, name) }
		amount := func(name string) money.Amount {
			return money.Float(float64(rapid.IntRange(-2, 3).Draw(t, name)) / 4)
		}
		return Sale{
			Day: day.Date(small("day")), Order: small("order"), Customer: small("customer"), Row: small("row"),
			SalePlace:   SalePlace{small("product"), small("channel"), small("market"), small("sheet")},
			SaleAmounts: SaleAmounts{SaleHas(small("has") + 1), amount("quantity"), amount("price"), amount("total"), amount("discount")},
		}
	}), 0, 3*chunkLines/2).Draw(t, "lines")
}

// Packed lines are what was added, changed and kept, as a plain slice has them.
func TestSalesAreWhatASliceWouldHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := lines(t)
		var s Sales
		for _, x := range want {
			s.Add(x)
		}
		same(t, &s, want)
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
		same(t, &s, kept)
		s.Add(Sale{Row: 5})
		same(t, &s, append(kept, Sale{Row: 5}))
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
