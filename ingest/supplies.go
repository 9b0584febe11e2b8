package ingest

import (
	"slices"
	"strings"
	"sync"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// materials reads pack sizes, one a row; rows of one name are pack sizes of one
// material, other fields come from the first row that has them.
func (r *reader) materials(b *block) {
	r.sizesBelow(b)
	r.each(b, func(l *line) {
		name, kind := l.name("name"), l.name("kind")
		k, ok := kindOf(kind.V)
		bare := unit.None
		if ok && !k.Melted() {
			bare = unit.Count // pieces may be a bare number
		}
		size, dim := l.measure("pack size", bare, unit.Mass, unit.Volume, unit.Count)
		size = needed(l, "pack size", l.above0(size))
		price := needed(l, "pack price", l.money("pack price"))
		if saysUnfit(kind.V) {
			l.add(problem.Problem{Severity: problem.Warning, Code: problem.NotOilSoluble, Say: "kind", At: kind.At, Args: []any{"material", name.V, "kind", kind.V}})
		}
		if kind.OK() && !ok {
			l.refuse(problem.MissingField, "kind", kind.At, "read", kind.V, "known", strings.Join(kindNames(), ", "))
		}
		if l.out {
			return
		}
		m := r.names.materials[cell.Fold(name.V)]
		switch {
		case m == nil:
			m = &book.Material{Name: name, Kind: k, Dim: dim}
			r.names.materials[cell.Fold(name.V)] = m
			r.book.Materials = append(r.book.Materials, m)
		case m.Kind != k:
			l.out = true
			l.add(problem.Problem{
				Severity: problem.Error, Code: problem.Duplicate, Say: "kind", At: kind.At, Other: m.Name.At,
				Args: []any{"name", name.V, "kind", string(k), "first", string(m.Kind)},
			})
			return
		}
		if price.V.Sign() == 0 {
			l.add(problem.Problem{Severity: problem.Warning, Code: problem.ZeroPrice, Say: "pack", At: price.At, Args: []any{"material", name.V}})
		}
		m.Packs = append(m.Packs, book.Pack{Size: size, Dim: dim, Price: price, Freight: l.money("freight per pack"), At: size.At})
		l.properties(m)
	})
}

// properties are a material's other fields.
func (l *line) properties(m *book.Material) {
	first(&m.Supplier, l.text("supplier"))
	first(&m.LeadDays, l.number("lead days", "days", "day", "d"))
	first(&m.Density, l.above0(l.density("density")))
	first(&m.DropsPerML, l.above0(l.number("drops per ml", "drops", "drop")))
	first(&m.DropsPerGram, l.above0(l.number("drops per g", "drops", "drop")))
	first(&m.MaxLoad, l.share("max load %", parse.WholePercent))
	first(&m.FlashPoint, l.text("flash point"))
	first(&m.ContainsAdditive, l.yes("contains additive"))
	base := l.text("base")
	for _, word := range []string{"oil", "water"} {
		if strings.HasPrefix(normal(base.V), word) {
			base.V = word
		}
	}
	first(&m.Base, base)
	l.onHand(m)
}

// onHand adds what a row says is on hand to what the material's other rows said.
func (l *line) onHand(m *book.Material) {
	bare := unit.None
	if m.Dim == unit.Count {
		bare = unit.Count
	}
	have, dim := l.measure("on hand", bare)
	have = l.notNegative(have)
	if have.OK() && dim != m.Dim && have.V != 0 {
		v, ok := convert(have.V, dim, m, l.book)
		have.V = v
		if !ok {
			have = cell.Num{Raw: have.Raw, At: have.At, State: cell.Bad}
			code, say := problem.NoDensity, ""
			if dim == unit.Count || m.Dim == unit.Count {
				code, say = problem.BadUnit, "material"
			}
			l.add(problem.Problem{
				Severity: problem.Error, Code: code, Say: say, At: have.At,
				Args: []any{"material", m.Name.V, "own", m.Dim.String(), "unit", dim.String()},
			})
		}
	}
	switch {
	case have.State == cell.Blank || m.OnHand.State == cell.Bad:
	case m.OnHand.State == cell.Blank:
		m.OnHand = have
	case have.OK():
		m.OnHand.V += have.V
	default:
		m.OnHand.State, m.OnHand.V = cell.Bad, 0
	}
}

// convert turns mass into volume or back, where the material has a density.
func convert(v float64, dim unit.Dimension, m *book.Material, b *book.Book) (float64, bool) {
	_, _, d := b.Dosing(m)
	switch {
	case !d.OK() || d.V <= 0:
		return 0, false
	case dim == unit.Mass && m.Dim == unit.Volume:
		return v / d.V, true
	case dim == unit.Volume && m.Dim == unit.Mass:
		return v * d.V, true
	}
	return 0, false
}

// density is a density in g/mL; the unit may stand in the cell.
func (l *line) density(field string) cell.Num {
	c, at, col := l.at(field)
	if c.Kind == grid.Text {
		low := strings.ToLower(strings.ReplaceAll(c.Raw, " ", ""))
		for _, u := range []string{"g/ml", "g/cc", "kg/l", "gperml"} {
			if cut, ok := strings.CutSuffix(low, u); ok {
				c.Raw = cut
			}
		}
	}
	x := parse.NumberIn(c, col.style)
	l.found(x.Finding, at)
	return ifSure(l, field, x.Num(at))
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
		d, m := l.day("date"), l.material("material")
		l.worth = needed(l, "amount paid", l.money("amount paid"))
		paid := l.worth
		q, at := l.bought()
		if l.out {
			return
		}
		qty, pack, dim, ok := units(q, m)
		if q.Bare() && q.OK() {
			qty, pack, dim, ok = l.sized(q, m, qty, pack, dim, ok)
		}
		if l.out {
			return
		}
		if !ok {
			l.refuse(problem.NoUnit, "which-pack", at, "read", q.Raw, "material", m.Name.V)
			return
		}
		r.ahead(b, d)
		r.book.Purchases = append(r.book.Purchases, book.Purchase{
			Day: d.V, Material: m, Qty: cell.Num{V: qty, Raw: q.Raw, At: at, State: cell.Typed}, Pack: pack, Dim: dim, Paid: paid,
			Freight: l.money("freight"), Supplier: l.text("supplier"), Reference: l.text("reference"), At: d.At,
		})
	})
}

