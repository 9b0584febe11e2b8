package price

import (
	"fmt"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/check"
	"pourbook/compute/problem"
)

// ofMix are the problems of a recipe's mix that a price rests on.
var ofMix = []problem.Code{problem.OverMaxLoad, problem.OverDropLimit, problem.NotOilSoluble, problem.DoubleAdditive}

// warnOf passes on what is wrong with the mix of the recipes that are priced.
func (r *run) warnOf(recipes []*book.Recipe) {
	found := check.Domain(r.book, r.opts.Today)
	about := map[string]bool{}
	for _, x := range recipes {
		about[fmt.Sprint("recipe ", x.Name.V)] = true
		for _, i := range x.Ingredients {
			about[fmt.Sprint("material ", i.Material.Name.V)] = true
		}
	}
	for _, p := range found.Sorted() {
		if slices.Contains(ofMix, p.Code) && about[fmt.Sprint(p.Args[0], " ", p.Args[1])] {
			r.res.Problems.Add(p)
		}
	}
}

// fewSizes notes the finishes that have too few sizes for a curve.
func (r *run) fewSizes() {
	said := map[book.Finish]bool{}
	for _, p := range r.res.Prices {
		if p.Range != nil && p.Range.Sizes < enoughSizes && !said[p.Finish] {
			said[p.Finish] = true
			r.res.Problems.Add(problem.Problem{
				Severity: problem.Note, Code: problem.NoListPrice, Say: "sizes",
				Args: []any{"n", p.Range.Sizes, "finish", string(p.Finish), "least", enoughSizes},
			})
		}
	}
}
