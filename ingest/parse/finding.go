// Package parse reads numbers, percents, amounts with units, dates and yes or
// no as people type them. It works on single cells and columns, and knows
// units but no candles.
package parse

import (
	"strings"
	"unicode/utf8"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// Finding is what is wrong or worth a look in one cell; the zero Finding is
// nothing. The words are "problem.<Code>" or "problem.<Code>.<Say>".
type Finding struct {
	Severity problem.Severity
	Code     problem.Code
	Say      string
	Args     []any
}

// None reports whether nothing was found.
func (f Finding) None() bool { return f.Code == "" }

// Bad reports whether the value cannot be used.
func (f Finding) Bad() bool { return f.Severity == problem.Error }

// Problem is the finding at a place.
func (f Finding) Problem(at cell.Ref) problem.Problem {
	return problem.Problem{Severity: f.Severity, Code: f.Code, Say: f.Say, At: at, Args: f.Args}
}

func bad(code problem.Code, say, read string, args ...any) Finding {
	return Finding{problem.Error, code, say, append([]any{"read", short(read)}, args...)}
}

func warn(code problem.Code, say, read string, args ...any) Finding {
	return Finding{problem.Warning, code, say, append([]any{"read", short(read)}, args...)}
}

// NoUnit is the finding of a bare number where a unit is needed.
func NoUnit(read string) Finding { return bad(problem.NoUnit, "", read) }

// UnknownUnit is the finding of a unit that is none of known.
func UnknownUnit(read, unit string, known []string) Finding {
	return bad(problem.BadUnit, "", read, "unit", short(unit), "known", strings.Join(known, ", "))
}

// short is what a message quotes of a cell.
func short(s string) string {
	const most = 40
	s = strings.Join(strings.Fields(s), " ")
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// Blank reports whether a cell holds nothing but space.
func Blank(c grid.Cell) bool {
	return c.Kind == grid.Blank || c.Kind == grid.Text && tidy(c.Raw) == ""
}

// Text is a cell as a piece of text, trimmed and with its spaces collapsed; a
// number is its shortest text. A cell that shows an error, or a formula that
// was never calculated, is a finding.
func Text(c grid.Cell) (string, Finding) {
	if f := unreadable(c); !f.None() {
		return "", f
	}
	if c.Kind == grid.Blank {
		return "", Finding{}
	}
	return strings.Join(strings.Fields(clean(c.Raw)), " "), Finding{}
}

func unreadable(c grid.Cell) Finding {
	switch c.Kind {
	case grid.Error:
		return bad(problem.CellError, "", c.Raw)
	case grid.NoValue:
		return bad(problem.CellError, "no-value", c.Raw)
	}
	return Finding{}
}
