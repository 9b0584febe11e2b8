package cost

import (
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/money"
	"pourbook/compute/unit"
)

// worked is twoProducts with sales that can be followed by hand.
//
// A purchase of wax on October 5, 24 for a kilo, raises the wax from October on
// to 3.00 and 3.03, so the units from 9.10 and 8.04 to 10.10 and 9.05, of it
// 9.50 and 8.55 variable.
func worked(t *testing.T) *book.Book {
	b := twoProducts(t)
	wax := b.Materials[0]
	b.Purchases = []book.Purchase{{Day: on("2026-10-05"), Material: wax, Qty: num(1000), Dim: unit.Mass, Paid: paid(24)}}
	b.Markets = []*book.Market{
		{Name: text("Fair"), Day: on("2026-10-10"), Booth: paid(35)}, {Name: text("Fair"), Day: on("2026-11-07"), Booth: paid(99)},
	}
	sell(t, b,
		// before the 24 months; still a use of fragrance
		sale{day: "2024-10-31", product: "N", qty: 1, price: at(20), channel: "Stall"},
		// order B1: 80.00, fees 8.00 + 4 x 0.50 + 1.20 = 11.20
		sale{day: "2026-09-12", product: "C", qty: 4, price: at(20), channel: "Web", order: "B1", customer: "Cid"},
		sale{day: "2026-09-19", product: "N", qty: 2, price: at(20), channel: "Stall"},
		// order A1: 60.00 and 22.00 - 2.00 = 20.00; the 1.20 is split 3 : 1, so
		// 6.00 + 1.50 + 0.90 = 8.40 and 2.00 + 0.50 + 0.30 = 2.80
		sale{day: "2026-10-02", product: "C", qty: 3, price: at(20), channel: "Web", order: "A1", customer: "Ann"},
		sale{day: "2026-10-02", product: "N", qty: 1, price: at(22), discount: 2, channel: "Web", order: "A1", customer: "Ann"},
		// order A2: 40.00, fees 4.00 + 1.00 + 1.20 = 6.20
		sale{day: "2026-10-03", product: "N", qty: 2, price: at(20), channel: "Web", order: "A2", customer: "Bea"},
		// a refund in order A1: -20.00 takes 2.00 back
		sale{day: "2026-10-09", product: "C", qty: -1, price: at(20), channel: "Web", order: "A1", customer: "Ann"},
		sale{day: "2026-10-10", product: "C", qty: 5, price: at(18), channel: "Stall", market: "Fair"},
		// a gift by post: the cost per unit only, 0.50
		sale{day: "2026-10-12", product: "N", qty: 1, price: at(0), channel: "Web", order: "A3", customer: "Bea"},
		sale{day: "2026-10-20", product: "C", qty: 4, total: at(40), channel: "Shop"},
		// money back for a dent: -3.00 takes 0.30 back
		sale{day: "2026-10-25", product: "N", qty: 0, total: at(-3), channel: "Web", order: "A2", customer: "Bea"},
	)
	return b
}

func TestWorkedSales(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-10"))
	c, n := r.Products[0], r.Products[1]
	near(t, "cost of C", c.UnitCost.Total, 10.10)
	near(t, "cost of N", n.UnitCost.Total, 9.05)
	near(t, "usual batch", c.UsualBatch, 10)
	near(t, "minutes of C", c.LaborMinutes, 6)
	near(t, "drops of C", c.Drops, 25)
	near(t, "drops of N", n.Drops, 0)
	for _, x := range []struct {
		name                                               string
		got                                                Sales
		units, net, fees, cost, margin, contribution, rate float64
	}{
		// C: 3 - 1 + 5 + 4 units, 60 - 20 + 90 + 40; fees 8.40 - 2.00; 11 x 10.10;
		// contribution 170 - 6.40 - 11 x 9.50
		{"C", c.Sales, 11, 170, 6.4, 111.1, 58.9, 59.1, 58.9 / 170},
		// N: 1 + 2 + 1 + 0 units, 20 + 40 + 0 - 3; fees 2.80 + 6.20 + 0.50 - 0.30;
		// 4 x 9.05; contribution 57 - 9.20 - 4 x 8.55
		{"N", n.Sales, 4, 57, 9.2, 36.2, 20.8, 13.6, 20.8 / 57},
		// Web: C 2 units, 40 - 6.40; N all
		{"Web", r.Channels[0].Sales, 6, 97, 15.6, 2*10.1 + 36.2, 97 - 56.4, 97 - 15.6 - 2*9.5 - 34.2, 0},
		{"Stall", r.Channels[1].Sales, 5, 90, 0, 50.5, 39.5, 42.5, 0},
		{"Shop", r.Channels[2].Sales, 4, 40, 0, 40.4, -0.4, 2, 0},
	} {
		near(t, x.name+" units", x.got.Units, x.units)
		near(t, x.name+" net sales", x.got.NetSales, x.net)
		near(t, x.name+" fees", x.got.Fees, x.fees)
		near(t, x.name+" cost of sales", x.got.CostOfSales, x.cost)
		near(t, x.name+" gross margin", x.got.GrossMargin, x.margin)
		near(t, x.name+" contribution", x.got.Contribution, x.contribution)
		if x.rate != 0 {
			near(t, x.name+" margin rate", x.got.MarginRate, x.rate)
		} else {
			absent(t, x.name+" margin rate", x.got.MarginRate)
		}
	}
}

