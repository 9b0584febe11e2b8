package unitcost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/problem"
)

// NoteUnscented adds a note for every recipe of the products that holds no
// fragrance, as some candles do not; where none of them holds any, it warns once,
// since the recipes were hardly meant so. A recipe of which a row was left out
// that may be its fragrance is not among them.
func NoteUnscented(to *problem.List, products []*book.Product) {
	var used, without []*book.Recipe
	for _, p := range products {
		x := p.Recipe
		if x == nil || slices.Contains(used, x) {
			continue
		}
		used = append(used, x)
		if len(x.Ingredients) > 0 && !mayBeScented(x) {
			without = append(without, x)
		}
	}
	add := func(severity problem.Severity, say string, x *book.Recipe) {
		to.Add(problem.Problem{
			Severity: severity, Code: problem.MissingField, Say: say, At: x.Name.At, Args: []any{"recipe", x.Name.V},
		})
	}
	if len(without) > 0 && len(without) == len(used) {
		add(problem.Warning, "no-fragrance-at-all", without[0])
		return
	}
	for _, x := range without {
		add(problem.Note, "no-fragrance", x)
	}
}

func mayBeScented(x *book.Recipe) bool {
	return slices.ContainsFunc(x.Ingredients, func(i book.Ingredient) bool { return i.Material.Kind == book.Fragrance }) ||
		slices.ContainsFunc(x.LeftOut, func(l book.LeftOut) bool { return l.Kind == book.Fragrance || l.Kind == "" })
}
