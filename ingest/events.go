package ingest

import (
	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest/parse"
)

func (r *reader) markets(b *block) {
	if r.names.markets == nil {
		r.names.markets = map[string]bool{}
	}
	r.each(b, func(l *line) {
		name, d := l.name("market"), l.day("date")
		if l.out {
			return
		}
		for _, m := range r.book.Markets {
			if cell.Fold(m.Name.V) == cell.Fold(name.V) && m.Day == d.V {
				l.twice(name, m.Name)
				return
			}
		}
		m := &book.Market{Name: name, Day: d.V, Days: l.number("days", "day", "days"), Expected: l.pieces("expected units"), Like: l.text("like"),
			Growth: l.percent("growth %", parse.RatePercent), Capacity: l.pieces("table capacity"), Booth: l.money("booth fee"), At: name.At}
		if m.Days.State == cell.Blank {
			m.Days = cell.Num{V: 1, At: m.Days.At, State: cell.Assumed, Raw: "1"}
		}
		if i := l.channelOf(); i >= 0 {
			m.Channel = r.book.Channels[i]
		}
		r.book.Markets = append(r.book.Markets, m)
		r.names.markets[cell.Fold(name.V)] = true
	})
}

func (l *line) channelOf() int32 {
	if l.names.channels == nil {
		l.names.channels = map[string]int32{}
	}
	return l.channel("channel")
}

// spellings numbers distinct texts; 0 is none.
type spellings struct {
	list  []string
	index map[string]int32
}

func (s *spellings) of(t string) int32 {
	if s.index == nil {
		s.index, s.list = map[string]int32{"": 0}, []string{""}
	}
	key := cell.Fold(t)
	i, ok := s.index[key]
	if !ok {
		i = int32(len(s.list))
		s.index[key], s.list = i, append(s.list, t)
	}
	return i
}

func (r *reader) sales(b *block) {
	sheet := int32(len(r.book.SaleSheets))
	r.book.SaleSheets = append(r.book.SaleSheets, b.sheet)
	r.each(b, func(l *line) {
		x := l.sale()
		if l.out {
			return
		}
		x.Sheet, x.Row = sheet, int32(l.rec.n)
		if l.opts.Today != day.None && x.Day > l.opts.Today {
			_, at, _ := l.at("date")
			l.add(problem.Problem{Severity: problem.Warning, Code: problem.FutureDate, At: at, Args: []any{"day", x.Day.String()}})
		}
		r.book.Sales = append(r.book.Sales, x)
	})
	r.book.Orders, r.book.Customers, r.book.SaleMarkets = r.orders.list, r.customers.list, r.events.list
}

func (l *line) sale() book.Sale {
	d := l.day("date")
	dateOut := l.out
	l.out = false
	qty := l.needed("quantity", l.pieces("quantity"))
	x := book.Sale{Day: d.V, Qty: money.Float(qty.V), Channel: -1}
	l.takeMoney(&x)
	worth := func() float64 {
		if x.Has&book.HasTotal != 0 {
			return x.Total.Float64()
		}
		return x.Qty.Mul(x.Price).Sub(x.Discount).Float64()
	}
	lost := l.out || dateOut
	l.out = false
	if t := l.name("product"); !l.out {
		x.Product = l.productOf(t, worth)
	}
	if lost && !l.out {
		l.out = true
	}
	if l.out {
		return x
	}
	x.Channel = l.channelOf()
	x.Order, x.Customer = l.reader.orders.of(l.words("order").V), l.reader.customers.of(l.words("customer").V)
	if t := l.text("market"); t.OK() {
		x.Market = l.reader.events.of(t.V)
		l.knownMarket(t)
	}
	return x
}

// takeMoney reads the amounts of a sale; it has a price or a total.
func (l *line) takeMoney(x *book.Sale) {
	price, total, discount := l.money("unit price"), l.money("line total"), l.money("discount")
	if price.OK() {
		x.Price, x.Has = price.V, x.Has|book.HasPrice
	}
	if total.OK() {
		x.Total, x.Has = total.V, x.Has|book.HasTotal
	}
	if discount.OK() {
		x.Discount, x.Has = discount.V, x.Has|book.HasDiscount
	}
	if discount.State == cell.Bad {
		x.Has |= book.BadMoney
	}
	switch {
	case price.OK() || total.OK():
	case price.State == cell.Bad || total.State == cell.Bad:
		l.out = true
	default:
		l.lacks("unit price")
	}
}

