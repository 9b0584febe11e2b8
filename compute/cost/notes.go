package cost

import (
	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/check"
	"pourbook/compute/problem"
	"pourbook/compute/unitcost"
)

// notes collects the problems of the parts, and the defaults that mattered.
func (r *run) notes() {
	out := &r.res.Problems
	r.left()
	unitcost.NoteDefaults(out, r.reported()...)
	unitcost.NoteBareJars(out, r.book.Products)
	unitcost.NoteUnscented(out, r.book.Products)
	r.choices()
	out.Join(r.ledger.Problems)
	out.Join(check.Unusual(r.looked, r.engine, r.period.To, check.SalePrices, check.Quantities, check.Dates, check.Purchases, check.Fees, check.Nowhere, check.Losses))
	out.Join(r.engine.Problems)
}

// reported are the figures of the result that rest on inputs.
func (r *run) reported() []*calc.Figure {
	var out []*calc.Figure
	for _, p := range r.res.Products {
		if p.Grams != nil {
			out = append(out, p.Grams.Wax, p.Grams.Fragrance, p.Grams.Dye, p.Grams.Additive, p.Drops)
		}
		if p.UnitCost != nil {
			out = append(out, p.UnitCost.Total)
		}
		out = append(out, p.LaborMinutes, p.UsualBatch)
	}
	t := r.res.Totals
	out = append(out, t.Contribution, t.GrossMargin, t.Overhead, t.StockDifferences)
	out = append(out, r.usage.reported()...)
	for _, s := range r.res.Stock {
		out = append(out, s.Opening, s.Used, s.Closing, s.Value)
	}
	for _, s := range r.res.Shelves {
		if !s.Wholesale() {
			continue
		}
		for _, x := range s.Prices {
			out = append(out, x.Margin)
		}
	}
	return append(out, r.res.Split.DropColor.Saved, r.engine.Setting(book.TargetMargin))
}

// choices notes the defaults that are no numbers.
func (r *run) choices() {
	note := func(say string, args ...any) {
		r.res.Problems.Add(problem.Problem{Severity: problem.Note, Code: problem.DefaultUsed, Say: say, Args: args})
	}
	for s, value := range map[book.Setting]string{book.CostMethod: r.res.Basis.CostMethod, book.Currency: r.res.Currency} {
		if x := r.book.Settings.Text(s); x.State == cell.Blank || x.State == cell.Assumed {
			note("setting", "what", string(s), "value", value)
		}
	}
	if r.ledger.Seasons.Assumed() {
		note("seasons")
	}
}

// left says how much money stands on products whose cost cannot be computed.
func (r *run) left() {
	for i, p := range r.res.Products {
		if p.CostOfSales.Known() || r.lines[i] == nil {
			continue
		}
		net, ok := p.NetSales.Value()
		r.res.Problems.Add(problem.Problem{
			Severity: problem.Error, Code: problem.MissingField, Say: "not-costed", At: p.Of.Code.At,
			Args: []any{"product", p.Product}, Amount: net, HasAmount: ok,
		})
	}
}
