package ingest

import (
	"sync"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/parse"
)

// finishWords are what makers call a finish.
var finishWords = sync.OnceValue(func() map[string]book.Finish {
	return meanings("finish.", book.Colored, book.Natural, book.AnyFinish)
})

// finishOf is the finish that a text says.
func finishOf(s string) (book.Finish, bool) {
	f, ok := finishWords()[normal(s)]
	return f, ok
}

// finish is a needed finish, colored or natural; "" leaves the row out.
func (l *line) finish() book.Finish {
	t := l.name("finish")
	if !t.OK() {
		return ""
	}
	f, ok := finishOf(t.V)
	if !ok || f == book.AnyFinish {
		l.refuse(problem.MissingField, "finish", t.At, "read", t.V)
		return ""
	}
	return f
}

func (r *reader) products(b *block) {
	r.each(b, func(l *line) {
		code := l.name("product")
		if !code.OK() {
			return
		}
		if i, twice := r.names.codes[cell.Fold(code.V)]; twice {
			l.twice(code, r.book.Products[i].Code.At)
			return
		}
		p := &book.Product{Code: code, Name: l.text("name"), Recipe: l.recipe(), Jar: l.jar(), Finish: l.finish()}
		if l.out {
			return
		}
		p.List, p.Wholesale = l.money("list price"), l.money("wholesale price")
		p.OnHand, p.Minutes = l.pieces("on hand"), l.number("minutes per unit", "minutes", "min", "mins")
		p.Active = l.yes("active")
		if p.Active.State == cell.Blank {
			p.Active = cell.Bool{V: true, At: p.Active.At, State: cell.Assumed}
		}
		i := int32(len(r.book.Products))
		r.book.Products = append(r.book.Products, p)
		r.names.codes[cell.Fold(code.V)] = i
		if key := cell.Fold(p.Name.V); key != "" {
			r.names.titles[key] = append(r.names.titles[key], i)
		}
	})
}

func (r *reader) channels(b *block) {
	r.each(b, func(l *line) {
		name := l.name("channel")
		if l.out {
			return
		}
		if i, twice := r.names.channels[cell.Fold(name.V)]; twice {
			l.twice(name, r.book.Channels[i].Name.At)
			return
		}
		r.names.channels[cell.Fold(name.V)] = int32(len(r.book.Channels))
		r.book.Channels = append(r.book.Channels, &book.Channel{
			Name: name, Listed: true, Fee: l.share("fee %", parse.RatePercent),
			PerOrder: l.money("fee per order"), PerUnit: l.money("cost per unit"), Wholesale: l.yes("wholesale").V,
		})
	})
}
