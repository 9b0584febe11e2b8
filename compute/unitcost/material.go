package unitcost

import (
	"strconv"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// stuff is what the engine keeps of a material.
type stuff struct {
	mat          *book.Material
	dens         *calc.Figure
	dropsPerGram *calc.Figure
	own          *calc.Figure // price of the Materials rows
	buys         []buy
	counts       []tally
	changes      changes // of its price
	roll         *roll
}

func (e *Engine) stuff(m *book.Material) *stuff {
	s, ok := e.materials[m]
	if !ok {
		s = &stuff{mat: m}
		e.materials[m] = s
	}
	return s
}

// DensityOf is a material's density in g/mL, for a dye without one the
// setting's; unknown without either.
func (e *Engine) DensityOf(m *book.Material) *calc.Figure {
	s := e.stuff(m)
	if s.dens == nil {
		switch {
		case m.Density.State != cell.Blank:
			s.dens = e.in(m.Density, "material.density", m.Name.V)
		case m.Kind == book.Dye:
			s.dens = e.Setting(book.DyeDensity)
		default:
			s.dens = calc.Unknown("material.density", m.Name.V)
		}
	}
	return s.dens
}

// stake is the cell that needs a conversion, and the money that stands on it.
// Without a cell it is the material's own.
type stake struct {
	at     cell.Ref
	amount float64
}

func (k stake) problem(code problem.Code, say string, m *book.Material) problem.Problem {
	return problem.Problem{
		Severity: problem.Error, Code: code, Say: say, At: place(k.at, m.Name.At), Other: m.Name.At,
		Args: []any{"material", m.Name.V}, Amount: k.amount, HasAmount: k.amount != 0,
	}
}

// density is DensityOf with a problem at a place that needs it and has none.
func (e *Engine) density(m *book.Material, needs stake) *calc.Figure {
	d := e.DensityOf(m)
	if !d.Known() && m.Density.State == cell.Blank {
		e.raise(needs.problem(problem.NoDensity, "", m), m.Name.V)
	}
	return d
}

// DropsPerGram is how many drops of a material weigh a gram: as given, else
// drops per mL / density.
func (e *Engine) DropsPerGram(m *book.Material) *calc.Figure {
	s := e.stuff(m)
	if s.dropsPerGram != nil {
		return s.dropsPerGram
	}
	perGram, perML, _ := e.Book.Dosing(m)
	switch {
	case perGram.State != cell.Blank:
		s.dropsPerGram = e.in(perGram, "material.drops-per-gram", m.Name.V)
	case m.DropsPerML.State == cell.Blank:
		s.dropsPerGram = calc.Div(e.Setting(book.DropsPerML), e.density(m, stake{})).Named("material.drops-in-gram", m.Name.V)
	default:
		s.dropsPerGram = calc.Div(e.in(perML, "material.drops-per-ml", m.Name.V), e.density(m, stake{})).
			Named("material.drops-in-gram", m.Name.V)
	}
	return s.dropsPerGram
}

// convert turns a quantity in base units of a dimension into the material's
// own, with a problem where that cannot be done. Without a dimension it is in
// the material's own already.
func (e *Engine) convert(q *calc.Figure, from unit.Dimension, m *book.Material, needs stake) *calc.Figure {
	switch {
	case from == m.Dim, from == unit.None:
		return q
	case from == unit.Mass && m.Dim == unit.Volume:
		return calc.Div(q, e.density(m, needs))
	case from == unit.Volume && m.Dim == unit.Mass:
		return calc.Mul(q, e.density(m, needs))
	case from == unit.Drops:
		return e.convert(calc.Div(q, e.DropsPerGram(m)), unit.Mass, m, needs)
	}
	p := needs.problem(problem.BadUnit, "material", m)
	p.Args = append(p.Args, "unit", from.String(), "own", m.Dim.String())
	e.raise(p, m.Name.V)
	return calc.Unknown("material.converted", m.Name.V)
}

// percent is a fraction as words show it, such as "12.5 %".
func percent(v float64) string { return strconv.FormatFloat(v*100, 'f', 1, 64) + " %" }
