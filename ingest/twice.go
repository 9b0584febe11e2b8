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
	have := map[saleKey][]int{}
	kept := r.book.Sales[:0]
	for i := 0; i < len(r.book.Sales); {
		file := files[r.book.Sales[i].Sheet]
		end := i
		var fresh []saleKey
		var places []int
		for ; end < len(r.book.Sales) && files[r.book.Sales[end].Sheet] == file; end++ {
			x := r.book.Sales[end]
			k := keyOf(&x)
			if first := have[k]; file > 0 && len(first) > 0 {
				have[k] = first[1:]
				r.sayRepeated(&x, &r.book.Sales[first[0]])
				continue
			}
			fresh, places = append(fresh, k), append(places, len(kept))
			kept = append(kept, x)
		}
		for j, k := range fresh {
			have[k] = append(have[k], places[j])
		}
		i = end
	}
	r.book.Sales = kept
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

func (r *reader) sayRepeated(x, first *book.Sale) {
	place := func(s *book.Sale) cell.Ref {
		return cell.Ref{Sheet: r.book.SaleSheets[s.Sheet], Row: int(s.Row), Col: 1}
	}
	worth, _ := lineWorth(x)
	r.add(problem.Problem{
		Severity: problem.Warning, Code: problem.Duplicate, Say: "sale", At: place(x), Other: place(first), Amount: worth, HasAmount: true,
		Args: []any{"order", r.orders.list[x.Order]},
	})
}
