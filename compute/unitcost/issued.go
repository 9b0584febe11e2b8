package unitcost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/unit"
)

// Issue is what one good unit takes of a material, losses included.
type Issue struct {
	Material *book.Material
	// Quantity is in the base unit of the material's own dimension.
	Quantity *calc.Figure
	// Grams is the weight of an ingredient; nil for parts.
	Grams *calc.Figure
	// Drops is exact, of an ingredient given in drops; nil for any other.
	Drops *calc.Figure
}

// Issued is what one good unit of m takes, one entry per material: ingredients
// in the order of the recipe, then parts. A quantity that cannot be computed is
// unknown, and a problem says why.
func (e *Engine) Issued(m Make) []Issue {
	if m.Parts != nil {
		return e.issue(m)
	}
	k := m.key()
	out, ok := e.issues[k]
	if !ok {
		out = e.issue(m)
		e.issues[k] = out
	}
	return out
}

func (e *Engine) issue(m Make) []Issue {
	c, _ := e.Content(m)
	var out []Issue
	at := map[*book.Material]int{}
	for _, i := range c.Items {
		name := i.Material.Name.V
		g := calc.Div(calc.Div(i.Grams, e.filled), e.good).Named("unit.issued-grams", name, m.Label)
		x := Issue{Material: i.Material, Quantity: g, Grams: g}
		if i.Material.Dim != unit.Mass {
			x.Quantity = e.convert(g, unit.Mass, i.Material, stake{}).Named("unit.issued", name, m.Label)
		}
		if i.Drops != nil {
			x.Drops = calc.Div(calc.Div(i.Drops, e.filled), e.good).Named("unit.issued-drops", name, m.Label)
		}
		at[i.Material] = len(out)
		out = append(out, x)
	}
	for _, p := range c.Parts {
		q := calc.Div(p.Quantity, e.good)
		if i, twice := at[p.Material]; twice {
			out[i].Quantity = calc.Add(out[i].Quantity, q).Named("unit.issued", p.Material.Name.V, m.Label)
			continue
		}
		out = append(out, Issue{Material: p.Material, Quantity: q.Named("unit.issued", p.Material.Name.V, m.Label)})
	}
	return out
}
