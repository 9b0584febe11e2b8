package ingest

import (
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/parse"
)

// recipes reads ingredients, one a row; what is said of the recipe may stand on
// any of its rows.
func (r *reader) recipes(b *block) {
	r.fillDown(b, "recipe", "material")
	blank := map[*book.Recipe][]*line{} // wax rows without an amount
	r.each(b, func(l *line) {
		name := l.name("recipe")
		if l.out {
			return
		}
		x := r.names.recipes[cell.Fold(name.V)]
		if x == nil {
			x = &book.Recipe{Name: name}
			r.names.recipes[cell.Fold(name.V)] = x
			r.book.Recipes = append(r.book.Recipes, x)
		}
		l.treatment(x)
		m := l.material("material")
		c, _, _ := l.at("amount")
		switch {
		case m == nil:
		case m.Kind == book.Wax && parse.Blank(c) && !l.unsure("amount"):
			blank[x] = append(blank[x], l)
		default:
			l.ingredient(x, m)
		}
		if l.out {
			x.LeftOut = append(x.LeftOut, l.leftOut(m))
		}
	})
	r.singleWaxes(blank)
	r.aside(b)
}

// singleWaxes reads the wax rows without an amount: the only wax of a recipe
// needs none.
func (r *reader) singleWaxes(blank map[*book.Recipe][]*line) {
	for _, x := range r.book.Recipes {
		rows := blank[x]
		others := 0
		for _, i := range x.Ingredients {
			if i.Material.Kind == book.Wax {
				others++
			}
		}
		if len(rows) == 1 && others == 0 {
			l := rows[0]
			_, at, _ := l.at("amount")
			m := l.names.materials[cell.Fold(l.text("material").V)]
			one := book.Ingredient{Material: m, Amount: cell.Num{V: 1, At: at, State: cell.Assumed}, At: at}
			x.Ingredients = append([]book.Ingredient{one}, x.Ingredients...)
			continue
		}
		for _, l := range rows {
			l.lacks("amount")
			l.say()
			l.b.lost++
			x.LeftOut = append(x.LeftOut, l.leftOut(l.names.materials[cell.Fold(l.text("material").V)]))
		}
	}
}

// leftOut is a row of a recipe or a jar that is left out; m is nil where its
// material is not known.
func (l *line) leftOut(m *book.Material) book.LeftOut {
	c, at, _ := l.at("material")
	name, _ := parse.Text(c)
	out := book.LeftOut{Name: name, Finish: book.AnyFinish, At: at}
	if m != nil {
		out.Kind = m.Kind
	}
	if m != nil && m.Kind == book.Dye {
		out.Finish = book.Colored
	}
	return out
}

// treatment is what a row says of the whole recipe; the first row that says it counts.
func (l *line) treatment(x *book.Recipe) {
	first(&x.CureDays, l.number("cure days", "days", "day"))
	first(&x.MeltTemp, l.text("melt temperature"))
	first(&x.DyeTemp, l.text("dye temperature"))
	first(&x.FragranceTemp, l.text("fragrance temperature"))
	first(&x.PourTemp, l.text("pour temperature"))
	first(&x.Swatch, l.swatch())
	batch, _ := l.measure("batch wax", unit.None, unit.Mass)
	first(&x.BatchWax, l.notNegative(batch))
}

// swatch is a color such as "#a03020"; the names of colors are left alone.
func (l *line) swatch() cell.Text {
	t := l.text("swatch")
	hex := strings.TrimPrefix(t.V, "#")
	if len(hex) == 6 && strings.Trim(strings.ToLower(hex), "0123456789abcdef") == "" {
		t.V = "#" + strings.ToLower(hex)
		return t
	}
	if t.OK() && strings.HasPrefix(t.V, "#") {
		l.add(problem.Problem{Severity: problem.Warning, Code: problem.BadNumber, Say: "swatch", At: t.At, Args: []any{"read", t.V}})
	}
	return cell.Text{At: t.At}
}

