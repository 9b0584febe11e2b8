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
	if r.names.recipes == nil {
		r.names.recipes = map[string]*book.Recipe{}
	}
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
		first(&x.CureDays, l.number("cure days", "days", "day"))
		first(&x.MeltTemp, l.words("melt temperature"))
		first(&x.DyeTemp, l.words("dye temperature"))
		first(&x.FragranceTemp, l.words("fragrance temperature"))
		first(&x.PourTemp, l.words("pour temperature"))
		first(&x.Swatch, l.words("swatch"))
		batch, _ := l.measure("batch wax", "", unit.Mass, unit.Mass)
		first(&x.BatchWax, batch)
		if m := l.material("material"); m != nil {
			l.ingredient(x, m)
		}
	})
}

// words is a cell as it is written, numbers too.
func (l *line) words(field string) cell.Text {
	c, at, _ := l.at(field)
	if parse.Blank(c) {
		return cell.Text{At: at}
	}
	return cell.Text{V: strings.TrimSpace(c.Raw), Raw: c.Raw, At: at, State: cell.Typed}
}

func (l *line) ingredient(x *book.Recipe, m *book.Material) {
	if m.Kind == book.Wax {
		l.wax(x, m)
		return
	}
	q, at := l.amount("amount", "per")
	n := cell.Num{V: q.V, Raw: q.Raw, At: at, State: cell.Typed}
	switch {
	case q.Blank:
		l.lacks("amount")
		return
	case !q.OK():
		l.out = true
		return
	case q.Rate == nil:
		l.out = true
		l.add(problem.Problem{Severity: problem.Error, Code: problem.NoUnit, Say: "recipe", At: at,
			Args: []any{"read", q.Raw, "known", strings.Join(unit.RateNames(), ", ")}})
		return
	case q.V < 0:
		l.out = true
		l.add(problem.Problem{Severity: problem.Error, Code: problem.BadNumber, Say: "negative", At: at, Args: []any{"read", q.Raw}})
		return
	}
	rule := parse.AnyPercent
	if m.Kind == book.Fragrance {
		rule = parse.LoadPercent
	}
	if f := q.Suspect(rule); !f.None() {
		l.found(f, at)
		l.out = true
		return
	}
	x.Ingredients = append(x.Ingredients, book.Ingredient{Material: m, Amount: n, Rate: *q.Rate, At: at})
}

// wax reads parts: any unit goes, and a single wax may leave its amount's unit blank.
func (l *line) wax(x *book.Recipe, m *book.Material) {
	c, at, col := l.at("amount")
	if parse.Blank(c) {
		l.lacks("amount")
		return
	}
	q := parse.QuantityIn(c, col.style, parse.Units{})
	n := cell.Num{V: q.V, Raw: q.Raw, At: at, State: cell.Typed}
	if q.OK() && q.Unit.Dim == unit.Mass {
		n.V = q.Base
	}
	if !q.OK() || n.V <= 0 {
		l.out = true
		if q.OK() {
			l.add(problem.Problem{Severity: problem.Error, Code: problem.BadNumber, Say: "not-positive", At: at, Args: []any{"read", q.Raw}})
		} else {
			l.found(q.Finding, at)
		}
		return
	}
	x.Ingredients = append(x.Ingredients, book.Ingredient{Material: m, Amount: n, At: at})
}

func (r *reader) jars(b *block) {
	if r.names.jars == nil {
		r.names.jars = map[string]*book.Jar{}
	}
	r.each(b, func(l *line) {
		name := l.name("jar")
		if l.out {
			return
		}
		if have := r.names.jars[cell.Fold(name.V)]; have != nil {
			l.twice(name, have.Name)
			return
		}
		fill, _ := l.measure("fill weight", "fill unit", unit.None, unit.Mass)
		capacity, _ := l.measure("capacity", "", unit.Volume, unit.Volume)
		j := &book.Jar{Name: name, Fill: fill, Capacity: capacity, FillPercent: l.percent("fill %", parse.WholePercent),
			Opaque: l.yes("opaque"), Diameter: l.words("diameter")}
		if !fill.OK() && (!capacity.OK() || !j.FillPercent.OK()) {
			l.out = true
			if fill.State == cell.Blank && (capacity.State == cell.Blank || j.FillPercent.State == cell.Blank) {
				l.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "fill", At: name.At, Args: []any{"jar", name.V}})
			}
			return
		}
		r.names.jars[cell.Fold(name.V)] = j
		r.book.Jars = append(r.book.Jars, j)
	})
}

