package ingest

import (
	"sync"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/parse"
)

// ahead counts the dates of a table that lie after today.
func (r *reader) ahead(b *block, d book.Date) {
	if r.opts.Today == day.None || r.opts.Today == 0 || d.V <= r.opts.Today {
		return
	}
	if b.ahead == 0 {
		b.firstAhead = d
	}
	b.ahead++
}

// sayAhead warns once of a table's dates after today.
func (r *reader) sayAhead(b *block) {
	if b.ahead > 0 {
		r.add(problem.Problem{
			Severity: problem.Warning, Code: problem.FutureDate, Say: "rows", At: b.firstAhead.At,
			Args: []any{"n", b.ahead, "day", b.firstAhead.V.String(), "table", string(b.spec.name), "today", r.opts.Today.String()},
		})
	}
}

func (r *reader) markets(b *block) {
	r.each(b, func(l *line) {
		name, d := l.name("market"), l.day("date")
		if l.out {
			return
		}
		for _, m := range r.book.Markets {
			if cell.Fold(m.Name.V) == cell.Fold(name.V) && m.Day == d.V {
				l.twice(name, m.Name.At)
				return
			}
		}
		m := &book.Market{
			Name: name, Day: d.V, Days: l.above0(l.number("days", "days", "day")), Expected: l.pieces("expected units"), Like: l.text("like"),
			Growth: l.percent("growth %", parse.RatePercent), Capacity: l.pieces("table capacity"), Booth: l.money("booth fee"), At: name.At,
		}
		if m.Days.State == cell.Blank {
			m.Days = cell.Num{V: 1, At: m.Days.At, State: cell.Assumed}
		}
		if t := l.text("channel"); t.OK() {
			m.Channel = r.book.Channels[r.channelOf(t)]
		}
		r.book.Markets = append(r.book.Markets, m)
		if key := cell.Fold(name.V); r.names.markets[key] == "" {
			r.names.markets[key] = name.V
		}
	})
}

// likes warns of markets that are said to be like one that is not there.
func (r *reader) likes() {
	for _, m := range r.book.Markets {
		if m.Like.OK() && r.names.markets[cell.Fold(m.Like.V)] == "" {
			p := strange(problem.UnknownMarket, problem.Warning, m.Like, spelled(r.book.Markets, func(m *book.Market) string { return m.Name.V }))
			r.add(p)
		}
	}
}

func (r *reader) pours(b *block) {
	r.each(b, func(l *line) {
		d, p := l.day("date"), l.product()
		units := needed(l, "units", l.pieces("units"))
		if l.out {
			return
		}
		r.ahead(b, d)
		r.book.Pours = append(r.book.Pours, book.Pour{Day: d.V, Product: p, Units: units, Batch: l.text("batch"), At: d.At})
	})
}

func (r *reader) counts(b *block) {
	r.each(b, func(l *line) {
		d, item := l.day("date"), l.name("item")
		if !item.OK() {
			return
		}
		m, p := l.counted(item)
		bare, dims := unit.Count, []unit.Dimension{unit.Count}
		if m != nil {
			dims = nil
		}
		if m != nil && m.Dim != unit.Count {
			bare = unit.None
		}
		q, dim := l.measure("quantity", bare, dims...)
		q = needed(l, "quantity", l.notNegative(q))
		if l.out {
			return
		}
		r.ahead(b, d)
		r.book.Counts = append(r.book.Counts, book.Count{Day: d.V, Material: m, Product: p, Qty: q, Dim: dim, At: d.At})
	})
}

// counted is the material or the product that a name names; a name of both, or
// of none, leaves the row out.
func (l *line) counted(item cell.Text) (*book.Material, *book.Product) {
	m := l.names.materials[cell.Fold(item.V)]
	i, p := l.findProduct(item)
	if m == nil && i < 0 {
		m = lookUp(l, l.names.materials, item, l.materialNames, problem.UnknownMaterial)
	}
	switch {
	case m == nil && i >= 0:
		if p.Code != "" {
			l.add(p)
		}
		return nil, l.book.Products[i]
	case m != nil && p.Code == problem.UnknownProduct: // there is none, or one that is spelled otherwise
		return m, nil
	case m != nil && i >= 0:
		other := l.book.Products[i]
		l.out = true
		l.add(problem.Problem{
			Severity: problem.Error, Code: problem.AmbiguousName, Say: "item", At: item.At, Other: other.Code.At,
			Args: []any{"name", item.V, "material", m.Name.V, "product", other.Code.V},
		})
	case p.Code == problem.AmbiguousName:
		l.out = true
		l.add(p)
	default:
		l.out = true
		p := l.nothing(problem.UnknownMaterial, item, append(l.materialNames(), l.productNames()...))
		if p.Say == "" {
			p.Say = "item"
		}
		l.add(p)
	}
	return nil, nil
}

func (r *reader) overheads(b *block) {
	r.each(b, func(l *line) {
		name := l.name("name")
		amount := l.money("amount per month")
		l.worth = amount
		needed(l, "amount per month", amount)
		if l.out {
			return
		}
		r.book.Overheads = append(r.book.Overheads, book.Overhead{Name: name, Amount: amount, From: l.date("from"), To: l.date("to")})
	})
}

func (r *reader) seasons(b *block) {
	r.each(b, func(l *line) {
		name := l.name("season")
		from, to := l.yearDay("from"), l.yearDay("to")
		if l.out {
			return
		}
		x := book.Season{Name: name, From: from, To: to}
		if l.stretch(x, r.book.Seasons); !l.out {
			r.book.Seasons = append(r.book.Seasons, x)
		}
	})
}

// stretch looks whether a season has a row already: another stretch of the year
// belongs to it too, with a warning; the same one twice is left out.
func (l *line) stretch(x book.Season, all []book.Season) {
	for _, s := range all {
		if cell.Fold(s.Name.V) != cell.Fold(x.Name.V) {
			continue
		}
		if s.From == x.From && s.To == x.To {
			l.twice(x.Name, s.Name.At)
			return
		}
		l.add(problem.Problem{
			Severity: problem.Warning, Code: problem.Duplicate, Say: "season", At: x.Name.At, Other: s.Name.At, Args: []any{"name", x.Name.V},
		})
		return
	}
}

// yearDay is a needed day of the year.
func (l *line) yearDay(field string) day.MonthDay {
	c, at, col := l.at(field)
	x := parse.MonthDayIn(c, col.order)
	l.found(x.Finding, at)
	return needed(l, field, ifSure(l, field, x.At(at))).V
}

// verdicts are what makers write as the result of a burn test.
var verdicts = sync.OnceValue(func() map[string]string { return meanings("verdict.", "pass", "fail") })

func (r *reader) burns(b *block) {
	r.each(b, func(l *line) {
		d := l.day("date")
		x := book.Burn{Day: d.V, Recipe: l.recipe(), Jar: l.jar(), Finish: l.finish(), Wick: l.text("wick")}
		result := l.name("result")
		verdict, known := verdicts()[normal(result.V)]
		if result.OK() && !known {
			l.refuse(problem.MissingField, "result", result.At, "read", result.V)
		}
		if l.out {
			return
		}
		x.Pass, x.Note = verdict == "pass", l.text("note")
		r.ahead(b, d)
		r.book.Burns = append(r.book.Burns, x)
	})
}
