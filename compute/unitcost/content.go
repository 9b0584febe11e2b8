package unitcost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
)

// Content is what is in one unit as it leaves the bench, without losses.
type Content struct {
	// Fill is the blend in the jar, Wax the waxes in it, in g.
	Fill *calc.Figure
	Wax  *calc.Figure
	// Items are the ingredients, one per material, in the order of the recipe.
	Items []Item
	// Grams is the weight by kind; Drops the exact drops of dyes that the recipe
	// gives in drops, 0 without one.
	Grams Grams
	Drops *calc.Figure
	// Parts are the jar and what goes with it, one per material, in the order
	// of the jar's rows; none for a Make that brings its own.
	Parts []Piece
}

// Item is an ingredient of one unit.
type Item struct {
	Ingredient
	Grams *calc.Figure
	Drops *calc.Figure // exact; nil when the recipe does not give drops
}

// Piece is a part of one unit, in the base unit of the material's own dimension.
type Piece struct {
	Material *book.Material
	Quantity *calc.Figure
}

// Content is what is in one unit of m; false where any of it is unknown, and
// then a problem says why.
func (e *Engine) Content(m Make) (*Content, bool) {
	k := m.key()
	c, ok := e.contents[k]
	if !ok {
		c = e.fill(m)
		e.contents[k] = c
	}
	if m.Parts != nil {
		own := *c
		own.Parts = nil
		c = &own
	}
	return c, c.known()
}

func (c *Content) known() bool {
	for _, p := range c.Parts {
		if !p.Quantity.Known() {
			return false
		}
	}
	for _, i := range c.Items {
		if !i.Grams.Known() {
			return false
		}
	}
	return c.Fill.Known() && c.Wax.Known() && len(c.Items) > 0
}

func (e *Engine) fill(m Make) *Content {
	defer fault.In(m.at(), m.Label)
	b := e.blend(m.Recipe, m.Finish)
	c := &Content{Fill: e.Fill(m)}
	c.Wax = calc.Mul(c.Fill, b.wax).Named("unit.wax", m.Label)
	byKind := map[book.Kind][]*calc.Figure{}
	var drops []*calc.Figure
	for _, x := range b.items {
		i := Item{Ingredient: x, Grams: calc.Mul(c.Fill, x.Share).Named("unit.grams", x.Material.Name.V, m.Label)}
		if x.DropShare != nil {
			i.Drops = calc.Mul(c.Fill, x.DropShare).Named("unit.drops", x.Material.Name.V, m.Label)
			if x.Material.Kind == book.Dye {
				drops = append(drops, i.Drops)
			}
		}
		byKind[x.Material.Kind] = append(byKind[x.Material.Kind], i.Grams)
		c.Items = append(c.Items, i)
	}
	of := func(k book.Kind) *calc.Figure { return total(byKind[k], "unit.kind-grams", string(k), m.Label) }
	c.Grams = Grams{Wax: c.Wax, Fragrance: of(book.Fragrance), Dye: of(book.Dye), Additive: of(book.Additive)}
	c.Drops = total(drops, "unit.all-drops", m.Label)
	c.Parts = e.pieces(m)
	if m.Finish == book.Colored && !m.Recipe.HasDye() {
		e.noDye(m)
	}
	if c.known() {
		e.without(m)
	}
	return c
}

// without warns of rows of the recipe and the jar that could not be read: the
// unit has a cost, but it lacks what they say.
func (e *Engine) without(m Make) {
	e.lacks(m, "left-out", m.Recipe.LeftOut)
	if m.Parts == nil {
		e.lacks(m, "left-out-part", m.Jar.LeftOut)
	}
}

