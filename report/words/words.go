// Package words turns what the program found into sentences: the problems of a
// book, the faults of a file. The sentences themselves stand in templates.
package words

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/templates"
)

// Problem is a problem in words. Amount is nil where no money stands on it.
type Problem struct {
	Severity problem.Severity `json:"severity"`
	Code     problem.Code     `json:"code"`
	Sheet    string           `json:"sheet,omitempty"`
	Cell     string           `json:"cell,omitempty"`
	Message  string           `json:"message"`
	Hint     string           `json:"hint,omitempty"`
	Amount   *float64         `json:"amount,omitempty"`
}

// Place is where the problem is, such as "Sales!D17"; "" for the whole book.
func (p Problem) Place() string {
	if p.Cell == "" {
		return p.Sheet
	}
	return p.Sheet + "!" + p.Cell
}

// Of is p in words.
func Of(p problem.Problem) Problem {
	key := "problem." + string(p.Code)
	if p.Say != "" {
		key += "." + p.Say
	}
	args := p.Args
	if !p.Other.None() {
		args = append(append([]any{}, args...), "other", p.Other.String())
	}
	out := Problem{
		Severity: p.Severity, Code: p.Code, Sheet: p.At.Sheet, Cell: p.At.Name(),
		Message: templates.Text(key, args...),
	}
	if templates.Has(key + ".hint") {
		out.Hint = templates.Text(key+".hint", args...)
	}
	if p.HasAmount {
		out.Amount = &p.Amount
	}
	return out
}

// All is every problem in words, in the list's order, never nil.
func All(l problem.List) []Problem {
	out := []Problem{}
	for _, p := range l.Sorted() {
		out = append(out, Of(p))
	}
	return out
}

// Group is problems of one kind: the first, and how many more like it there
// are in the same column.
type Group struct {
	Problem
	More int
	// Column is the column's letters, "" where they stand on several sheets; Money adds up what stands on the rows.
	Column string
	Money  float64
	// Follows: they go when another problem is mended.
	Follows bool
}

// Grouped puts problems that repeat in one column of a sheet behind the first
// of them; of names that nothing has, each is one group.
func Grouped(l problem.List) []Group {
	type key struct {
		code   problem.Code
		say    string
		sheet  string
		column int
		name   string
	}
	var out []Group
	at := map[key]int{}
	for _, p := range l.Sorted() {
		k := key{p.Code, p.Say, p.At.Sheet, p.At.Col, unknownName(p)}
		if p.Say == "example" {
			k.sheet, k.column = "", 0
		}
		if i, ok := at[k]; ok && p.At.Row > 0 {
			out[i].More++
			out[i].Money += p.Amount
			if p.At.Sheet != out[i].Sheet {
				out[i].Column = ""
			}
			continue
		}
		at[k] = len(out)
		w := Of(p)
		out = append(out, Group{Problem: w, Column: strings.TrimRight(p.At.Name(), "0123456789"), Money: p.Amount, Follows: p.Follows()})
	}
	return out
}

// BySeverity sorts groups: errors, then warnings, then notes, of each what goes
// when another is mended last; else as they were.
func BySeverity(groups []Group) []Group {
	rank := []problem.Severity{problem.Error, problem.Warning, problem.Note}
	slices.SortStableFunc(groups, func(x, y Group) int {
		c := cmp.Compare(slices.Index(rank, x.Severity), slices.Index(rank, y.Severity))
		switch {
		case c != 0 || x.Follows == y.Follows:
			return c
		case x.Follows:
			return 1
		}
		return -1
	})
	return groups
}

// Pressing is BySeverity, of each what most money stands on first.
func Pressing(groups []Group) []Group {
	slices.SortStableFunc(groups, func(x, y Group) int { return cmp.Compare(y.Money, x.Money) })
	return BySeverity(groups)
}

// unknownName is the name that a problem of an unknown reference is about.
func unknownName(p problem.Problem) string {
	if len(p.Args) < 2 || !strings.HasPrefix(string(p.Code), "unknown-") {
		return ""
	}
	return cell.Fold(fmt.Sprint(p.Args[1]))
}

// Fault is why a file cannot be read or written, in words.
func Fault(path, key string, args []any) string {
	s := path + ": " + templates.Text("file."+key, args...)
	if hint := "file." + key + ".hint"; templates.Has(hint) {
		s += " " + templates.Text(hint, args...)
	}
	return s
}
