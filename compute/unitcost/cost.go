package unitcost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
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
	byKind := e.materialCosts(m, month)
	c := &Cost{}
	parts := make([]*calc.Figure, 0, len(book.Kinds)+2)
	for _, k := range book.Kinds {
		f := calc.Zero
		if len(byKind[k]) > 0 {
			f = calc.Add(byKind[k]...).Named("cost.part", string(k), m.Label, month.String())
		}
		*c.Kind(k) = f
		parts = append(parts, f)
	}
	hours := calc.Div(e.LaborMinutes(m), calc.Const(60))
	c.Labor = calc.Mul(hours, e.Setting(book.LaborRate)).Named("cost.labor", m.Label)
	c.Overhead = calc.Mul(e.OverheadRate(month), hours).Named("cost.overhead", m.Label, month.String())
	c.Total = calc.Add(append(parts, c.Labor, c.Overhead)...).Named("cost.unit", m.Label, month.String())
	if !c.Total.Known() {
		e.noCost(m, c.Total)
		return nil
	}
	c.Variable = calc.Sub(c.Total, c.Overhead).Named("cost.variable", m.Label, month.String())
	return c
}

// materialCosts are what one good unit takes, at the month's prices, by kind.
func (e *Engine) materialCosts(m Make, month day.Month) map[book.Kind][]*calc.Figure {
	out := map[book.Kind][]*calc.Figure{}
	for _, i := range e.Issued(m) {
		k := i.Material.Kind
		out[k] = append(out[k], calc.Mul(i.Quantity, e.Price(i.Material, month)))
	}
	for _, k := range book.Kinds {
		if f, ok := m.Parts[k]; ok {
			out[k] = append(out[k], calc.Div(f, e.good))
		}
	}
	return out
}

// noCost says that a unit has no cost, and which cell that rests on.
func (e *Engine) noCost(m Make, total *calc.Figure) {
	at := m.Recipe.Name.At
	if m.Product != nil {
		at = place(m.Product.Code.At, at)
	}
	e.raise(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "unit-cost", At: at, Other: firstUnknown(total),
		Args: []any{"product", m.Label}}, m.Label)
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
