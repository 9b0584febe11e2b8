// Package plandoc is what the documents of a plan and the terminal say alike,
// as words and rows, before anything is drawn.
package plandoc

import (
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/plan"
	"pourbook/report/show"
	"pourbook/templates"
)

// Row is a line of a comparison: the book as it is, and under the changes.
// Same is set where both are shown alike.
type Row struct {
	Name, Before, After string
	Same                bool
}

// Changes lists what is changed, with what the book says.
func Changes(w *plan.WhatIf) []Row {
	var out []Row
	for _, c := range w.Changes {
		out = append(out, row(c.Name, orUnset(c.Was), c.Value))
	}
	return out
}

func orUnset(s string) string {
	if s == "" {
		return templates.Text("plan.what-if.unset")
	}
	return s
}

func row(name, before, after string) Row { return Row{name, before, after, before == after} }

// Supposing names the changes in one text: "expected units = 150, ...".
func Supposing(w *plan.WhatIf) string {
	var out []string
	for _, c := range w.Changes {
		out = append(out, c.Name+" = "+c.Value)
	}
	return strings.Join(out, ", ")
}

// Totals are what both plans come to; Before is a dash where the book as it is
// allows no plan. Lines that neither plan has are left out.
func Totals(w *plan.WhatIf, money show.Currency) []Row {
	var out []Row
	for _, x := range []struct {
		key string
		of  func(*plan.Totals) string
	}{
		{"expected", func(t *plan.Totals) string { return figure(t.ExpectedTotal, show.Units) }},
		{"contribution", func(t *plan.Totals) string { return figure(t.Contribution, money.Amount) }},
		{"units", func(t *plan.Totals) string { return count(t.Units) }},
		{"pours", func(t *plan.Totals) string { return count(t.Pours) }},
		{"days", func(t *plan.Totals) string { return count(t.Days) }},
		{"minutes", func(t *plan.Totals) string {
			return figure(t.Minutes, func(f *calc.Figure) string { return show.Decimal(f, 0) })
		}},
		{"orders", func(t *plan.Totals) string { return figure(t.OrderCost, money.Amount) }},
		{"left", func(t *plan.Totals) string { return count(t.LeftOut) }},
	} {
		before, after := show.Unknown, x.of(w.After)
		if w.Before != nil {
			before = x.of(w.Before)
		}
		if before != show.Unknown || after != show.Unknown {
			out = append(out, row(templates.Text("plan.what-if."+x.key), before, after))
		}
	}
	return out
}

// Product is a product of which another number is brought or poured.
type Product struct {
	Name                                           string
	BringBefore, BringAfter, PourBefore, PourAfter string
}

// Products lists the products that the changes concern.
func Products(w *plan.WhatIf) []Product {
	var out []Product
	for _, x := range w.Differ() {
		name := x.After.Product
		if x.After.Of != nil && x.After.Of.Title() != "" {
			name = x.After.Of.Title()
		}
		out = append(out, Product{name, count(x.Before.Bring), count(x.After.Bring), count(x.Before.Pour), count(x.After.Pour)})
	}
	return out
}

// Finding says in a sentence what the changes do.
func Finding(w *plan.WhatIf, money show.Currency) string {
	what := Supposing(w)
	if w.Before == nil {
		return templates.Text("plan.what-if.found.none", "what", what)
	}
	before, after := money.Amount(w.Before.Contribution), money.Amount(w.After.Contribution)
	if w.Before.Contribution.Known() && w.After.Contribution.Known() && before != after {
		return templates.Text("plan.what-if.found.contribution", "what", what, "before", before, "after", after)
	}
	for _, r := range Totals(w, money) {
		if !r.Same {
			return templates.Text("plan.what-if.found.units", "what", what, "before", w.Before.Units, "after", w.After.Units,
				"pours-before", w.Before.Pours, "pours-after", w.After.Pours)
		}
	}
	if len(w.Differ()) > 0 {
		return templates.Text("plan.what-if.found.products", "what", what)
	}
	return templates.Text("plan.what-if.found.same", "what", what)
}

func figure(f *calc.Figure, text func(*calc.Figure) string) string {
	if !f.Known() {
		return show.Unknown
	}
	return text(f)
}

func count(n int) string { return show.Decimals(float64(n), 0) }
