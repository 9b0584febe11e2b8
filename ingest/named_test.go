package ingest

import (
	"fmt"
	"slices"
	"testing"
)

const namedRows = "1001|2026-09-01|LAV-8-C|2|22|\n1002|2026-09-02|Lavender 8 natural|3|22|gift"

// soldUnder are sales whose headings could be something else, and what is said.
func soldUnder(t *testing.T, headings, rows string) (string, []string) {
	t.Helper()
	b := readBook(t, with("Sales", sheet{name: "Sales", rows: headings + "\n" + rows})...)
	read := ""
	for i := range b.Sales.Len() {
		s := b.Sales.At(i)
		read += fmt.Sprintf("%s x %s @ %s in %d; ", b.Products[s.Product].Code.V, s.Qty.String(), s.Price.String(), s.Order)
	}
	return read, found(b, "Sales")
}

// A column of names is no quantity, whatever its heading may mean; the heading
// that lost against it has its field. "Nr" is the order where another column is
// the quantity.
func TestNamesAreNoQuantity(t *testing.T) {
	const want = "LAV-8-C x 2 @ 22 in 1; LAV-8-N x 3 @ 22 in 2; "
	const product = "ambiguous-heading.names C1"
	for headings, note := range map[string]string{
		"Order no.|Day|Candle|Nr|Each|Remark":      product,
		"Order no.|Day|Candles|Number|Each|Remark": product,
		"Order no.|Day|Piece|Quantity|Each|Remark": product,
		"Nr|Day|Candle|How many|Each|Remark":       "",
		"Nr|Day|Candle|Qty|Each|Remark":            "",
		"No.|Day|Candle|Qty|Each|Remark":           "",
		"#|Day|Item|Quantity|Each|Remark":          "",
	} {
		got, told := soldUnder(t, headings, namedRows)
		if got != want || slices.Contains(told, product) != (note != "") {
			t.Errorf("%s: %s %v", headings, got, told)
		}
	}
}

// Beside another product the names are not read; amounts in words of money and
// words for none are no names.
func TestWhatIsNoNameStaysANumber(t *testing.T) {
	const want = "LAV-8-C x 2 @ 22 in 1; LAV-8-N x 3 @ 22 in 2; "
	got, told := soldUnder(t, "Order no.|Day|SKU|Nr|Each|Candles", "1001|2026-09-01|LAV-8-C|2|22|Lavender dyed\n1002|2026-09-02|LAV-8-N|3|22|Lavender plain")
	if got != want || slices.ContainsFunc(told, func(s string) bool { return s == "ambiguous-heading.names F1" }) {
		t.Error(got, told)
	}
	got, told = soldUnder(t, "Order no.|Day|SKU|Nr|Retail|Off", "1001|2026-09-01|LAV-8-C|2|USD 22|n/a\n1002|2026-09-02|LAV-8-N|3|USD 22|none")
	if got != want {
		t.Error(got, told)
	}
}