// ingredient adds a row's material to a recipe.
func (l *line) ingredient(x *book.Recipe, m *book.Material) {
	if m.Kind == book.Wax {
		l.wax(x, m)
		return
	}
	q, at := l.amount("amount")
	if c, _, col := l.at("amount"); col.fraction && !c.Percent && !q.Percent && q.Rate != nil && strings.HasPrefix(q.Rate.Name, "%") {
		q.V *= 100
	}
	switch {
	case l.unsure("amount"):
		l.out = true
	case q.Blank:
		l.lacks("amount")
	case !q.OK():
		l.out = true
	case q.Rate == nil:
		l.noRate(q, at)
	case q.V < 0:
		l.refuse(problem.BadNumber, "negative", at, "read", q.Raw)
	case l.suspect(q, m, at):
	default:
		l.same(x, m, at)
		n := cell.Num{V: q.V, Raw: q.Raw, At: at, State: cell.Typed}
		x.Ingredients = append(x.Ingredients, book.Ingredient{Material: m, Amount: n, Rate: *q.Rate, At: at})
	}
}

// noRate says that an amount has no recipe unit, or one that is none.
func (l *line) noRate(q parse.Quantity, at cell.Ref) {
	known := strings.Join(unit.RateNames(), ", ")
	if q.Bare() {
		l.refuse(problem.NoUnit, "recipe", at, "read", q.Raw, "known", known)
		return
	}
	if r, ok := unit.FindRate(q.Unit.Name + "/batch"); ok {
		l.refuse(problem.BadUnit, "batch", at, "read", q.Raw, "unit", q.Unit.Name, "rate", r.Name)
		return
	}
	l.refuse(problem.BadUnit, "", at, "read", q.Raw, "unit", q.Unit.Name, "known", known)
}

// suspect asks about a percent that was probably meant as a fraction.
func (l *line) suspect(q parse.Quantity, m *book.Material, at cell.Ref) bool {
	c, _, col := l.at("amount")
	if c.Percent || col.fraction || m.Kind != book.Fragrance {
		return false
	}
	f := q.Suspect(parse.LoadPercent)
	l.found(f, at)
	l.out = l.out || !f.None()
	return !f.None()
}

// same warns of a material that stands twice in a recipe.
func (l *line) same(x *book.Recipe, m *book.Material, at cell.Ref) {
	for _, i := range x.Ingredients {
		if i.Material == m {
			l.add(problem.Problem{
				Severity: problem.Warning, Code: problem.Duplicate, Say: "ingredient", At: at, Other: i.At,
				Args: []any{"name", m.Name.V, "recipe", x.Name.V},
			})
			return
		}
	}
}

// wax reads parts: any unit is read as parts, so that only their ratio counts.
func (l *line) wax(x *book.Recipe, m *book.Material) {
	c, at, col := l.at("amount")
	if l.unsure("amount") {
		l.out = true
		return
	}
	u := l.text("per").V
	if _, ok := unit.Find(u); !ok {
		u = "" // "parts", "% of wax"
	}
	q := parse.QuantityIn(partsOf(c), col.style, parse.Units{Column: u, Heading: massOnly(col.unit)})
	l.found(q.Finding, at)
	n := cell.Num{V: q.V, Raw: q.Raw, At: at, State: cell.Typed}
	if q.Unit.Dim == unit.Mass {
		n.V = q.Base
	}
	switch {
	case !q.OK():
		l.out = true
	case n.V <= 0:
		l.refuse(problem.BadNumber, "not-positive", at, "read", q.Raw)
	default:
		l.same(x, m, at)
		x.Ingredients = append(x.Ingredients, book.Ingredient{Material: m, Amount: n, At: at})
	}
}

func massOnly(u string) string {
	if x, ok := unit.Find(u); ok && x.Dim == unit.Mass {
		return u
	}
	return ""
}
