package ingest

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/money"
	"pourbook/compute/problem"
)

// stranger is what was sold at a market that is not in Markets.
type stranger struct {
	lines int
	units money.Amount // net of refunds
}

// tellStrangers warns of the markets of sales that are not in Markets, each once, at
// its first cell and with what plans miss.
func (r *reader) tellStrangers() {
	if len(r.strangers) == 0 {
		return
	}
	sold := make([]stranger, r.events.shown.Len())
	all := &r.book.Sales
	places, amounts := all.Places(), all.Amounts()
	for part := range all.Stretches(0, all.Len(), book.Places|book.Amounts) {
		for i, p := range part.Places {
			s := &sold[places[p].Market]
			s.lines++
			s.units = s.units.Add(amounts[part.Amounts[i]].Units())
		}
	}
	known := spelled(r.book.Markets, func(m *book.Market) string { return m.Name.V })
	for id, at := range r.strangers {
		p := strange(problem.UnknownMarket, problem.Warning, cell.Text{V: r.events.shown.At(id), At: at}, known)
		p.Args = append(p.Args, "lines", sold[id].lines, "units", sold[id].units.String())
		if p.Say == "near" {
			p.Say = "near-sold"
		} else {
			p.Say = "sold"
		}
		r.add(p)
	}
}
