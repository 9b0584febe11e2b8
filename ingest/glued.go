package ingest

import (
	"strings"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// glue is a name with the units behind its numbers written together: "Tin 4 oz"
// and "tin 4-oz" are "tin 4oz".
func glue(name string) string {
	words := strings.FieldsFunc(cell.Fold(name), func(c rune) bool { return c == ' ' || c == '-' })
	var b strings.Builder
	for i, w := range words {
		if i > 0 && !(numbered(words[i-1]) && isUnit(words, i)) && !(words[i-1] == "fl" && w == "oz") {
			b.WriteByte(' ')
		}
		b.WriteString(w)
	}
	return b.String()
}

// numbered reports whether a word ends with a digit.
func numbered(w string) bool { return w[len(w)-1] >= '0' && w[len(w)-1] <= '9' }

// isUnit reports whether a unit of weight or volume begins at a word.
func isUnit(words []string, i int) bool {
	if words[i] == "fl" {
		return i+1 < len(words) && words[i+1] == "oz"
	}
	u, ok := unit.Find(words[i])
	return ok && (u.Dim == unit.Mass || u.Dim == unit.Volume)
}

// glued is the only known name that differs from a text by a space or hyphen
// before a unit; "" when there is none, or several.
func glued(text string, known []string) string {
	name, want := "", glue(text)
	for _, k := range known {
		switch {
		case glue(k) != want:
		case name != "" && cell.Fold(name) != cell.Fold(k):
			return ""
		default:
			name = k
		}
	}
	return name
}

// respelt is the note of a reference that was matched so.
func respelt(code problem.Code, t cell.Text, meant string) problem.Problem {
	return problem.Problem{Severity: problem.Note, Code: code, Say: "unit", At: t.At, Args: []any{"name", t.V, "meant", meant}}
}

// lookUp is what a reference names in one of the tables, also when its unit is
// written apart or together there, which is noted once for each spelling.
func lookUp[T any](l *line, m map[string]*T, t cell.Text, known func() []string, code problem.Code) *T {
	key := cell.Fold(t.V)
	if x := m[key]; x != nil {
		return x
	}
	meant := glued(t.V, known())
	if meant == "" {
		return nil
	}
	if !l.told[string(code)+key] {
		l.told[string(code)+key] = true
		l.add(respelt(code, t, meant))
	}
	return m[cell.Fold(meant)]
}
