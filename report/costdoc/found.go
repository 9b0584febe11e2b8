package costdoc

import (
	"math"

	"pourbook/compute/problem"
	"pourbook/report/show"
)

// Found says in a sentence what was left out of a document, what looks wrong
// and what a default stands in for, with the money that stands on it. Several
// problems of one row count their money once.
func Found(l problem.List, c show.Currency) string {
	type row struct {
		sheet string
		row   int
	}
	n := map[string]int{}
	on := map[row]float64{}
	loose := 0.0
	for _, p := range l.Sorted() {
		switch {
		case p.Code == problem.DefaultUsed:
			n["default"]++
		case p.Severity == problem.Error:
			n["error"]++
			if k := (row{p.At.Sheet, p.At.Row}); p.At.Row == 0 {
				loose += math.Abs(p.Amount)
			} else {
				on[k] = max(on[k], math.Abs(p.Amount))
			}
		case p.Severity == problem.Warning:
			n["warning"]++
		}
	}
	for _, v := range on {
		loose += v
	}
	left := text("found.errors.none")
	switch {
	case n["error"] > 0 && loose > 0:
		left = text("found.errors.money", "n", n["error"], "amount", c.Of(loose))
	case n["error"] > 0:
		left = text("found.errors", "n", n["error"])
	}
	wrong := text("found.warnings.none")
	if n["warning"] > 0 {
		wrong = text("found.warnings", "n", n["warning"])
	}
	stand := ""
	if n["default"] > 0 {
		stand = text("found.defaults", "n", n["default"])
	}
	return sentences(left, wrong, stand)
}
