package price

import (
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unitcost"
)

// findJar takes the jar from the book, or makes it from the options.
func (r *run) findJar() error {
	o := r.opts
	i := slices.IndexFunc(r.book.Jars, func(j *book.Jar) bool { return cell.Fold(j.Name.V) == cell.Fold(o.Jar) })
	sized := o.Fill.OK() || o.Capacity.OK() && o.Filled.OK()
	switch {
	case i >= 0 && !sized && len(o.Parts) == 0:
		r.jar = r.book.Jars[i]
		r.needWick()
		return nil
	case i >= 0:
		copied := *r.book.Jars[i]
		r.jar = &copied
	case !sized:
		r.unknown(problem.UnknownJar, o.Jar)
		return ErrJar
	default:
		r.jar = &book.Jar{Name: cell.Text{V: o.Jar, State: cell.Typed}}
	}
	if sized {
		r.jar.Fill, r.jar.Capacity, r.jar.FillPercent = o.Fill, o.Capacity, o.Filled
	}
	r.isNew = true
	if i < 0 || len(o.Parts) > 0 {
		r.takeParts()
	} else {
		r.needWick()
	}
	return nil
}

// needWick warns of a jar of the book without a wick among its parts.
func (r *run) needWick() {
	if !slices.ContainsFunc(r.jar.Parts, func(p book.Part) bool { return p.Material.Kind == book.Wick }) {
		r.warn(problem.MissingField, "wick-part", r.jar.Name.At, "jar", r.jar.Name.V)
	}
}

func (r *run) warn(code problem.Code, say string, at cell.Ref, args ...any) {
	r.res.Problems.Add(problem.Problem{Severity: problem.Warning, Code: code, Say: say, At: at, Args: args})
}

// takeParts adds up the parts of the command line by kind.
func (r *run) takeParts() {
	r.parts = map[book.Kind]*calc.Figure{}
	for _, p := range r.opts.Parts {
		k := r.kindOf(p.Name)
		cost := calc.In(p.Cost, "part", p.Name)
		if have, ok := r.parts[k]; ok {
			cost = calc.Add(have, cost)
		}
		r.parts[k] = cost
	}
	if _, ok := r.parts[book.Wick]; !ok {
		r.warn(problem.MissingField, "wick", cell.Ref{}, "jar", r.jar.Name.V)
	}
}

// kindOf is the kind that a part's name names: a kind, or a material of the
// book, else other.
func (r *run) kindOf(name string) book.Kind {
	for _, k := range book.Kinds {
		if cell.Fold(string(k)) == cell.Fold(name) {
			return k
		}
	}
	for _, m := range r.book.Materials {
		if cell.Fold(m.Name.V) == cell.Fold(name) {
			return m.Kind
		}
	}
	return book.Other
}

// make is what a candle of a recipe and finish in the jar is made of.
func (r *run) make(recipe *book.Recipe, jar *book.Jar, finish book.Finish) unitcost.Make {
	m := unitcost.Make{Recipe: recipe, Jar: jar, Finish: finish, Label: recipe.Name.V + ", " + string(finish)}
	if r.opts.compared {
		m.Label += ", " + jar.Name.V
	}
	if jar == r.jar {
		m.Parts = r.parts
	}
	for _, p := range r.book.Products {
		if p.Recipe == recipe && p.Jar == jar && p.Finish == finish && p.Minutes.State != cell.Blank {
			m.Minutes = calc.In(p.Minutes, "minutes", p.Code.V)
			break
		}
	}
	return m
}

// nearest is the existing jar whose fill is nearest to the new one's, which
// must itself have a product of that recipe and finish where one is asked for.
func (r *run) nearest(fill *calc.Figure, of func(*book.Product) bool) *book.Jar {
	want, ok := fill.Value()
	if !ok {
		return nil
	}
	var best *book.Jar
	far := math.Inf(1)
	for _, p := range r.book.Products {
		if cell.Fold(p.Jar.Name.V) == cell.Fold(r.jar.Name.V) || !of(p) {
			continue
		}
		v, ok := r.fill(p.Recipe, p.Jar, p.Finish).Value()
		if d := math.Abs(v - want); ok && d < far {
			far, best = d, p.Jar
		}
	}
	return best
}

// fill is the weight that is poured into a jar, in g.
func (r *run) fill(recipe *book.Recipe, jar *book.Jar, finish book.Finish) *calc.Figure {
	return r.engine.Fill(r.make(recipe, jar, finish))
}