func TestWorkedTotals(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-10"))
	x := r.Totals
	near(t, "units", x.Units, 15)
	near(t, "gross sales", x.GrossSales, 229) // 60 - 20 + 90 + 40 and 22 + 40 + 0 - 3
	near(t, "discounts", x.Discounts, 2)
	near(t, "net sales", x.NetSales, 227)
	near(t, "fees", x.Fees, 15.6)
	near(t, "cost of sales", x.CostOfSales, 147.3)
	near(t, "gross margin", x.GrossMargin, 79.7)
	near(t, "contribution", x.Contribution, 72.7)
	near(t, "booth fees, of October's Fair alone", x.BoothFees, 35)
	near(t, "overhead absorbed", x.OverheadAbsorbed, 11*0.6+4*0.5)
	near(t, "overhead", x.Overhead, 480)
	near(t, "stock differences", x.StockDifferences, 0)
	if r.Previous == nil || r.YearAgo != nil {
		t.Fatalf("last month is there: %v; the year before, without a sale: %v", r.Previous != nil, r.YearAgo != nil)
	}
	// September: 4 x 20 and 2 x 20, less 4 x 9.10 and 2 x 8.04
	near(t, "net sales of September", r.Previous.NetSales, 120)
	near(t, "gross margin of September", r.Previous.GrossMargin, 120-36.4-16.08)
}

// The margins per unit of September were 20 - 9.10 = 10.90 and 20 - 8.04 = 11.96.
func TestWorkedChange(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-10"))
	if len(r.Change) != 2 {
		t.Fatalf("%d rows", len(r.Change))
	}
	c, n := r.Change[0], r.Change[1]
	near(t, "volume of C", c.Volume, 7*10.9)
	near(t, "price of C", c.Price, 170-11*20)
	near(t, "cost of C", c.Cost, -11)
	near(t, "change of C", c.Total, 58.9-43.6)
	near(t, "volume of N", n.Volume, 2*11.96)
	near(t, "price of N", n.Price, 57-4*20)
	near(t, "cost of N", n.Cost, -4*1.01)
	near(t, "change of N", n.Total, 20.8-23.92)
	near(t, "quantity effect", r.QuantityEffect, 9*67.52/6)
	near(t, "mix effect", r.MixEffect, 7*10.9+2*11.96-9*67.52/6)
}

// Wholesale left out, C is 4 + 3 - 1 + 5 and N 2 + 1 + 2 + 1. The orders' net
// units are B1 4, the stall's 2, A1 3, A2 2, the Fair's 5, A3 1.
func TestWorkedSplit(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-10"))
	s := r.Split
	if s.From != on("2024-11-01") || s.To != on("2026-10-31") {
		t.Errorf("window %v to %v", s.From, s.To)
	}
	near(t, "colored", s.Overall.Colored, 11)
	near(t, "natural", s.Overall.Natural, 6)
	near(t, "ratio", s.Overall.Ratio, 11.0/6)
	near(t, "share", s.Overall.Share, 11.0/17)
	near(t, "effective size", s.Overall.NEff, 17.0*17/(16+4+9+4+25+1))
	low, high := wilsonRoots(11.0/17, 289.0/59)
	near(t, "lower bound", s.Overall.RatioLow, low/(1-low))
	near(t, "upper bound", s.Overall.RatioHigh, high/(1-high))
	near(t, "wholesale, colored", s.Wholesale.Colored, 4)
	near(t, "wholesale, natural", s.Wholesale.Natural, 0)
	if len(s.BySeason) != 1 || s.BySeason[0].Season != "Autumn" || s.BySeason[0].SeasonYear != 2026 || len(s.ByJar) != 1 || len(s.BySeasonAndJar) != 1 {
		t.Errorf("groups %+v, %+v", s.BySeason, s.ByJar)
	}
	if s.SeasonTest != nil || s.JarTest != nil {
		t.Error("a single group is tested")
	}
}

