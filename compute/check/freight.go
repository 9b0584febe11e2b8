package check

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// freight warns once where Materials have freight and Purchases none: what was
// bought costs what its purchases say, so that the freight of Materials is in no
// cost.
func (u *unusual) freight() {
	bought := map[*book.Material]bool{}
	for i := range u.book.Purchases {
		p := &u.book.Purchases[i]
		if p.Freight.State != cell.Blank {
			return
		}
		if p.Day <= u.upTo && p.Qty.OK() && p.Paid.OK() {
			bought[p.Material] = true
		}
	}
	n, first := 0, cell.Ref{}
	for _, m := range u.book.Materials {
		at, ok := packFreight(m)
		if !ok || !bought[m] {
			continue
		}
		if n++; n == 1 {
			first = at
		}
	}
	if n > 0 {
		u.found.Add(problem.Problem{
			Severity: problem.Warning, Code: problem.UnusualFigure, Say: "freight", At: first, Other: u.book.Heading(book.TPurchases), Args: []any{"n", n},
		})
	}
}

// packFreight is the cell of the first freight of a material's packs.
func packFreight(m *book.Material) (cell.Ref, bool) {
	for _, p := range m.Packs {
		if p.Freight.OK() && p.Freight.V.Sign() > 0 {
			return p.Freight.At, true
		}
	}
	return cell.Ref{}, false
}
