package unitcost

import (
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/problem"
)

// NoteDefaults adds a note for every setting below the figures that a default
// stands in for. What a blank cell of a table means by its nature, such as one
// of each jar part, needs no note.
func NoteDefaults(to *problem.List, figures ...*calc.Figure) {
	for _, f := range calc.Assumed(figures...) {
		if f.Name().Key != settingKey {
			continue
		}
		to.Add(problem.Problem{
			Severity: problem.Note, Code: problem.DefaultUsed, Say: "setting", At: f.From().At,
			Args: []any{"what", strings.Join(f.Name().Of, ", "), "value", f.From().Raw},
		})
	}
}