func (r *reader) jarParts(b *block) {
	r.each(b, func(l *line) {
		j := l.jar()
		m := l.material("material")
		if l.out {
			return
		}
		count, dim := l.measure("count", "unit", unit.Count)
		switch {
		case count.State == cell.Blank:
			count, dim = cell.Num{V: 1, At: count.At, State: cell.Typed, Raw: ""}, unit.Count
		case !count.OK():
			l.out = true
			return
		}
		f, ok := l.finish(book.AnyFinish)
		if ok {
			j.Parts = append(j.Parts, book.Part{Material: m, Count: count, Dim: dim, Finish: f, At: count.At})
		}
	})
}

// finishWords are what makers call a finish.
var finishWords = map[string]book.Finish{
	"colored": book.Colored, "color": book.Colored, "dyed": book.Colored, "dye": book.Colored, "yes": book.Colored, "y": book.Colored, "c": book.Colored,
	"natural": book.Natural, "undyed": book.Natural, "uncolored": book.Natural, "plain": book.Natural, "no": book.Natural, "n": book.Natural,
	"no dye": book.Natural, "none": book.Natural, "any": book.AnyFinish, "both": book.AnyFinish, "all": book.AnyFinish, "either": book.AnyFinish,
}

// finish is a finish; blank is other, and "" leaves the row out.
func (l *line) finish(other book.Finish) (book.Finish, bool) {
	t := l.text("finish")
	if t.State == cell.Blank {
		if other == "" {
			l.lacks("finish")
		}
		return other, other != ""
	}
	f, ok := finishWords[normal(t.V)]
	if !ok || f == book.AnyFinish && other == "" {
		l.out = true
		l.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "finish", At: t.At, Args: []any{"read", t.V}})
		return "", false
	}
	return f, true
}

func (r *reader) products(b *block) {
	if r.names.codes == nil {
		r.names.codes, r.names.titles = map[string]int32{}, map[string][]int32{}
	}
	r.each(b, func(l *line) {
		code := l.name("product")
		if l.out {
			return
		}
		if i, twice := r.names.codes[cell.Fold(code.V)]; twice {
			l.twice(code, r.book.Products[i].Code)
			return
		}
		p := &book.Product{Code: code, Name: l.text("name"), Recipe: l.recipe()}
		recipeOut := l.out
		l.out = false
		p.Jar = l.jar()
		l.out = l.out || recipeOut
		f, ok := l.finish("")
		if l.out || !ok {
			l.out = true
			return
		}
		p.Finish = f
		p.List, p.Wholesale = l.money("list price"), l.money("wholesale price")
		p.OnHand, p.Minutes = l.pieces("on hand"), l.number("minutes per unit", "min", "minutes")
		p.Active = l.yes("active")
		if p.Active.State == cell.Blank {
			p.Active = cell.Bool{V: true, At: p.Active.At, State: cell.Assumed}
		}
		i := int32(len(r.book.Products))
		r.book.Products = append(r.book.Products, p)
		r.names.codes[cell.Fold(code.V)] = i
		if p.Name.V != "" {
			r.names.titles[cell.Fold(p.Name.V)] = append(r.names.titles[cell.Fold(p.Name.V)], i)
		}
	})
}

// pieces is a number of pieces.
func (l *line) pieces(field string) cell.Num {
	n, _ := l.measure(field, "", unit.Count, unit.Count)
	return n
}

func (r *reader) channels(b *block) {
	if r.names.channels == nil {
		r.names.channels = map[string]int32{}
	}
	r.each(b, func(l *line) {
		name := l.name("channel")
		if l.out {
			return
		}
		if i, twice := r.names.channels[cell.Fold(name.V)]; twice {
			l.twice(name, r.book.Channels[i].Name)
			return
		}
		r.names.channels[cell.Fold(name.V)] = int32(len(r.book.Channels))
		r.book.Channels = append(r.book.Channels, &book.Channel{Name: name, Listed: true, Fee: l.percent("fee %", parse.RatePercent),
			PerOrder: l.money("fee per order"), PerUnit: l.money("cost per unit"), Wholesale: l.yes("wholesale").V})
	})
}