// Ann has C 3 - 1 and N 1, Bea N 2 + 1, Cid C 4.
func TestWorkedCustomers(t *testing.T) {
	s := costed(t, worked(t), monthOf("2026-10")).Split
	for _, x := range []struct {
		name                     string
		got                      CustomerGroup
		count, net, contribution float64
	}{
		{"both", s.Customers.Both, 1, 60, 60 - (8.4 - 2 + 2.8) - 2*9.5 - 8.55},
		{"natural only", s.Customers.NaturalOnly, 1, 37, 37 - 6.4 - 3*8.55},
		{"colored only", s.Customers.ColoredOnly, 1, 80, 80 - 11.2 - 4*8.5},
	} {
		near(t, x.name, x.got.Count, x.count)
		near(t, x.name+" net sales", x.got.NetSales, x.net)
		near(t, x.name+" contribution", x.got.Contribution, x.contribution)
	}
	// September's N 40 - 2 x 7.54 and October's 13.60, over 6 units; C without
	// the shop 34.80 + 59.10 - 2.00, over 11 units
	natural, colored := (40-15.08+13.6)/6, (34.8+59.1-2)/11
	near(t, "at risk", s.DropNatural.AtRisk, 4.95)
	near(t, "break-even switch", s.DropNatural.BreakEvenSwitch, natural/colored)
	// 11 x (dye 0.50 + 10 min / 10 units at 30 an hour)
	near(t, "saved", s.DropColor.Saved, 11)
	near(t, "break-even loss", s.DropColor.BreakEvenLoss, 11/91.9)
}

func TestWorkedUse(t *testing.T) {
	r := costed(t, worked(t), monthOf("2026-10"))
	if len(r.Use) != 3 {
		t.Fatalf("%d rows: %+v", len(r.Use), r.Use)
	}
	old, oil, dye := r.Use[0], r.Use[1], r.Use[2]
	if old.Season != "Autumn" || old.SeasonYear != 2024 || oil.SeasonYear != 2026 || oil.Material != "Fig" || dye.Material != "Red" {
		t.Errorf("rows %s %d, %s, %s", old.Season, old.SeasonYear, oil.Material, dye.Material)
	}
	near(t, "fragrance of 2024", old.Grams, 31.5625)
	// 15 colored and 6 natural units, the shop's too
	near(t, "fragrance", oil.Grams, 15*31.25+6*31.5625)
	near(t, "cost of fragrance", oil.Cost, 15*2+6*2.02)
	near(t, "fragrance per kilo of wax", oil.PerKilo(), 250)
	absent(t, "milliliters without a density", oil.ML)
	absent(t, "drops of a fragrance", oil.Drops)
	near(t, "dye", dye.Grams, 15*1.5625)
	near(t, "drops", dye.Drops, 15*1.5625*20)
	near(t, "milliliters at the default density", dye.ML, 15*1.5625/0.9)
	near(t, "cost of dye", dye.Cost, 7.5)
	near(t, "dye per kilo of wax", dye.PerKilo(), 12.5)
	near(t, "bottles", dye.Bottles, 15*1.5625/25)
}

func TestWorkedTwinsAndDecisions(t *testing.T) {
	b := worked(t)
	b.Settings.SetNum(book.TargetMargin, num(0.6))
	r := costed(t, b, monthOf("2026-10"))
	if len(r.Twins) != 1 {
		t.Fatalf("%d twins", len(r.Twins))
	}
	w := r.Twins[0]
	near(t, "dye", w.Dye, 0.5)
	near(t, "labor", w.Labor, 0.5)
	near(t, "overhead", w.Overhead, 0.1)
	near(t, "parts", w.Parts, -0.05) // less wax and fragrance
	near(t, "cost of color", w.Total, 1.05)
	decided(t, r, []asked{
		{"below-target", "C", 0.6*170 - (58.9 - 6.4)},
		{"heavy-fees", "Web", 15.6},                    // of 28.20 + 15.60 before fees
		{"dear-material", "Soy", 0.008 * (1375 + 505)}, // 11 x 125 g and 4 x 126.25 g
	})
	b.Settings.SetNum(book.TargetMargin, num(0.32)) // N lacks 0.32 x 57 - 11.60 = 6.64
	decided(t, costed(t, b, monthOf("2026-10")), []asked{
		{"heavy-fees", "Web", 15.6}, {"dear-material", "Soy", 15.04}, {"color-does-not-pay", "C", 1.05 * 11},
	})
}

// asked is a decision as a report asks for it.
type asked struct {
	code, subject string
	amount        float64
}

func decided(t *testing.T, r *Result, want []asked) {
	t.Helper()
	if len(r.Decisions) != len(want) {
		t.Fatalf("%d decisions", len(r.Decisions))
	}
	for i, x := range want {
		if d := r.Decisions[i]; d.Code != x.code || d.Subject != x.subject {
			t.Errorf("decision %d is %s of %s, want %s of %s", i, d.Code, d.Subject, x.code, x.subject)
		}
		near(t, x.code, r.Decisions[i].Amount, x.amount)
	}
}

// Sums of money read from the book are exact: a thousand lines of 0.1 are 100.
func TestSumsAreExact(t *testing.T) {
	b := twoProducts(t)
	for range 1000 {
		sell(t, b, sale{day: "2026-10-02", product: "N", qty: 1, price: at(0.1)})
	}
	if v, _ := costed(t, b, monthOf("2026-10")).Totals.NetSales.Value(); v != 100 {
		t.Errorf("net sales %v", v)
	}
	if v := money.Float(0.1).Float64(); v != 0.1 {
		t.Errorf("a tenth is %v", v)
	}
}
