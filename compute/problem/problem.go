// Package problem holds what is wrong with a book, as data: a code, a place
// and the facts. The words stand in templates.
package problem

import (
	"fmt"
	"slices"
	"strings"

	"pourbook/compute/cell"
)

// Severity ranks a problem.
type Severity string

const (
	// Error: a row or a figure is left out.
	Error Severity = "error"
	// Warning: a figure is there, but look at it.
	Warning Severity = "warning"
	// Note: something was done that the maker should know.
	Note Severity = "note"
)

// Code is one of the closed list Codes.
type Code string

// The codes.
const (
	UnknownProduct   Code = "unknown-product"
	UnknownMaterial  Code = "unknown-material"
	UnknownRecipe    Code = "unknown-recipe"
	UnknownJar       Code = "unknown-jar"
	UnknownChannel   Code = "unknown-channel"
	UnknownMarket    Code = "unknown-market"
	BadNumber        Code = "bad-number"
	BadDate          Code = "bad-date"
	BadUnit          Code = "bad-unit"
	NoUnit           Code = "no-unit"
	NoDensity        Code = "no-density"
	MissingField     Code = "missing-field"
	MissingTable     Code = "missing-table"
	Duplicate        Code = "duplicate"
	AmbiguousName    Code = "ambiguous-name"
	AmbiguousHeading Code = "ambiguous-heading"
	PercentFraction  Code = "percent-as-fraction"
	NumberStyle      Code = "number-style"
	CellError        Code = "cell-error"
	SeasonGap        Code = "season-gap"
	SeasonOverlap    Code = "season-overlap"
	BlendOver100     Code = "blend-over-100"
	OverMaxLoad      Code = "over-max-load"
	OverDropLimit    Code = "over-drop-limit"
	NotOilSoluble    Code = "not-oil-soluble"
	DoubleAdditive   Code = "double-additive"
	UntestedFinish   Code = "untested-finish"
	NoDye            Code = "no-dye"
	PurchaseShortage Code = "purchase-shortage"
	NegativeUnits    Code = "negative-units"
	ZeroPrice        Code = "zero-price"
	NoListPrice      Code = "no-list-price"
	TotalMismatch    Code = "total-mismatch"
	UnusualFigure    Code = "unusual-figure"
	FutureDate       Code = "future-date"
	MissingGlyph     Code = "missing-glyph"
	TotalsRow        Code = "totals-row"
	HiddenRow        Code = "hidden-row"
	UnreadSheet      Code = "unread-sheet"
	DefaultUsed      Code = "default-used"
)

// Codes is the closed list, in the order in which the README explains them.
var Codes = []Code{
	UnknownProduct, UnknownMaterial, UnknownRecipe, UnknownJar, UnknownChannel, UnknownMarket,
	BadNumber, BadDate, BadUnit, NoUnit, NoDensity, MissingField, MissingTable, Duplicate,
	AmbiguousName, AmbiguousHeading, PercentFraction, NumberStyle, CellError, SeasonGap, SeasonOverlap,
	BlendOver100, OverMaxLoad, OverDropLimit, NotOilSoluble, DoubleAdditive, UntestedFinish, NoDye,
	PurchaseShortage, NegativeUnits, ZeroPrice, NoListPrice, TotalMismatch, UnusualFigure, FutureDate, MissingGlyph,
	TotalsRow, HiddenRow, UnreadSheet, DefaultUsed,
}

// Problem is one finding. Its message and hint are the texts
// "problem.<code>.<Say>" and "problem.<code>.<Say>.hint" of templates
// (without ".<Say>" where Say is ""), filled from Args.
type Problem struct {
	Severity Severity
	Code     Code
	Say      string
	At       cell.Ref
	Other    cell.Ref
	// Args are names and values in turn, for the words.
	Args []any
	// Amount is the money that stands on what was left out, in the book's currency.
	Amount    float64
	HasAmount bool
}

// consequences are what problems say that go when another one is mended.
var consequences = []string{"left-out", "left-out-part", "left-out-row", "unit-cost", "not-costed", "not-priced"}

// Follows reports whether p goes when another problem is mended.
func (p Problem) Follows() bool { return slices.Contains(consequences, p.Say) }

// List collects problems. The zero value is ready; it is not safe for
// concurrent use.
type List struct {
	all []Problem
}

// Add appends p.
func (l *List) Add(p Problem) { l.all = append(l.all, p) }

// Join appends all of other.
func (l *List) Join(other List) { l.all = append(l.all, other.all...) }

// Sorted is the problems by sheet, row and column, then severity, code and what
// they say, without repetitions.
func (l *List) Sorted() []Problem {
	out := slices.Clone(l.all)
	slices.SortStableFunc(out, compare)
	return slices.CompactFunc(out, func(a, b Problem) bool {
		return compare(a, b) == 0
	})
}

// HasErrors reports whether any problem is an Error.
func (l *List) HasErrors() bool {
	return slices.ContainsFunc(l.all, func(p Problem) bool { return p.Severity == Error })
}

func compare(a, b Problem) int {
	if c := strings.Compare(a.At.Sheet, b.At.Sheet); c != 0 {
		return c
	}
	if c := a.At.Row - b.At.Row; c != 0 {
		return c
	}
	if c := a.At.Col - b.At.Col; c != 0 {
		return c
	}
	if c := strings.Compare(string(a.Severity), string(b.Severity)); c != 0 {
		return c
	}
	if c := strings.Compare(string(a.Code), string(b.Code)); c != 0 {
		return c
	}
	if c := strings.Compare(a.Say, b.Say); c != 0 {
		return c
	}
	return strings.Compare(fmt.Sprint(a.Args...), fmt.Sprint(b.Args...))
}
