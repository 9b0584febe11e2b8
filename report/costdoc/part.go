package costdoc

import (
	"pourbook/compute/calc"
	"pourbook/compute/unitcost"
)

// PartNames are the parts that a unit cost is shown in, as many as a chart has
// fills that survive one-bit print.
func PartNames() []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = text("cost.part." + p.key)
	}
	return out
}

// Parts are the parts of a unit cost, in the order of PartNames.
func Parts(u *unitcost.Cost) []*calc.Figure {
	out := make([]*calc.Figure, len(parts))
	for i, p := range parts {
		out[i] = calc.Add(p.of(u)...)
	}
	return out
}

// parts put what is bought together, and small, into one part.
var parts = []struct {
	key string
	of  func(*unitcost.Cost) []*calc.Figure
}{
	{"wax", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Wax} }},
	{"fragrance", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Fragrance} }},
	{"dye", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Dye, u.Additive} }},
	{"wick", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Wick} }},
	{"jar", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Jar, u.Lid} }},
	{"packaging", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Label, u.Packaging, u.Other} }},
	{"labor", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Labor} }},
	{"overhead", func(u *unitcost.Cost) []*calc.Figure { return []*calc.Figure{u.Overhead} }},
}
