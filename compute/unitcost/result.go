// Package unitcost computes what is in one unit of a product and what it costs:
// the ingredients' weights, what a material costs in a month, labor and overhead.
package unitcost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
)

// Cost is the cost of one good unit by part, in currency.
type Cost struct {
	Wax       *calc.Figure `json:"wax,omitzero"`
	Fragrance *calc.Figure `json:"fragrance,omitzero"`
	Dye       *calc.Figure `json:"dye,omitzero"`
	Additive  *calc.Figure `json:"additive,omitzero"`
	Wick      *calc.Figure `json:"wick,omitzero"`
	Jar       *calc.Figure `json:"jar,omitzero"`
	Lid       *calc.Figure `json:"lid,omitzero"`
	Label     *calc.Figure `json:"label,omitzero"`
	Packaging *calc.Figure `json:"packaging,omitzero"`
	Other     *calc.Figure `json:"other,omitzero"`
	Labor     *calc.Figure `json:"labor,omitzero"`
	Overhead  *calc.Figure `json:"overhead,omitzero"`
	Total     *calc.Figure `json:"total,omitzero"`
	Variable  *calc.Figure `json:"variable,omitzero"`
}

// Kind is a pointer to the part of a kind of material.
func (u *Cost) Kind(k book.Kind) **calc.Figure {
	switch k {
	case book.Wax:
		return &u.Wax
	case book.Fragrance:
		return &u.Fragrance
	case book.Dye:
		return &u.Dye
	case book.Additive:
		return &u.Additive
	case book.Wick:
		return &u.Wick
	case book.JarKind:
		return &u.Jar
	case book.Lid:
		return &u.Lid
	case book.Label:
		return &u.Label
	case book.Packaging:
		return &u.Packaging
	}
	return &u.Other
}

// Grams is what is in the jar, in g per unit.
type Grams struct {
	Wax       *calc.Figure `json:"wax,omitzero"`
	Fragrance *calc.Figure `json:"fragrance,omitzero"`
	Dye       *calc.Figure `json:"dye,omitzero"`
	Additive  *calc.Figure `json:"additive,omitzero"`
}
