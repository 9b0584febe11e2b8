package unitcost

import (
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// Ingredient is a material's share of a recipe's blend in one finish.
type Ingredient struct {
	Material *book.Material
	// Share is grams per gram of blend.
	Share *calc.Figure
	// DropShare is drops per gram of blend, for a material that the recipe
	// gives in drops; nil for any other.
	DropShare *calc.Figure
}

type blendKey struct {
	recipe *book.Recipe
	finish book.Finish
}

// blend is a recipe in one finish, per gram of it.
type blend struct {
	items []Ingredient
	wax   *calc.Figure   // grams of wax per gram of blend
	main  *book.Material // the wax with the largest share
	// density in g/mL, built when a fill weight asks for it
	density *calc.Figure
}

// row is an ingredient's dose: grams per gram of wax, or of blend.
type row struct {
	of      *book.Material
	dose    *calc.Figure
	drops   *calc.Figure // per gram of wax; nil when not given in drops
	ofBlend bool
}

// Ingredients is what a recipe's blend consists of in a finish, per gram of
// it: one entry per material, in the order of the recipe. Shares are unknown where
// an amount is, or where the parts of the blend leave no wax.
func (e *Engine) Ingredients(r *book.Recipe, f book.Finish) []Ingredient { return e.blend(r, f).items }

func (e *Engine) blend(r *book.Recipe, f book.Finish) *blend {
	k := blendKey{r, f}
	b, ok := e.blends[k]
	if !ok {
		b = e.mix(r, f)
		e.blends[k] = b
	}
	return b
}

func (e *Engine) mix(r *book.Recipe, f book.Finish) *blend {
	defer fault.In(r.Name.At, r.Name.V)
	b := &blend{}
	waxes, total := e.waxes(r)
	rows := e.doses(r, f)
	ofWax, ofBlend := []*calc.Figure{calc.Const(1)}, []*calc.Figure{}
	for _, x := range rows {
		if x.ofBlend {
			ofBlend = append(ofBlend, x.dose)
		} else {
			ofWax = append(ofWax, x.dose)
		}
	}
	b.wax = e.waxShare(r, waxes, ofWax, ofBlend).Named("unit.wax-share", r.Name.V, string(f))
	largest := -1.0
	for _, w := range waxes {
		share := calc.Const(1)
		if len(waxes) > 1 {
			share = calc.Div(w.dose, total)
		}
		b.add(w.of, calc.Mul(b.wax, share), nil)
		if v := share.Or(0); v > largest*(1+1e-12) {
			largest, b.main = v, w.of
		}
	}
	for _, x := range rows {
		share, drops := x.dose, x.drops
		if !x.ofBlend {
			share = calc.Mul(b.wax, share)
		}
		if drops != nil {
			drops = calc.Mul(b.wax, drops)
		}
		b.add(x.of, share, drops)
	}
	for i, x := range b.items {
		b.items[i].Share = x.Share.Named("unit.share", x.Material.Name.V, r.Name.V, string(f))
		if x.DropShare != nil {
			b.items[i].DropShare = x.DropShare.Named("unit.drop-share", x.Material.Name.V, r.Name.V, string(f))
		}
	}
	return b
}

// add adds a share; rows of the same material are one ingredient.
func (b *blend) add(m *book.Material, share, drops *calc.Figure) {
	for i, x := range b.items {
		if x.Material != m {
			continue
		}
		b.items[i].Share = calc.Add(x.Share, share)
		switch {
		case x.DropShare == nil:
			b.items[i].DropShare = drops
		case drops != nil:
			b.items[i].DropShare = calc.Add(x.DropShare, drops)
		}
		return
	}
	b.items = append(b.items, Ingredient{m, share, drops})
}

// waxShare is (1 - sum b) / (1 + sum r).
func (e *Engine) waxShare(r *book.Recipe, waxes []row, ofWax, ofBlend []*calc.Figure) *calc.Figure {
	if len(waxes) == 0 {
		e.raise(problem.Problem{
			Severity: problem.Error, Code: problem.MissingField, Say: "wax", At: r.Name.At,
			Args: []any{"recipe", r.Name.V},
		}, r.Name.V)
		return nil
	}
	b := calc.Add(ofBlend...)
	if v, ok := b.Value(); ok && v >= 1 {
		e.raise(problem.Problem{
			Severity: problem.Error, Code: problem.BlendOver100, At: blendCell(r),
			Args: []any{"recipe", r.Name.V, "percent", percent(v)},
		}, r.Name.V)
		return nil
	}
	return calc.Div(calc.Sub(calc.Const(1), b), calc.Add(ofWax...))
}

// blendCell is the place of the recipe's last row that is given on the blend.
func blendCell(r *book.Recipe) cell.Ref {
	at := r.Name.At
	for _, i := range r.Ingredients {
		if i.Rate.Basis == unit.PerBlend || i.Rate.Basis == unit.PerDefault && i.Material.Kind == book.Fragrance {
			at = place(i.Amount.At, i.At)
		}
	}
	return at
}

// waxes are the recipe's waxes in parts, and the sum of the parts.
func (e *Engine) waxes(r *book.Recipe) (rows []row, total *calc.Figure) {
	var parts []*calc.Figure
	for _, i := range r.Ingredients {
		if i.Material.Kind == book.Wax {
			f := e.in(i.Amount, "unit.amount", i.Material.Name.V, r.Name.V)
			rows, parts = append(rows, row{of: i.Material, dose: f}), append(parts, f)
		}
	}
	return rows, calc.Add(parts...)
}

// doses are the recipe's other ingredients; natural leaves the dyes out.
func (e *Engine) doses(r *book.Recipe, f book.Finish) []row {
	var out []row
	for _, i := range r.Ingredients {
		if i.Material.Kind == book.Wax || f == book.Natural && i.Material.Kind == book.Dye {
			continue
		}
		out = append(out, e.dose(r, i))
	}
	return out
}

func (e *Engine) dose(r *book.Recipe, i book.Ingredient) row {
	x := row{of: i.Material, dose: e.in(i.Amount, "unit.amount", i.Material.Name.V, r.Name.V)}
	if i.Rate.Scale != 1 {
		x.dose = calc.Mul(x.dose, calc.Const(i.Rate.Scale))
	}
	switch {
	case i.Rate.Basis == unit.PerBatch:
		x.dose = calc.Div(x.dose, e.in(r.BatchWax, "unit.batch-wax", r.Name.V))
	case i.Rate.On != 1:
		x.dose = calc.Div(x.dose, calc.Const(i.Rate.On))
	}
	x.ofBlend = i.Rate.Basis == unit.PerBlend || i.Rate.Basis == unit.PerDefault && e.bareIsBlend(i)
	if i.Rate.Drops {
		x.drops = x.dose
		x.dose = calc.Div(x.dose, e.DropsPerGram(i.Material))
	}
	return x
}

// bareIsBlend reports whether a bare % of an ingredient is on the blend.
func (e *Engine) bareIsBlend(i book.Ingredient) bool {
	if i.Material.Kind != book.Fragrance {
		return false
	}
	basis := e.Book.Settings.Text(book.FragranceBasis)
	if basis.State == cell.Assumed {
		e.raise(problem.Problem{
			Severity: problem.Note, Code: problem.DefaultUsed, Say: "fragrance-basis",
			At: place(i.Amount.At, i.At), Args: []any{"basis", basis.V},
		}, "")
	}
	return strings.Contains(cell.Fold(basis.V), "blend")
}

// place is the first reference that is one.
func place(refs ...cell.Ref) cell.Ref {
	for _, r := range refs {
		if !r.None() {
			return r
		}
	}
	return cell.Ref{}
}