func (l *line) knownMarket(t cell.Text) {
	key := cell.Fold(t.V)
	if l.names.markets == nil {
		l.names.markets = map[string]bool{}
	}
	if _, said := l.names.markets[key]; said {
		return
	}
	l.names.markets[key] = false
	l.add(problem.Problem{Severity: problem.Warning, Code: problem.UnknownMarket, At: t.At, Args: []any{"name", t.V}})
}

func (r *reader) pours(b *block) {
	r.each(b, func(l *line) {
		d := l.day("date")
		units := l.needed("units", l.pieces("units"))
		if l.out {
			return
		}
		if i := l.product("product", none); i >= 0 {
			r.book.Pours = append(r.book.Pours, book.Pour{Day: d.V, Product: r.book.Products[i], Units: units, Batch: l.words("batch"), At: d.At})
		}
	})
}

func (r *reader) counts(b *block) {
	r.each(b, func(l *line) {
		d, item := l.day("date"), l.name("item")
		if l.out {
			return
		}
		m, p := r.counted(item)
		switch {
		case m != nil && p != nil:
			l.out = true
			l.add(problem.Problem{Severity: problem.Error, Code: problem.AmbiguousName, At: item.At, Other: p.Code.At,
				Args: []any{"name", item.V, "one", m.Name.V, "two", p.Code.V}})
			return
		case m == nil && p == nil:
			l.unknown(problem.UnknownMaterial, item, Nearest(item.V, keys(r.names.materials, func(m *book.Material) string { return m.Name.V })), 0)
			return
		}
		bare, dims := unit.Count, []unit.Dimension(nil)
		if m != nil && m.Dim != unit.Count {
			bare = unit.None
		}
		q, dim := l.measure("quantity", "unit", bare, dims...)
		q = l.needed("quantity", q)
		if !l.out {
			r.book.Counts = append(r.book.Counts, book.Count{Day: d.V, Material: m, Product: p, Qty: q, Dim: dim, At: d.At})
		}
	})
}

// counted is the material and the product that a name names.
func (r *reader) counted(item cell.Text) (*book.Material, *book.Product) {
	key := cell.Fold(item.V)
	m := r.names.materials[key]
	if i, ok := r.names.codes[key]; ok {
		return m, r.book.Products[i]
	}
	if fits := r.names.titles[key]; len(fits) == 1 {
		return m, r.book.Products[fits[0]]
	}
	return m, nil
}

func (r *reader) overheads(b *block) {
	r.each(b, func(l *line) {
		name := l.name("name")
		amount := l.neededMoney("amount per month", l.money("amount per month"))
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
		for _, s := range r.book.Seasons {
			if cell.Fold(s.Name.V) == cell.Fold(name.V) {
				name.V = s.Name.V
			}
		}
		r.book.Seasons = append(r.book.Seasons, book.Season{Name: name, From: from, To: to})
	})
}

func (l *line) yearDay(field string) day.MonthDay {
	c, at, col := l.at(field)
	x := parse.MonthDayIn(c, col.order)
	l.found(x.Finding, at)
	md := x.MonthDay(at)
	if md.State == cell.Blank {
		l.lacks(field)
	}
	l.out = l.out || !md.OK()
	return md.V
}

func (r *reader) burns(b *block) {
	r.each(b, func(l *line) {
		d := l.day("date")
		recipe := l.recipe()
		if l.out {
			return
		}
		jar := l.jar()
		if l.out {
			return
		}
		f, ok := l.finish("")
		result := l.name("result")
		if l.out || !ok {
			return
		}
		pass := map[string]int{"pass": 1, "passed": 1, "ok": 1, "yes": 1, "good": 1, "y": 1, "fail": 2, "failed": 2, "no": 2, "bad": 2, "n": 2}[normal(result.V)]
		if pass == 0 {
			l.out = true
			l.add(problem.Problem{Severity: problem.Error, Code: problem.MissingField, Say: "result", At: result.At, Args: []any{"read", result.V}})
			return
		}
		r.book.Burns = append(r.book.Burns, book.Burn{Day: d.V, Recipe: recipe, Jar: jar, Finish: f, Wick: l.words("wick"), Pass: pass == 1, Note: l.text("note")})
	})
}
