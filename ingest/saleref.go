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
	x.Order = e.spelling(sOrder, x.Order, &e.orders)
	x.Customer = e.spelling(sCustomer, x.Customer, &e.customers)
	if x.Market > 0 {
		at := e.b.at(int(x.Row), e.at[sMarket])
		x.Market = e.spelling(sMarket, x.Market, &e.events)
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

// spelling is the book's number of a text of the column.
func (e *saleEnd) spelling(f int, id int32, all *spellings) int32 {
	if id <= 0 {
		return 0
	}
	if e.adopted[f] {
		return id
	}
	if e.spelled[f] == nil {
		e.spelled[f] = make([]int32, e.texts[f].Len())
	}
	if e.spelled[f][id] == 0 {
		t := e.text(f, id).V
		if f == sMarket {
			if own := e.names.markets[cell.Fold(t)]; own != "" {
				t = own
			}
		}
		e.spelled[f][id] = all.of(t)
	}
	return e.spelled[f][id]
}

// market keeps the first cell of a market that is not in Markets.
func (e *saleEnd) market(id int32, at cell.Ref) {
	if _, met := e.strangers[id]; !met && e.names.markets[cell.Fold(e.events.shown.At(id))] == "" {
		e.strangers[id] = at
	}
}
