package ingest

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// saleKey is what two records of one sale have in common.
type saleKey struct {
	order, product, day, channel, customer, market int32
	qty, amount                                    float64
}

// repeated leaves out the lines of a further file that an earlier file has: a
// line of the same order, product, date, quantity and amount. A line without an
// order also has the channel, customer and market in common. A file that holds
// such a line twice has two of them.
func (r *reader) repeated() {
	files := r.saleFiles()
	if len(r.opts.Sales) == 0 || len(files) == 0 {
		return
	}
	have, fresh := map[saleKey]copies{}, map[saleKey]copies{}
	file := 0
	r.book.Sales.Keep(func(_ int, p *book.PackedSale) bool {
		x := r.book.Sales.Unpack(*p)
		if f := files[x.Sheet]; f != file {
			file = f
			join(have, fresh)
		}
		k := keyOf(&x)
		if c := have[k]; file > 0 && c.n > 0 {
			c.n--
			have[k] = c
			r.sayRepeated(&x, c)
			return false
		}
		c, ok := fresh[k]
		if !ok {
			c = copies{sheet: x.Sheet, row: x.Row}
		}
		c.n++
		fresh[k] = c
		return true
	})
}

// copies are the lines of a key that a further file may repeat, and the place
// of the first.
type copies struct{ n, sheet, row int32 }

func join(all, more map[saleKey]copies) {
	for k, c := range more {
		if had, ok := all[k]; ok {
			c = copies{had.n + c.n, had.sheet, had.row}
		}
		all[k] = c
	}
	clear(more)
}

// saleFiles maps the sheets of sales to their files: 0 is the book.
func (r *reader) saleFiles() []int {
	var out []int
	file := 0
	last := ""
	for _, b := range r.blocks {
		if b.sales == nil {
			continue
		}
		if b.extra && b.file != last {
			file++
			last = b.file
		}
		out = append(out, file)
	}
	if !slices.ContainsFunc(out, func(f int) bool { return f > 0 }) {
		return nil
	}
	return out
}

func keyOf(x *book.Sale) saleKey {
	k := saleKey{order: x.Order, product: x.Product, day: int32(x.Day), qty: x.Qty.Float64()}
	if x.Order == 0 {
		k.channel, k.customer, k.market = x.Channel, x.Customer, x.Market
	}
	if x.Has&book.HasTotal != 0 {
		k.amount = x.Total.Float64()
	} else {
		k.amount = x.Qty.Mul(x.Price).Sub(x.Discount).Float64()
	}
	return k
}

func (r *reader) sayRepeated(x *book.Sale, first copies) {
	place := func(sheet, row int32) cell.Ref {
		return cell.Ref{Sheet: r.book.SaleSheets[sheet], Row: int(row), Col: 1}
	}
	worth, _ := lineWorth(x)
	r.add(problem.Problem{
		Severity: problem.Warning, Code: problem.Duplicate, Say: "sale", At: place(x.Sheet, x.Row), Other: place(first.sheet, first.row),
		Amount: worth, HasAmount: true, Args: []any{"order", r.orders.shown.At(x.Order)},
	})
}
