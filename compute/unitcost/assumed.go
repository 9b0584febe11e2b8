package unitcost

import (
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/problem"
)

// NoteDefaults adds a note for every input below the figures that a default
// stands in for.
func NoteDefaults(to *problem.List, figures ...*calc.Figure) {
	for _, f := range calc.Assumed(figures...) {
		to.Add(problem.Problem{
			Severity: problem.Note, Code: problem.DefaultUsed, Say: "setting", At: f.From().At,
			Args: []any{"what", strings.Join(f.Name().Of, ", "), "value", f.From().Raw},
		})
	}
}
