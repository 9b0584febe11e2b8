package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/report/words"
	"pourbook/templates"
)

// Why explains a figure down to the cells it was read from: each step on a line
// with its value and how it was computed, what it rests on indented below it.
// A step that was explained before is only named; so is, unless whole is set, one
// that repeats a step above it, such as the stock of the month before.
func Why(w io.Writer, f *calc.Figure, whole bool) {
	e := explainer{w: w, whole: whole, seen: map[*calc.Figure]bool{}}
	e.explain(f, nil)
	if e.cut {
		fmt.Fprintln(w)
		Paragraph(w, templates.Text("why.whole"))
	}
}

type explainer struct {
	w          io.Writer
	whole, cut bool
	seen       map[*calc.Figure]bool
}

func (e *explainer) explain(f *calc.Figure, above []string) {
	line := strings.Repeat("  ", len(above)) + words.Figure(f) + "  " + short(f)
	below := restsOn(f)
	switch {
	case f.Kind() == calc.Input || f.Kind() == calc.Rows:
		line += "  " + whence(f)
	case e.seen[f] && len(below) > 0:
		line += "  " + templates.Text("why.above")
		below = nil
	case !e.whole && len(below) > 0 && f.Name().Key != "" && slices.Contains(above, f.Name().Key):
		line += "  " + templates.Text("why.likewise")
		below, e.cut = nil, true
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
	e.seen[f] = true
	fmt.Fprintln(e.w, words.Plain(line))
	above = append(above, f.Name().Key)
	for _, g := range below {
		e.explain(g, above)
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
