package plan

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/plan/bench"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// orders lists what to take from stock and what to buy.
func (r *run) orders() {
	for _, m := range r.mats {
		need := r.grossNeed(m)
		v, ok := need.Value()
		if !ok || v <= 0 {
			continue
		}
		has := r.heldFigure(m)
		if held(m) > 0 {
			r.res.Pull = append(r.res.Pull, Pull{
				Item: m.Name.V, Quantity: calc.Min(need, has).Named("plan.pull", m.Name.V),
				Unit: m.Dim.String(), OnHand: has, Material: m,
			})
		}
		if v > held(m)*(1+1e-9) {
			r.res.Buy = append(r.res.Buy, r.buy(m, need, has))
		}
	}
	r.pullProducts()
	r.pullByDay()
}

// grossNeed is what all pours take of a material.
func (r *run) grossNeed(m *book.Material) *calc.Figure {
	var sum []*calc.Figure
	for _, p := range r.pours {
		for _, t := range p.takes {
			if t.Of == m {
				sum = append(sum, t.Quantity)
			}
		}
	}
	return calc.Add(sum...).Named("plan.need", m.Name.V)
}

// heldFigure is what is on hand of a material.
func (r *run) heldFigure(m *book.Material) *calc.Figure {
	if held(m) == 0 {
		return calc.Zero
	}
	return calc.In(m.OnHand, "plan.on-hand", m.Name.V)
}

// buy is the packs that cover what is not on hand, and the day to order them by.
func (r *run) buy(m *book.Material, need, has *calc.Figure) Buy {
	defer fault.In(m.Name.At, m.Name.V)
	b := Buy{Material: m.Name.V, Supplier: m.Supplier.V, Need: need, Unit: m.Dim.String(), OnHand: has, Of: m, Packs: []Pack{}, OrderBy: day.None}
	var sizes []bench.Size
	var packs []Pack
	for _, p := range m.Packs {
		f, price := r.packSize(m, p), calc.In(number(p.Price), "plan.pack-price", m.Name.V)
		if p.Freight.V.Sign() != 0 {
			price = calc.Add(price, calc.In(number(p.Freight), "plan.pack-freight", m.Name.V))
		}
		if f.Known() && price.Known() {
			sizes = append(sizes, bench.Size{Units: f.Or(0), Price: price.Or(0)})
			packs = append(packs, Pack{Size: f, Price: price.Named("plan.pack-landed", m.Name.V)})
		}
	}
	var cost []*calc.Figure
	for i, n := range bench.Cover(need.Or(0)-has.Or(0), sizes) {
		if n > 0 {
			packs[i].Count = n
			b.Packs = append(b.Packs, packs[i])
			cost = append(cost, calc.Mul(calc.Const(float64(n)), packs[i].Price))
		}
	}
	if len(cost) > 0 {
		b.Cost = calc.Add(cost...).Named("plan.buy-cost", m.Name.V)
	} else {
		r.problem(problem.Error, problem.MissingField, "pack", m.Name.At, "material", m.Name.V)
	}
	b.OrderBy = r.orderBy(m)
	b.Late = b.OrderBy != day.None && b.OrderBy < r.opts.Today
	return b
}

// packSize is a pack size in the material's own base unit; unknown where a
// density is missing.
func (r *run) packSize(m *book.Material, p book.Pack) *calc.Figure {
	f := calc.In(p.Size, "plan.pack-size", m.Name.V)
	switch {
	case p.Dim == m.Dim || p.Dim == unit.None:
		return f
	case p.Dim == unit.Mass && m.Dim == unit.Volume:
		return calc.Div(f, r.engine.DensityOf(m))
	case p.Dim == unit.Volume && m.Dim == unit.Mass:
		return calc.Mul(f, r.engine.DensityOf(m))
	}
	return nil
}

// orderBy is the lead days before the first pour that the stock on hand does
// not cover.
func (r *run) orderBy(m *book.Material) day.Date {
	left := held(m) * (1 + 1e-9)
	for _, p := range r.pours {
		for _, t := range p.takes {
			if t.Of != m {
				continue
			}
			if left -= t.Quantity.Or(0); left < 0 {
				return p.Day - leadDays(m)
			}
		}
	}
	return day.None
}

// pullProducts lists what to bring of what is on hand.
func (r *run) pullProducts() {
	bring := map[*book.Product]int{}
	for _, o := range r.outings {
		for _, d := range o.demand {
			bring[d.Of] += min(d.Bring, d.OnHand)
		}
	}
	for _, p := range r.book.Products {
		if n := bring[p]; n > 0 {
			r.res.Pull = append(r.res.Pull, Pull{
				Item: p.Code.V, Quantity: calc.Const(float64(n)), Unit: unit.Count.String(),
				OnHand: calc.In(p.OnHand, "plan.product-on-hand", p.Code.V), Product: p,
			})
		}
	}
}

// pullByDay lists what each day's pours take; OnHand is what of it comes from
// the stock on hand, the rest from what has been ordered.
func (r *run) pullByDay() {
	left := map[*book.Material]float64{}
	for _, m := range r.mats {
		left[m] = held(m)
	}
	for i := range r.res.Days {
		d := &r.res.Days[i]
		for _, m := range r.mats {
			var sum []*calc.Figure
			for _, p := range r.pours {
				at := slices.IndexFunc(p.takes, func(t Take) bool { return t.Of == m })
				if p.Day == d.Day && at >= 0 {
					sum = append(sum, p.takes[at].Quantity)
				}
			}
			if len(sum) == 0 {
				continue
			}
			quantity := calc.Add(sum...).Named("plan.day-takes", m.Name.V, d.Day.String())
			have := min(left[m], quantity.Or(0))
			left[m] -= have
			d.Pull = append(d.Pull, Pull{Item: m.Name.V, Quantity: quantity, Unit: m.Dim.String(), OnHand: calc.Const(have), Material: m})
		}
	}
}
