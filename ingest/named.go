package ingest

import (
	"slices"
	"unicode"
	"unicode/utf8"

	"pourbook/compute/book"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// numberFields are the fields of sales and pours that hold numbers.
var numberFields = []string{"quantity", "units", "unit price", "line total", "discount"}

// maybeNames reports whether a column that was taken for numbers may hold names:
// its heading can mean something else too.
func (b *block) maybeNames(c column) bool {
	return (b.spec.name == book.TSales || b.spec.name == book.TPours) && slices.Contains(numberFields, c.field) &&
		c.sure < ownName && (c.sure <= weak || len(c.can) > 0)
}

// holdsNames reports whether most of the first filled cells of a column are
// texts that are no numbers.
func (b *block) holdsNames(index int) bool {
	names, all := 0, b.filled(index)
	for i := range all {
		if isName(&all[i]) {
			names++
		}
	}
	return 2*names > len(all)
}

// isName reports whether a text begins with a letter and is no number or amount
// of money, also not in a foreign way of writing it.
func isName(c *grid.Cell) bool {
	if c.Kind != grid.Text || blank(c) || isDay(*c) {
		return false
	}
	text, _ := parse.Text(*c)
	first, _ := utf8.DecodeRuneInString(text)
	return unicode.IsLetter(first) && notNumber(parse.Number(text, parse.Style{}).Finding)
}

// notNumber reports whether a text was neither a number nor a word for none.
func notNumber(f parse.Finding) bool {
	return f.Bad() && f.Code == problem.BadNumber && f.Say != "no-figure"
}

// named takes from a number's field a column under a heading that could be
// something else, where the first rows hold names. Another heading for the field
// has it then. Where the table has no product and only one column is such, the
// column is the product.
func (r *reader) named(b *block) {
	var names []column
	b.columns = slices.DeleteFunc(b.columns, func(c column) bool {
		if !b.maybeNames(c) || !b.holdsNames(c.index) {
			return false
		}
		names = append(names, c)
		return true
	})
	for _, c := range names {
		b.promote(c.field)
	}
	if !b.has("product") {
		b.doubles = slices.DeleteFunc(b.doubles, func(d [2]column) bool {
			if !b.maybeNames(d[1]) || !b.holdsNames(d[1].index) {
				return false
			}
			names = append(names, d[1])
			return true
		})
	}
	r.instead(b, names, "product", "names")
}

// promote gives a field to the first heading that lost it and holds no names;
// those that hold names are not read.
func (b *block) promote(field string) {
	left := b.doubles[:0]
	for _, d := range b.doubles {
		c := d[1]
		switch {
		case c.field != field || b.has(field) && !b.holdsNames(c.index):
			left = append(left, d)
		case b.holdsNames(c.index):
			b.unread = append(b.unread, c)
		default:
			b.columns = append(b.columns, c)
		}
	}
	b.doubles = left
	b.rightDoubles()
}
