package unitcost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/problem"
)

// NoteBareJars adds a warning for every jar of the products that has no parts:
// neither the jar nor a wick is in the cost of what is poured into it.
func NoteBareJars(to *problem.List, products []*book.Product) {
	var told []*book.Jar
	for _, p := range products {
		j := p.Jar
		if j == nil || len(j.Parts) > 0 || slices.Contains(told, j) {
			continue
		}
		told = append(told, j)
		to.Add(problem.Problem{
			Severity: problem.Warning, Code: problem.MissingField, Say: "jar-parts", At: j.Name.At, Args: []any{"jar", j.Name.V},
		})
	}
}
