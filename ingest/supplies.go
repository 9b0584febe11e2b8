package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/parse"
)

// kindWords are further names of the kinds of material.
var kindWords = map[string]book.Kind{
	"fragrance oil": book.Fragrance, "fo": book.Fragrance, "scent": book.Fragrance, "oil": book.Fragrance, "essential oil": book.Fragrance,
	"color": book.Dye, "colorant": book.Dye, "dye chips": book.Dye, "liquid dye": book.Dye, "container": book.JarKind, "vessel": book.JarKind,
	"tin": book.JarKind, "glass": book.JarKind, "warning label": book.Label, "sticker": book.Label, "box": book.Packaging, "bag": book.Packaging,
	"package": book.Packaging, "shipping": book.Packaging, "polymer": book.Additive, "misc": book.Other,
}

func kindOf(s string) (book.Kind, bool) {
	n := normal(s)
	for _, form := range []string{n, strings.TrimSuffix(n, "s"), strings.TrimSuffix(n, "es")} {
		if slices.Contains(book.Kinds, book.Kind(form)) {
			return book.Kind(form), true
		}
		if k, ok := kindWords[form]; ok {
			return k, true
		}
	}
	return "", false
}

// materials reads a block of Materials: rows of one name are pack sizes of one
// material, other fields come from the first row that has them.
func (r *reader) materials(b *block) {
	if r.names.materials == nil {
		r.names.materials = map[string]*book.Material{}
	}
	r.each(b, func(l *line) {
		name, kind := l.name("name"), l.name("kind")
		size, dim := l.measure("pack size", "pack unit", unit.None)
		price := l.neededMoney("pack price", l.money("pack price"))
		l.needed("pack size", size)
		if !l.out && size.V <= 0 {
			l.out = true
			l.add(problem.Problem{Severity: problem.Error, Code: problem.BadNumber, Say: "not-positive", At: size.At, Args: []any{"read", size.Raw}})
		}
		k, ok := kindOf(kind.V)
		if kind.OK() && !ok {
			l.out = true
			l.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "kind", At: kind.At, Args: []any{"read", kind.V}})
		}
		if l.out {
			return
		}
		m := r.names.materials[cell.Fold(name.V)]
		if m == nil {
			m = &book.Material{Name: name, Kind: k, Dim: dim}
			r.names.materials[cell.Fold(name.V)] = m
			r.book.Materials = append(r.book.Materials, m)
		} else if m.Kind != k {
			l.twice(kind, m.Name)
			return
		}
		m.Packs = append(m.Packs, book.Pack{Size: size, Dim: dim, Price: price, Freight: l.money("freight per pack"), At: size.At})
		l.properties(m)
	})
}

func (l *line) properties(m *book.Material) {
	first(&m.Supplier, l.text("supplier"))
	first(&m.LeadDays, l.number("lead days", "day", "days"))
	first(&m.Density, l.density("density"))
	first(&m.DropsPerML, l.number("drops per ml"))
	first(&m.DropsPerGram, l.number("drops per g"))
	first(&m.MaxLoad, l.percent("max load %", parse.WholePercent))
	first(&m.FlashPoint, l.text("flash point"))
	first(&m.ContainsAdditive, l.yes("contains additive"))
	base := l.text("base")
	base.V = strings.TrimSuffix(strings.TrimSuffix(normal(base.V), " soluble"), " based")
	first(&m.Base, base)
	have, dim := l.measure("on hand", "on hand unit", m.Dim)
	switch {
	case have.State == cell.Blank:
	case have.OK() && dim != m.Dim && dim != unit.None:
		if v, ok := convert(have.V, dim, m); ok {
			have.V = v
		} else {
			have = cell.Num{Raw: have.Raw, At: have.At, State: cell.Bad}
			l.add(problem.Problem{Severity: problem.Error, Code: problem.NoDensity, At: have.At, Args: []any{"material", m.Name.V}})
		}
	}
	switch {
	case have.State == cell.Blank:
	case !m.OnHand.OK():
		if m.OnHand.State != cell.Bad {
			m.OnHand = have
		}
	case have.OK():
		m.OnHand.V += have.V
	default:
		m.OnHand.State, m.OnHand.V = cell.Bad, 0
	}
}

// convert turns mass into volume or back, where the material has a density.
func convert(v float64, dim unit.Dimension, m *book.Material) (float64, bool) {
	d := m.Density.V
	if m.Kind == book.Dye && !m.Density.OK() {
		d = 0.9
	}
	switch {
	case d <= 0:
		return 0, false
	case dim == unit.Mass && m.Dim == unit.Volume:
		return v / d, true
	case dim == unit.Volume && m.Dim == unit.Mass:
		return v * d, true
	}
	return 0, false
}

// density is a density in g/mL; the unit may stand in the cell.
func (l *line) density(field string) cell.Num {
	c, at, col := l.at(field)
	c.Raw = strings.TrimSuffix(strings.TrimSpace(strings.ToLower(c.Raw)), "g/ml")
	x := parse.NumberIn(c, col.style)
	l.found(x.Finding, at)
	return x.Num(at)
}

// first keeps what was read first.
func first[T any](have *cell.Of[T], next cell.Of[T]) {
	if have.State == cell.Blank {
		*have = next
	}
}

// purchases reads what was bought. A bare number is packs.
func (r *reader) purchases(b *block) {
	r.each(b, func(l *line) {
		d := l.day("date")
		paid := l.neededMoney("amount paid", l.money("amount paid"))
		m := l.material("material")
		q, at := l.amount("quantity", "unit")
		switch {
		case q.Blank:
			l.lacks("quantity")
		case !q.OK():
			l.out = true
		}
		if l.out {
			return
		}
		qty, dim, ok := bought(q, m)
		if !ok {
			l.out = true
			l.add(problem.Problem{Severity: problem.Error, Code: problem.NoUnit, Say: "which-pack", At: at,
				Args: []any{"read", q.Raw, "material", m.Name.V}, Amount: paid.V.Float64(), HasAmount: true})
			return
		}
		r.book.Purchases = append(r.book.Purchases, book.Purchase{
			Day: d.V, Material: m, Qty: cell.Num{V: qty, Raw: q.Raw, At: at, State: cell.Typed}, Dim: dim, Paid: paid,
			Freight: l.money("freight"), Supplier: l.text("supplier"), Reference: l.text("reference"), At: d.At,
		})
	})
}

// bought is a purchase's quantity in base units of its dimension.
func bought(q parse.Quantity, m *book.Material) (float64, unit.Dimension, bool) {
	switch {
	case q.Rate != nil:
		return 0, unit.None, false
	case q.HasPacks && q.Unit.Dim != unit.None:
		return q.Packs * q.Base, q.Unit.Dim, true
	case !q.Bare():
		return q.Base, q.Unit.Dim, true
	case len(m.Packs) == 1:
		n := q.V
		if q.HasPacks {
			n = q.Packs
		}
		return n * m.Packs[0].Size.V, m.Packs[0].Dim, true
	}
	return 0, unit.None, false
}
