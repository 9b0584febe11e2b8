package costdoc

import "pourbook/compute/book"

// Notes are what was taken for granted; the problems of the book are the
// renderer's to list, since every document does.
type Notes struct {
	Head
	Terms []string // what the sums take for granted
	Lacks []string // parts of the report that the book does not allow
}

func (m *maker) notes() *Notes {
	n := &Notes{Terms: m.terms(), Lacks: m.lacks()}
	n.Head = Head{Title: text("cost.notes.title"), Subtitle: text("cost.notes.subtitle"), Facts: m.facts(), Finding: Found(m.r.Problems, m.money)}
	return n
}

func (m *maker) terms() []string {
	out := []string{text("cost.month.terms"), text("cost.term.month"), text("cost.term.refunds"), text("cost.term.tax")}
	if k := m.r.Basis.Use; k != "" {
		out = append(out, text("cost.term.use."+k))
	}
	if k := m.r.Basis.CostMethod; k != "" {
		out = append(out, text("cost.term.method."+k))
	}
	if len(m.r.Change) > 0 {
		out = append(out, text("cost.change.terms"))
	}
	return append(out, text("cost.term.margin"))
}

// lacks says which parts are missing and what would bring them.
func (m *maker) lacks() []string {
	var out []string
	add := func(missing bool, key string) {
		if missing {
			out = append(out, text("cost.lack."+key))
		}
	}
	month := m.r.Period.OneMonth()
	add(!month, "change")
	add(month && m.r.Previous == nil, "previous")
	add(month && m.r.YearAgo == nil, "year-ago")
	add(len(m.r.Use) == 0, "use")
	add(sold(&m.r.Split.Overall) == 0, "split")
	add(sold(&m.r.Split.Overall) > 0 && m.customers() == nil, "customers")
	add(len(m.r.Stock) == 0, "stock")
	add(len(m.b.Overheads) == 0 && m.setting(book.OverheadMonth).Or(0) == 0, "overheads")
	return out
}
