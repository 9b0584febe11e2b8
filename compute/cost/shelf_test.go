package cost

import (
	"testing"

	"pourbook/compute/book"
)

func TestWorkedShelves(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-10"))
	if len(r.Shelves) != 3 || r.Main != r.Shelves[0] {
		t.Fatalf("%d shelves", len(r.Shelves))
	}
	// Web so far: 10 units in the orders B1, A1 and A2, so a fee per order of
	// 0.36 a unit; with 0.50 a unit and a tenth of 20.00 it takes 2.86.
	for i, want := range []struct{ priceC, marginC, priceN, marginN, least float64 }{
		{20, (20 - 10.1 - 2.86) / 20, 20, (20 - 9.05 - 2.86) / 20, 0.6},
		{20, 9.9 / 20, 20, 10.95 / 20, 0.6},
		{10, -0.1 / 10, 10, 0.95 / 10, 0.3}, // half the list price, no fees
	} {
		s := r.Shelves[i]
		near(t, s.Channel.Name.V+" price of C", s.Prices[0].Price, want.priceC)
		near(t, s.Channel.Name.V+" margin of C", s.Prices[0].Margin, want.marginC)
		near(t, s.Channel.Name.V+" price of N", s.Prices[1].Price, want.priceN)
		near(t, s.Channel.Name.V+" margin of N", s.Prices[1].Margin, want.marginN)
		near(t, s.Channel.Name.V+" least", s.Least, want.least)
	}
}

func TestShelvesOfOtherBooks(t *testing.T) {
	b := worked(t)
	b.Products[0].Wholesale, b.Products[1].List = paid(12), book.Money{}
	b.Settings.SetNum(book.TargetMargin, num(0.352))
	r := costed(t, b, monthOf("2026-10"))
	near(t, "own wholesale price", r.Shelves[2].Prices[0].Price, 12)
	near(t, "its margin", r.Shelves[2].Prices[0].Margin, 1.9/12)
	absent(t, "price without a list price", r.Shelves[0].Prices[1].Price)
	absent(t, "margin without a price", r.Shelves[0].Prices[1].Margin)
	if r.Main.Below(0) || r.Main.Below(1) || !r.Shelves[2].Below(0) {
		t.Error("a margin equal to the least, or without a price, is below it, or a smaller one is not")
	}

	b.Channels[0].Listed, b.Channels[1].Listed = false, false
	r = costed(t, b, monthOf("2026-10"))
	if len(r.Shelves) != 1 || r.Main.Channel != nil {
		t.Fatalf("%d shelves, main %v", len(r.Shelves), r.Main.Channel)
	}
	near(t, "margin before fees", r.Main.Prices[0].Margin, 9.9/20)
}
