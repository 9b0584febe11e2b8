package ingest

import (
	"fmt"
	"testing"

	"pourbook/compute/problem"
)

// A market that sales misspell is named once, with what plans miss; refunds
// are taken off, and the lines stand as they are.
func TestMarketsThatSalesMisspell(t *testing.T) {
	b := readBook(t, with("Sales", sheet{name: "Sales", rows: `
date|product|quantity|unit price|line total|market
2026-10-01|LAV-8-C|2|22||Fall Fair
2026-10-04|LAV-8-C|12||132|Fall Faire
2026-10-05|LAV-8-N|3|21||fall  faire
2026-10-05|LAV-8-N|1|-21||Fall Faire
2026-10-05|LAV-8-N|2||-42|FALL FAIRE
2026-10-06|LAV-8-N|1|21||Barn sale`})...)
	var got []string
	for _, p := range b.Problems.Sorted() {
		if p.Code == problem.UnknownMarket {
			got = append(got, fmt.Sprint(p.Severity, " ", p.Say, " ", p.At, " ", p.Args))
		}
	}
	want := []string{
		"warning near-sold Sales!F3 [name Fall Faire near Fall Fair lines 4 units 12]",
		"warning sold Sales!F7 [name Barn sale lines 1 units 1]",
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%q, want %q", got, want)
	}
	if b.Sales.Len() != 6 || b.SaleMarkets.At(b.Sales.At(1).Market) != "Fall Faire" {
		t.Errorf("%d sales, the second at %q", b.Sales.Len(), b.SaleMarkets.At(b.Sales.At(1).Market))
	}
}
