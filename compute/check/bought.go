package check

import (
	"cmp"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// measured is a material in a dimension: what is bought by weight and what is
// bought by volume are not compared.
type measured struct {
	material *book.Material
	dim      unit.Dimension
}

// bought is a purchase that cost something; price is the amount paid per base unit.
type bought struct {
	*book.Purchase
	price float64
	odd   bool
}

// purchases holds what was paid per unit against the material's median, and
// against the purchase before of the same pack. A slip is said once: what is
// far from the median is not compared with its neighbors, and neither is the
// return to the price before a slip.
func (u *unusual) purchases() {
	byMaterial := map[measured][]bought{}
	var order []measured
	for i := range u.book.Purchases {
		p := &u.book.Purchases[i]
		if p.Day > u.upTo || !p.Qty.OK() || !p.Paid.OK() || p.Qty.V <= 0 || p.Paid.V.Sign() <= 0 || p.Pack > 0 && p.Qty.V/p.Pack >= longNumber {
			continue
		}
		k := measured{p.Material, p.Dim}
		if byMaterial[k] == nil {
			order = append(order, k)
		}
		byMaterial[k] = append(byMaterial[k], bought{Purchase: p, price: p.Paid.V.Float64() / p.Qty.V})
	}
	var high, low, up, down []finding
	for _, k := range order {
		all := byMaterial[k]
		slices.SortStableFunc(all, func(a, b bought) int { return cmp.Compare(a.Day, b.Day) })
		h, l := u.farFromMedian(all)
		high, low = append(high, h...), append(low, l...)
		a, b := u.packChanges(all)
		up, down = append(up, a...), append(down, b...)
	}
	u.say(high)
	u.say(low)
	u.say(up)
	u.say(down)
}

// slack is what a quotient of typed numbers may be off by.
const slack = 1e-9

func (u *unusual) farFromMedian(all []bought) (high, low []finding) {
	prices := make([]weighed, len(all))
	for i, x := range all {
		prices[i] = weighed{x.price, 1}
	}
	usual, n := median(prices)
	if n < fewest {
		return nil, nil
	}
	for i, x := range all {
		times := x.price / usual
		at := warning(problem.UnusualFigure, "purchase-price", x.Paid.At, "material", x.Material.Name.V, "paid", u.amount(x.Paid.V.Float64()),
			"times", tenths(times), "usual", u.amount(usual*x.Qty.V))
		switch {
		case times >= farPrice*(1-slack):
			high = append(high, at)
		case times <= (1+slack)/farPrice:
			at.Say = "purchase-price-low"
			low = append(low, at)
		default:
			continue
		}
		all[i].odd = true
	}
	return high, low
}

// packChanges compares purchases of a pack with the one before.
func (u *unusual) packChanges(all []bought) (up, down []finding) {
	type trail struct{ last, sound bought }
	trails := map[int64]*trail{}
	for _, x := range all {
		if x.odd {
			continue
		}
		k := int64(math.Round(packOf(x.Purchase) * 1000))
		t := trails[k]
		if t == nil {
			trails[k] = &trail{x, x}
			continue
		}
		times := x.price / t.last.price
		x.odd = changed(times) && (!t.last.odd || changed(x.price/t.sound.price))
		if x.odd {
			f := warning(problem.UnusualFigure, "pack-price", x.Paid.At, "material", x.Material.Name.V, "times", tenths(times), "percent", tenths(times*100))
			f.Other = t.last.Paid.At
			if times > 1 {
				up = append(up, f)
			} else {
				f.Say = "pack-price-low"
				down = append(down, f)
			}
		} else {
			t.sound = x
		}
		t.last = x
	}
	return up, down
}

func changed(times float64) bool {
	return times > packChange*(1+slack) || times < (1-slack)/packChange
}

// packOf is the size of the pack in which a purchase was made: as it says, else
// the largest of the material's packs that makes up the quantity, else all of it.
func packOf(p *book.Purchase) float64 {
	if p.Pack > 0 {
		return p.Pack
	}
	best := 0.0
	for _, x := range p.Material.Packs {
		if !x.Size.OK() || x.Dim != p.Dim || x.Size.V <= best {
			continue
		}
		if n := p.Qty.V / x.Size.V; math.Round(n) >= 1 && math.Abs(n-math.Round(n)) < 1e-6 {
			best = x.Size.V
		}
	}
	if best > 0 {
		return best
	}
	return p.Qty.V
}
