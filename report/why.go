package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/report/words"
	"pourbook/templates"
)

// Why explains a figure down to the cells it was read from: each step on a line
// with its value and how it was computed, what it rests on indented below it.
// A step that was explained before is only named.
func Why(w io.Writer, f *calc.Figure) {
	explain(w, f, 0, map[*calc.Figure]bool{})
}

func explain(w io.Writer, f *calc.Figure, depth int, seen map[*calc.Figure]bool) {
	line := strings.Repeat("  ", depth) + words.Figure(f) + "  " + short(f)
	below := restsOn(f)
	switch {
	case f.Kind() == calc.Input || f.Kind() == calc.Rows:
		line += "  " + whence(f)
	case seen[f] && len(below) > 0:
		line += "  " + templates.Text("why.above")
		below = nil
	default:
		if how := f.Formula(func(g *calc.Figure) string {
			if g == f {
				return ""
			}
			return short(g)
		}); how != short(f) {
			line += "  = " + how
		}
	}
	seen[f] = true
	fmt.Fprintln(w, words.Plain(line))
	for _, g := range below {
		explain(w, g, depth+1, seen)
	}
}

// restsOn are the named figures, inputs and sums that f is computed from, each once.
func restsOn(f *calc.Figure) []*calc.Figure {
	var out []*calc.Figure
	f.Walk(func(g *calc.Figure) bool {
		if g == f {
			return true
		}
		if g.Kind() == calc.Op {
			return true
		}
		if g.Kind() != calc.Literal {
			out = append(out, g)
		}
		return false
	})
	return out
}

// whence is where an input or a sum comes from.
func whence(f *calc.Figure) string {
	from := f.From()
	switch {
	case from.Table != "":
		return templates.Text("why.rows", "table", from.Table, "n", from.Count)
	case from.State == cell.Assumed:
		return templates.Text("why.default")
	case from.State == cell.Bad:
		return templates.Text("why.bad", "cell", from.At, "read", from.Raw)
	case from.At.None():
		return templates.Text("why.command-line")
	}
	return templates.Text("why.cell", "cell", from.At, "read", strings.TrimSpace(from.Raw))
}

// short is a figure's value with at most six digits that matter.
func short(f *calc.Figure) string {
	v, ok := f.Value()
	if !ok {
		return "?"
	}
	s := strconv.FormatFloat(v, 'g', 6, 64)
	if strings.Contains(s, "e") {
		s = strconv.FormatFloat(v, 'f', -1, 64)
	}
	if v < 0 {
		return "(" + s + ")"
	}
	return s
}