func (e *Engine) lacks(m Make, say string, rows []book.LeftOut) {
	for _, x := range rows {
		if x.Finish != book.AnyFinish && x.Finish != m.Finish {
			continue
		}
		p := problem.Problem{
			Severity: problem.Warning, Code: problem.MissingField, Say: say, At: m.at(), Other: x.At,
			Args: []any{"product", m.Label, "material", x.Name},
		}
		if x.Name == "" {
			p.Say = "left-out-row"
		}
		e.raise(p, m.Label+" "+x.At.String())
	}
}

// total is the sum of figures that have names; of nothing it is 0.
func total(all []*calc.Figure, key string, of ...string) *calc.Figure {
	if len(all) < 2 {
		return calc.Add(all...)
	}
	return calc.Add(all...).Named(key, of...)
}

func (e *Engine) noDye(m Make) {
	e.raise(problem.Problem{
		Severity: problem.Warning, Code: problem.NoDye, At: m.at(),
		Args: []any{"product", m.Label, "recipe", m.Recipe.Name.V},
	}, m.Label)
}

// Fill is the blend in a jar, in g: as given, else what the capacity holds.
func (e *Engine) Fill(m Make) *calc.Figure {
	if m.Fill != nil {
		return m.Fill
	}
	j := m.Jar
	if j.Fill.State != cell.Blank {
		return e.in(j.Fill, "unit.fill", j.Name.V)
	}
	if j.Capacity.State == cell.Blank || j.FillPercent.State == cell.Blank {
		e.raise(problem.Problem{
			Severity: problem.Error, Code: problem.MissingField, Say: "fill", At: j.Name.At,
			Args: []any{"jar", j.Name.V},
		}, j.Name.V)
		return calc.Unknown("unit.fill", j.Name.V)
	}
	return calc.Mul(e.in(j.Capacity, "unit.capacity", j.Name.V), e.in(j.FillPercent, "unit.fill-percent", j.Name.V),
		e.Density(m.Recipe, m.Finish)).Named("unit.fill-from-capacity", j.Name.V, m.Recipe.Name.V, string(m.Finish))
}

// Density is that of a recipe's blend in a finish, in g/mL: its specific volume
// is the mass-weighted mean of its parts'. A part without a density takes the
// main wax's, a dye the setting's.
func (e *Engine) Density(r *book.Recipe, f book.Finish) *calc.Figure {
	b := e.blend(r, f)
	if b.density == nil {
		b.density = e.specificDensity(b).Named("unit.density", r.Name.V, string(f))
	}
	return b.density
}

func (e *Engine) specificDensity(b *blend) *calc.Figure {
	if b.main == nil {
		return nil
	}
	main := e.density(b.main, stake{})
	var volumes []*calc.Figure
	for _, x := range b.items {
		d := main
		switch m := x.Material; {
		case m == b.main:
		case m.Density.State != cell.Blank || m.Kind == book.Dye:
			d = e.density(m, stake{})
		default:
			e.raise(problem.Problem{
				Severity: problem.Note, Code: problem.DefaultUsed, Say: "density-of-wax", At: m.Name.At,
				Args: []any{"material", m.Name.V, "wax", b.main.Name.V},
			}, m.Name.V)
		}
		volumes = append(volumes, calc.Div(x.Share, d))
	}
	return calc.Div(calc.Const(1), calc.Add(volumes...))
}

// pieces are the jar's parts that the finish takes.
func (e *Engine) pieces(m Make) []Piece {
	var out []Piece
	at := map[*book.Material]int{}
	for _, p := range m.Jar.Parts {
		if p.Finish != book.AnyFinish && p.Finish != "" && p.Finish != m.Finish {
			continue
		}
		q := e.in(p.Count, "unit.part-count", p.Material.Name.V, m.Jar.Name.V)
		q = e.convert(q, p.Dim, p.Material, stake{at: place(p.Count.At, p.At)})
		if i, twice := at[p.Material]; twice {
			out[i].Quantity = calc.Add(out[i].Quantity, q)
			continue
		}
		at[p.Material] = len(out)
		out = append(out, Piece{p.Material, q})
	}
	return out
}
