package unitcost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
)

// cost is what a unit costs in a month, the same since a change.
func (e *Engine) cost(m Make, month, since day.Month) *Cost {
	defer fault.In(m.at(), m.Label)
	c, labor, parts := &Cost{}, e.labor(m), make([]*calc.Figure, 0, len(book.Kinds)+2)
	for i, costs := range e.materialCosts(m, month) {
		k, f := book.Kinds[i], calc.Zero
		if len(costs) > 0 {
			f = asOf(calc.Add(costs...), since, "cost.part", string(k), m.Label)
		}
		*c.Kind(k) = f
		parts = append(parts, f)
	}
	c.Labor = labor.cost
	c.Overhead = asOf(calc.Mul(e.OverheadRate(month), labor.hours), since, "cost.overhead", m.Label)
	c.Total = asOf(calc.Add(append(parts, c.Labor, c.Overhead)...), since, "cost.unit", m.Label)
	if !c.Total.Known() {
		e.noCost(m, month, c.Total)
		return nil
	}
	c.Variable = asOf(calc.Sub(c.Total, c.Overhead), since, "cost.variable", m.Label)
	return c
}

// materialCosts are what one good unit takes, at the month's prices, in the
// order of book.Kinds; a kind of none of them is the last, other.
func (e *Engine) materialCosts(m Make, month day.Month) [][]*calc.Figure {
	out := make([][]*calc.Figure, len(book.Kinds))
	for _, i := range e.Issued(m) {
		k := slices.Index(book.Kinds, i.Material.Kind)
		if k < 0 {
			k = len(book.Kinds) - 1
		}
		out[k] = append(out[k], calc.Mul(i.Quantity, e.Price(i.Material, month)))
	}
	for i, k := range book.Kinds {
		if f, ok := m.Parts[k]; ok {
			out[i] = append(out[i], calc.Div(f, e.good))
		}
	}
	return out
}

// noCost says once for a unit that it has no cost, in which month that was met
// first, and which cell it rests on.
func (e *Engine) noCost(m Make, month day.Month, total *calc.Figure) {
	e.raise(problem.Problem{
		Severity: problem.Error, Code: problem.MissingField, Say: "unit-cost", At: m.at(), Other: firstUnknown(total),
		Args: []any{"product", m.Label, "month", month.String()},
	}, m.Label)
}

// firstUnknown is the place of the first leaf without a value; none when it has no cell.
func firstUnknown(f *calc.Figure) cell.Ref {
	var at cell.Ref
	f.Walk(func(n *calc.Figure) bool {
		if n.Kind() == calc.Input && !n.Known() && at.None() {
			at = n.From().At
		}
		return !n.Known() && at.None()
	})
	return at
}
