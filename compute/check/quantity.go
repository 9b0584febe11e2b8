package check

import (
	"math"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// quantities warns of pieces and packs in numbers as long as a phone number.
func (u *unusual) quantities() {
	var odd []finding
	add := func(v float64, of string, at cell.Ref) {
		if math.Abs(v) >= longNumber {
			odd = append(odd, warning(problem.BadNumber, "quantity", at, "read", money.Float(v).String(), "of", of))
		}
	}
	used := func(d day.Date, q cell.Num) bool { return d <= u.upTo && q.OK() }
	for _, x := range u.lines.long {
		add(x.units, u.book.Products[x.product].Code.V, u.place(book.TSales, u.lines.place(x.at), "quantity"))
	}
	for _, p := range u.book.Purchases {
		if used(p.Day, p.Qty) && p.Pack > 0 {
			add(p.Qty.V/p.Pack, p.Material.Name.V, p.Qty.At)
		}
	}
	for _, p := range u.book.Pours {
		if used(p.Day, p.Units) {
			add(p.Units.V, p.Product.Code.V, p.Units.At)
		}
	}
	for _, c := range u.book.Counts {
		switch {
		case !used(c.Day, c.Qty) || c.Dim != unit.Count:
		case c.Product != nil:
			add(c.Qty.V, c.Product.Code.V, c.Qty.At)
		default:
			add(c.Qty.V, c.Material.Name.V, c.Qty.At)
		}
	}
	for _, p := range u.book.Products {
		add(p.OnHand.V, p.Code.V, p.OnHand.At)
	}
	for _, m := range u.book.Markets {
		add(m.Expected.V, m.Name.V, m.Expected.At)
	}
	u.say(odd)
}
