package check

import (
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unitcost"
)

// Beyond these a figure can be right but seldom is; common practice, no source.
const (
	// farPrice is how many times its median a price is when a decimal point has
	// slipped; it speaks from there on, since a slip gives exactly ten.
	farPrice = 10
	// fewest is how many prices make a median that one of them can be held against.
	fewest = 3
	// packChange is the most that the price of a pack changes from one purchase to the next.
	packChange = 3
	// farYears is the most years between a date and the next of its table, and
	// strays the part of the rows that may lie beyond such a gap.
	farYears = 5
	strays   = 1. / 4
	// longNumber is the least number of seven digits, as a phone number has.
	longNumber = 1_000_000
	// highFee is the most of a sale that a channel takes.
	highFee = 0.40
	// highLoad is the most fragrance on the weight of the wax.
	highLoad = 0.14
	// dropsTimes is the multiple of the drop limit that is hardly a deep color any more.
	dropsTimes = 2
	// listed is how many findings of a kind are said one by one.
	listed = 3
)

// Kind is a kind of figure that can be right but seldom is.
type Kind uint8

// The kinds: unit prices of sales; quantities; dates; what purchases cost;
// fees of channels; sales without a channel; products that cost more than they
// bring.
const (
	SalePrices Kind = iota
	Quantities
	Dates
	Purchases
	Fees
	Nowhere
	Losses
)

// Unusual warns of figures that are far from what they usually are, from the
// lines of sales that were looked at and other rows dated up to a day; losses are at the cost of the day's month. No figure is
// changed. Of many of a kind the first is said, with their number.
func Unusual(l *Lines, e *unitcost.Engine, upTo day.Date, kinds ...Kind) problem.List {
	u := &unusual{book: l.book, engine: e, upTo: upTo, lines: l}
	for _, k := range kinds {
		switch k {
		case SalePrices:
			u.salePrices()
		case Quantities:
			u.quantities()
		case Dates:
			u.dates()
		case Purchases:
			u.purchases()
			u.freight()
		case Fees:
			u.fees()
		case Nowhere:
			u.nowhere()
		case Losses:
			u.losses()
		}
	}
	return u.found
}

type unusual struct {
	book   *book.Book
	engine *unitcost.Engine
	upTo   day.Date
	lines  *Lines
	found  problem.List
}

// finding is a warning that n rows give rise to; the first of them is its place.
type finding struct {
	problem.Problem
	n int
}

func warning(code problem.Code, say string, at cell.Ref, args ...any) finding {
	return finding{problem.Problem{Severity: problem.Warning, Code: code, Say: say, At: at, Args: args}, 1}
}

// say adds findings of one kind; of many only the first in the book, with the
// number of rows.
func (u *unusual) say(all []finding) {
	if len(all) <= listed {
		for _, f := range all {
			f.Args = append(f.Args, "n", f.n)
			u.found.Add(f.Problem)
		}
		return
	}
	first, n := all[0], 0
	for _, f := range all {
		n += f.n
		if before(f.At, first.At) {
			first = f
		}
	}
	first.Say += ".many"
	first.Args = append(first.Args, "n", n)
	u.found.Add(first.Problem)
}

func before(a, b cell.Ref) bool {
	if c := strings.Compare(a.Sheet, b.Sheet); c != 0 {
		return c < 0
	}
	return a.Row < b.Row
}

// place is the cell of the first of the fields that the row's table has, else
// the place given for the row.
func (u *unusual) place(t book.TableName, row cell.Ref, fields ...string) cell.Ref {
	var table *book.Table
	for i := range u.book.Tables {
		x := &u.book.Tables[i]
		if x.Table == t && x.Heading.Sheet == row.Sheet && x.Heading.Row < row.Row && (table == nil || x.Heading.Row > table.Heading.Row) {
			table = x
		}
	}
	if table == nil {
		return row
	}
	for _, name := range fields {
		for _, f := range table.Fields {
			if f.Name == name {
				return cell.Ref{Sheet: row.Sheet, Row: row.Row, Col: f.At.Col}
			}
		}
	}
	return row
}

// amount is money as it is shown, to the minor unit of the book's currency.
func (u *unusual) amount(v float64) string {
	places := int32(2)
	switch minor := money.Minor(u.book.Settings.Text(book.Currency).V).Float64(); {
	case minor >= 1:
		places = 0
	case minor < 0.01:
		places = 3
	}
	return money.Show(v, places)
}
