package check

import (
	"fmt"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/money"
)

// What the lines without a channel came to is their positive net.
func TestNowhereIsWorth(t *testing.T) {
	b := sold(10)
	for i, price := range map[int]float64{2: 20, 4: 5.5, 6: -20} {
		mend(b, i, func(s *book.Sale) { s.Channel, s.Price = -1, money.Float(price) })
	}
	found := Domain(b, today)
	for _, p := range found.Sorted() {
		if p.Say == "no-channel" {
			if got := fmt.Sprint(p.Args...); got != fmt.Sprint("amount", "51.00", "n", 2) {
				t.Errorf("%s", got)
			}
			return
		}
	}
	t.Error("nothing said")
}
