package unitcost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// Sold is what the engine asks of the sales: units of a product sold in a
// span of days, net of refunds, as a figure (a sum over rows).
type Sold interface {
	Units(p *book.Product, from, to day.Date) *calc.Figure
	// First is the first day with a line; false without sales.
	First() (day.Date, bool)
}

// Make is what a unit is made of: a product of the book, or a recipe in a jar
// that is not in it yet.
type Make struct {
	Recipe  *book.Recipe
	Jar     *book.Jar
	Finish  book.Finish
	Minutes *calc.Figure // minutes per unit; nil: the setting
	Fill    *calc.Figure // g; nil: the jar's own
	// Parts stands in for the jar's parts where it is not nil: cost of one
	// piece by kind, before the reject rate.
	Parts map[book.Kind]*calc.Figure
	// Label names the unit in explanations: a product's code, or recipe and finish.
	Label string
}

// Engine computes unit costs by month. It keeps what it has computed; it is not
// safe for concurrent use.
type Engine struct {
	Book     *book.Book
	Problems problem.List
	// as far as the roll goes: nothing after it is used
	upTo day.Date
	sold Sold
}
