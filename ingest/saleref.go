package ingest

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// reference is what a text refers to, once it has been asked.
type reference struct {
	asked   bool
	index   int32
	problem problem.Problem
}

// product is the product that a text of the product column names.
func (e *saleEnd) product(text int32) reference {
	ref := &e.products[text]
	if !ref.asked {
		ref.asked = true
		t, _ := parse.Text(grid.Cell{Kind: grid.Text, Raw: e.texts[sProduct].At(text)})
		ref.index, ref.problem = e.findProduct(cell.Text{V: t, State: cell.Typed})
		if ref.index >= 0 { // a note, said once
			defer func() { ref.problem = problem.Problem{} }()
		}
	}
	return *ref
}

// others are the references that a line can do without.
func (e *saleEnd) others(x *book.Sale) {
	x.Sheet = e.sheet
	if x.Channel > 0 {
		x.Channel = e.channel(x)
	}
	x.Order, x.Customer = e.spelling(sOrder, x.Order), e.spelling(sCustomer, x.Customer)
	if x.Market > 0 {
		at := e.b.at(int(x.Row), e.at[sMarket])
		x.Market = e.event(x.Market)
		e.market(x.Market, at)
	}
}

func (e *saleEnd) channel(x *book.Sale) int32 {
	id, ok := e.channels[x.Channel]
	if !ok {
		t := e.text(sChannel, x.Channel)
		if t.V == "" {
			return -1
		}
		t.At = e.b.at(int(x.Row), e.at[sChannel])
		id = e.channelOf(t)
		e.channels[x.Channel] = id
	}
	return id
}

func (e *saleEnd) text(f int, id int32) cell.Text {
	raw := e.texts[f].At(id)
	t, _ := parse.Text(grid.Cell{Kind: grid.Text, Raw: raw})
	return cell.Text{V: t, Raw: raw, State: cell.Typed}
}

// settle numbers a column's texts in the book; true where its numbers are the
// column's own.
func (e *saleEnd) settle(f int, all *spellings) bool {
	if all.adopt(&e.texts[f].Texts) {
		return true
	}
	numbers, same := make([]int32, e.texts[f].Len()), true
	for id := range numbers[1:] {
		n := all.of(e.text(f, int32(id+1)).V)
		numbers[id+1], same = n, same && n == int32(id+1)
	}
	if !same {
		e.spelled[f] = numbers
	}
	return same
}

// spelling is the book's number of a text of a column that is settled.
func (e *saleEnd) spelling(f int, id int32) int32 {
	if e.spelled[f] == nil {
		return id
	}
	return e.spelled[f][id]
}

// event is the book's number of a market.
func (e *saleEnd) event(id int32) int32 {
	n := &e.markets[id]
	if *n == 0 {
		t := e.text(sMarket, id).V
		if own := e.names.markets[cell.Fold(t)]; own != "" {
			t = own
		}
		*n = e.events.of(t)
	}
	return *n
}

// market keeps the first cell of a market that is not in Markets.
func (e *saleEnd) market(id int32, at cell.Ref) {
	if _, met := e.strangers[id]; !met && e.names.markets[cell.Fold(e.events.shown.At(id))] == "" {
		e.strangers[id] = at
	}
}
