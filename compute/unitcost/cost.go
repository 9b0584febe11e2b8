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

type costKey struct {
	minutesKey
	month day.Month
}

// Cost is the cost of one good unit of m in a month, in currency, every part
// of it given; nil where any part is unknown, and then a problem says why.
func (e *Engine) Cost(m Make, month day.Month) *Cost {
	if m.Parts != nil {
		return e.cost(m, month)
	}
	k := costKey{minutesKey{m.key(), m.Minutes}, month}
	c, ok := e.costs[k]
	if !ok {
		c = e.cost(m, month)
		e.costs[k] = c
	}
	return c
}

func (e *Engine) cost(m Make, month day.Month) *Cost {
	defer fault.In(m.at(), m.Label)
	c, on, labor := &Cost{}, month.String(), e.labor(m)
	of, parts := []string{m.Label, on}, make([]*calc.Figure, 0, len(book.Kinds)+2)
	for i, costs := range e.materialCosts(m, month) {
		k, f := book.Kinds[i], calc.Zero
		if len(costs) > 0 {
			f = calc.Add(costs...).Named("cost.part", string(k), m.Label, on)
		}
		*c.Kind(k) = f
		parts = append(parts, f)
	}
	c.Labor = labor.cost
	c.Overhead = calc.Mul(e.OverheadRate(month), labor.hours).Named("cost.overhead", of...)
	c.Total = calc.Add(append(parts, c.Labor, c.Overhead)...).Named("cost.unit", of...)
	if !c.Total.Known() {
		e.noCost(m, month, c.Total)
		return nil
	}
	c.Variable = calc.Sub(c.Total, c.Overhead).Named("cost.variable", of...)
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
