package parse

import (
	"slices"
	"strings"
	"sync"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

// Answer is a yes or no read from a cell.
type Answer struct {
	V       bool
	Raw     string
	Blank   bool
	Finding Finding
}

// OK reports whether there is a usable answer.
func (a Answer) OK() bool { return !a.Blank && !a.Finding.Bad() }

// Bool is the answer as a value of the book.
func (a Answer) Bool(at cell.Ref) cell.Bool {
	c := cell.Bool{V: a.V && a.OK(), Raw: a.Raw, At: at, State: cell.Typed}
	switch {
	case a.Finding.Bad():
		c.State = cell.Bad
	case a.Blank:
		c.State = cell.Blank
	}
	return c
}

var (
	yesWords = sync.OnceValue(func() []string { return templates.List("parse.yes") })
	noWords  = sync.OnceValue(func() []string { return templates.List("parse.no") })
)

// YesNo reads yes, y, true, 1, x and no, n, false, 0.
func YesNo(c grid.Cell) Answer {
	a := Answer{Raw: strings.TrimSpace(c.Raw)}
	word, f := Text(c)
	word = strings.ToLower(tidy(word))
	switch {
	case !f.None():
		a.Finding = f
	case word == "":
		a.Blank = true
	case slices.Contains(yesWords(), word):
		a.V = true
	case !slices.Contains(noWords(), word):
		a.Finding = bad(problem.BadNumber, "yes-no", c.Raw)
	}
	return a
}
