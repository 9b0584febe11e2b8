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

// Explanation says how a figure is explained: in lines of at most Width letters
// (80 for 0), with the steps that repeat one above them if Whole. Within is the
// figure that a sum over rows comes about as, nil for one that is only a sum.
type Explanation struct {
	Whole  bool
	Width  int
	Within func(sum *calc.Figure) *calc.Figure
}

// Why explains a figure down to the cells it was read from: each step on a line
// with its value and how it was computed, what it rests on indented below it.
// A step that was explained before is only named; so is, unless all are asked
// for, one that repeats a step above it, such as the stock of the month before.
func Why(w io.Writer, f *calc.Figure, how Explanation) {
	if how.Width <= 0 {
		how.Width = helpWidth
	}
	e := explainer{Explanation: how, w: w, seen: map[*calc.Figure]bool{}}
	e.explain(f, nil)
	if e.cut {
		fmt.Fprintln(w)
		Paragraph(w, templates.Text("why.whole"))
	}
}

type explainer struct {
	Explanation
	w    io.Writer
	cut  bool
	seen map[*calc.Figure]bool
}

func (e *explainer) explain(f *calc.Figure, above []string) {
	line := []string{words.Figure(f), short(f)}
	below := restsOn(f)
	switch {
	case f.Kind() == calc.Rows:
		below = nil
		if !e.seen[f] {
			below = e.within(f)
		}
		if len(below) > 1 {
			line = append(line, "= "+sumOf(below))
		}
		line = append(line, whence(f))
	case f.Kind() == calc.Input:
		line = append(line, whence(f))
	case e.seen[f] && len(below) > 0:
		line = append(line, templates.Text("why.above"))
		below = nil
	case !e.Whole && len(below) > 0 && f.Name().Key != "" && slices.Contains(above, f.Name().Key):
		line = append(line, templates.Text("why.likewise"))
		below, e.cut = nil, true
	default:
		if how := f.Formula(func(g *calc.Figure) string {
			if g == f {
				return ""
			}
			return short(g)
		}); how != short(f) {
			line = append(line, "= "+how)
		}
	}
	e.seen[f] = true
	step(e.w, line, len(above), e.Width)
	above = append(above, f.Name().Key)
	for _, g := range below {
		e.explain(g, above)
	}
}

// within are the figures that a sum over rows adds up, where they are known.
func (e *explainer) within(f *calc.Figure) []*calc.Figure {
	if e.Within == nil {
		return nil
	}
	in := e.Within(f)
	if !in.Known() {
		return nil
	}
	if in.Kind() == calc.Op {
		return restsOn(in)
	}
	return []*calc.Figure{in}
}

// sumOf is how figures add up.
func sumOf(all []*calc.Figure) string {
	parts := make([]string, len(all))
	for i, f := range all {
		parts[i] = short(f)
	}
	return strings.Join(parts, "+")
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