// sized are packs of the size that the row gives them; without one, or with one
// that only another row gives the unit of, what units made of them.
func (l *line) sized(q parse.Quantity, m *book.Material, qty, pack float64, dim unit.Dimension, ok bool) (float64, float64, unit.Dimension, bool) {
	c, at, col := l.at("pack size")
	c.Raw = packContents(c)
	size := parse.QuantityIn(c, col.style, parse.Units{Heading: col.unit})
	switch {
	case size.Blank || l.unsure("pack size"):
		return qty, pack, dim, ok
	case size.OK() && size.Bare() && m.Dim == unit.Count:
		size.Base, size.Unit.Dim = size.V, unit.Count
	case size.OK() && size.Bare() && ok:
		return qty, pack, dim, ok
	}
	l.found(size.Finding, at)
	if size.OK() && (size.Unit.Dim == unit.None || size.Base <= 0) {
		l.refuse(problem.BadUnit, "kind", at, "read", size.Raw, "field", "pack size", "want", wanted(nil))
	}
	if !size.OK() || l.out {
		l.out = true
		return 0, 0, unit.None, false
	}
	n := q.V
	if q.HasPacks {
		n = q.Packs
	}
	return n * size.Base, size.Base, size.Unit.Dim, true
}

// packContents is what a pack holds where a text says so: 24 of "case of 24",
// "24/case", "24 per case" and "24-pack", 45 lb of "45 lb box".
func packContents(c grid.Cell) string {
	if c.Kind != grid.Text {
		return c.Raw
	}
	text := strings.TrimSpace(c.Raw)
	if before, after, ok := strings.Cut(text, " of "); ok && slices.Contains(packWords(), normal(before)) {
		return after
	}
	for _, sign := range []string{"/", " per ", "-"} {
		before, after, ok := strings.Cut(text, sign)
		if ok && slices.Contains(packWords(), normal(after)) && strings.Trim(before, "0123456789, ") == "" {
			return before
		}
	}
	if i := strings.LastIndexByte(text, ' '); i > 0 && slices.Contains(packWords(), normal(text[i:])) && strings.Trim(text[:i], "0123456789., ") != "" {
		return text[:i]
	}
	return c.Raw
}

// packWords are units that say packs.
var packWords = sync.OnceValue(func() []string { return normals("read.packs") })

// bought is a purchase's quantity; the unit column may say packs.
func (l *line) bought() (parse.Quantity, cell.Ref) {
	c, at, col := l.at("quantity")
	u := parse.Units{Column: l.text("unit").V, Heading: col.unit}
	for _, w := range []*string{&u.Column, &u.Heading} {
		if slices.Contains(packWords(), normal(*w)) {
			*w = ""
		}
	}
	if c.Kind == grid.Text {
		c.Raw = dropPackWord(c.Raw)
	}
	q := parse.QuantityIn(c, col.style, u)
	l.found(q.Finding, at)
	switch {
	case q.Blank && !l.unsure("quantity"):
		l.lacks("quantity")
	case !q.OK() || l.unsure("quantity"):
		l.out = true
	}
	return q, at
}

// dropPackWord makes "2 bottles" 2.
func dropPackWord(s string) string {
	t := strings.TrimSpace(s)
	i := strings.LastIndexByte(t, ' ')
	if i > 0 && slices.Contains(packWords(), normal(t[i:])) && strings.Trim(t[:i], "0123456789., ") == "" {
		return t[:i]
	}
	return s
}

// units is a purchase's quantity in base units of its dimension, and the size of
// a pack of it, 0 where it is an amount.
func units(q parse.Quantity, m *book.Material) (qty, pack float64, dim unit.Dimension, ok bool) {
	switch {
	case q.Rate != nil:
		return 0, 0, unit.None, false
	case q.HasPacks && q.Unit.Dim != unit.None:
		return q.Packs * q.Base, q.Base, q.Unit.Dim, true
	case !q.Bare():
		return q.Base, 0, q.Unit.Dim, true
	}
	for _, p := range m.Packs[1:] {
		if p.Size.V != m.Packs[0].Size.V || p.Dim != m.Packs[0].Dim {
			return 0, 0, unit.None, false
		}
	}
	n := q.V
	if q.HasPacks {
		n = q.Packs
	}
	return n * m.Packs[0].Size.V, m.Packs[0].Size.V, m.Packs[0].Dim, true
}
