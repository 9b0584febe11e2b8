package cost

import (
	"cmp"
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
)

// most is how many decisions a report asks for.
const most = 3

// Bounds from which something is worth a decision.
const (
	feeBound   = 0.35 // of what is left after variable cost and before fees
	priceBound = 0.03 // change of a material's price
	useBound   = 0.05 // of the theoretical use
)

// decide finds what most needs a decision: of every kind what is worth most per
// month, then the rest, as many as a report asks for, and the largest amount
// first. A figure that is unknown asks for nothing.
func (r *run) decide() {
	kinds := [][]Decision{r.belowTarget(), r.heavyFees(), r.dearMaterials(), r.colorThatDoesNotPay(), r.runawayUse()}
	var first, rest []Decision
	for _, ds := range kinds {
		slices.SortStableFunc(ds, byAmount)
		if len(ds) > 0 {
			first, rest = append(first, ds[0]), append(rest, ds[1:]...)
		}
	}
	slices.SortStableFunc(first, byAmount)
	slices.SortStableFunc(rest, byAmount)
	all := append(first, rest...)
	r.res.Decisions = all[:min(most, len(all))]
	slices.SortStableFunc(r.res.Decisions, byAmount)
}

func byAmount(a, b Decision) int { return cmp.Compare(b.Amount.Or(0), a.Amount.Or(0)) }

// perMonth is an amount of the period by month.
func (r *run) perMonth(f *calc.Figure) *calc.Figure {
	n := float64(r.period.To.Month()-r.period.From.Month()) + 1
	if n == 1 {
		return f
	}
	return calc.Div(f, calc.Const(n))
}

func (r *run) decision(code, subject string, amount *calc.Figure, detail map[string]*calc.Figure) []Decision {
	v, ok := amount.Value()
	if !ok || v <= 0.005 {
		return nil
	}
	return []Decision{{Code: code, Subject: subject, Amount: r.perMonth(amount).Named("decision."+code, subject), Detail: detail}}
}

// belowTarget are products whose margin after fees is below the target: what
// they would have earned more at it.
func (r *run) belowTarget() []Decision {
	var out []Decision
	target := r.engine.Setting(book.TargetMargin)
	for _, p := range r.res.Products {
		if p.NetSales.Or(0) <= 0 {
			continue
		}
		kept := calc.Sub(p.GrossMargin, p.Fees)
		missing := calc.Sub(calc.Mul(target, p.NetSales), kept)
		out = append(out, r.decision("below-target", p.Product, missing, map[string]*calc.Figure{"margin": calc.Div(kept, p.NetSales), "target": target})...)
	}
	return out
}

// heavyFees are channels whose fees take more than a third of what they leave.
func (r *run) heavyFees() []Decision {
	var out []Decision
	for _, c := range r.res.Channels {
		before := calc.Add(c.Contribution, c.Fees)
		share := calc.Div(c.Fees, before)
		if v, ok := before.Value(); !ok || v > 0 && share.Or(0) < feeBound || c.Fees.Or(0) <= 0 {
			continue
		}
		out = append(out, r.decision("heavy-fees", c.Channel, c.Fees, map[string]*calc.Figure{"share": share})...)
	}
	return out
}

// dearMaterials are materials whose price moved up since the month before the
// period: what the period's use costs more.
func (r *run) dearMaterials() []Decision {
	var out []Decision
	for _, s := range r.res.Stock {
		moved := calc.Sub(s.Price, s.PriceBefore)
		share := calc.Div(moved, s.PriceBefore)
		if share.Or(0) >= priceBound {
			out = append(out, r.decision("dear-material", s.Item, calc.Mul(moved, s.Used), map[string]*calc.Figure{"share": share})...)
		}
	}
	return out
}

// colorThatDoesNotPay are colored products that cost more than their natural
// twin by more than their price is higher.
func (r *run) colorThatDoesNotPay() []Decision {
	var out []Decision
	for _, t := range r.res.Twins {
		dearer := calc.Sub(t.Colored.ListPrice, t.Natural.ListPrice)
		lost := calc.Sub(t.Total, dearer)
		if lost.Or(0) > 0 && t.Colored.Units.Or(0) > 0 {
			out = append(out, r.decision("color-does-not-pay", t.Colored.Product, calc.Mul(lost, t.Colored.Units),
				map[string]*calc.Figure{"cost": t.Total, "price": dearer})...)
		}
	}
	return out
}

// runawayUse are materials of which more went than the recipes say.
func (r *run) runawayUse() []Decision {
	var out []Decision
	for _, s := range r.res.Stock {
		value := calc.Sub(calc.Mul(s.ActualUse, s.Price), s.UsageVariance)
		share := calc.Div(s.UsageVariance, value)
		if v, ok := share.Value(); ok && math.Abs(v) >= useBound {
			out = append(out, r.decision("runaway-use", s.Item, s.UsageVariance, map[string]*calc.Figure{"share": share})...)
		}
	}
	return out
}
