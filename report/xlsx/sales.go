package xlsx

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/cost"
	"pourbook/compute/sales"
)

// salesSheet is the sheet of the period's sales lines, and the sums over them.
type salesSheet struct {
	book   *book.Book
	period cost.Period
	lines  []sales.Line // of one order below each other
	orders []int        // of the lines, numbered as they come
	facts  []facts      // of the lines
	names  map[string]map[int][]string
	found  map[*calc.Figure]*sum
	listed map[*book.Channel]fees

	all       []int // indexes of the lines
	byProduct map[int][]int
}

// facts are the numbers of a line that sums choose it by, by field.
type facts map[string]int

// fees are what a channel takes: the share of net, per order and per unit.
type fees struct{ share, order, unit *calc.Figure }

func newSales(r *cost.Result) *salesSheet {
	if len(r.Lines) == 0 {
		return nil
	}
	s := &salesSheet{
		book: r.Source, period: r.Period, names: map[string]map[int][]string{},
		found: map[*calc.Figure]*sum{}, listed: map[*book.Channel]fees{}, byProduct: map[int][]int{},
	}
	s.lines, s.orders = byOrder(r.Lines)
	seasons := map[sales.Season]int{}
	for i := range s.lines {
		f := s.factsOf(&s.lines[i], seasons, &r.Seasons)
		s.facts, s.all = append(s.facts, f), append(s.all, i)
		s.byProduct[f["product"]] = append(s.byProduct[f["product"]], i)
	}
	for _, c := range s.book.Channels {
		if c.Listed {
			name := c.Name.V
			s.listed[c] = fees{calc.In(orNothing(c.Fee), "fee-share", name), paidIn(c.PerOrder, "fee-per-order", name), paidIn(c.PerUnit, "cost-per-unit", name)}
		}
	}
	return s
}

// byOrder puts lines of one order below each other, and numbers the orders as
// they come.
func byOrder(lines []sales.Line) ([]sales.Line, []int) {
	var orders [][]sales.Line
	number := map[int32]int{}
	for _, x := range lines {
		n, ok := number[x.Order()]
		if !ok {
			n = len(orders)
			number[x.Order()], orders = n, append(orders, nil)
		}
		orders[n] = append(orders[n], x)
	}
	var numbers []int
	for n, of := range orders {
		numbers = append(numbers, slices.Repeat([]int{n + 1}, len(of))...)
	}
	return slices.Concat(orders...), numbers
}

func paidIn(m book.Money, key, of string) *calc.Figure {
	return calc.In(orNothing(cell.Num{V: m.V.Float64(), Raw: m.Raw, At: m.At, State: m.State}), key, of)
}

// orNothing is a blank taken for 0.
func orNothing(n cell.Num) cell.Num {
	if n.State == cell.Blank {
		n.State = cell.Assumed
	}
	return n
}

// factsOf numbers what a line is of: products, channels and jars as they follow
// in the book, seasons as they come.
func (s *salesSheet) factsOf(x *sales.Line, seasons map[sales.Season]int, all *sales.Seasons) facts {
	p := s.book.Products[x.Product]
	n, ok := seasons[x.Season]
	if !ok {
		n = len(seasons) + 1
		seasons[x.Season] = n
	}
	f := facts{
		"product": int(x.Product) + 1, "channel": int(x.Channel) + 1, "season": n,
		"jar": slices.Index(s.book.Jars, p.Jar) + 1, "finish": 1, "wholesale": 0,
	}
	if p.Finish == book.Natural {
		f["finish"] = 2
	}
	wholesale, channel := "no", ""
	if c := s.channel(x); c != nil {
		channel = c.Name.V
		if c.Wholesale {
			f["wholesale"], wholesale = 1, "yes"
		}
	}
	season := all.Name(x.Season)
	s.name("product", f, p.Code.V)
	s.name("channel", f, channel)
	s.name("season", f, season+" "+year(x.Season), season)
	s.name("jar", f, p.Jar.Name.V)
	s.name("finish", f, string(p.Finish))
	s.name("wholesale", f, wholesale)
	return f
}

func (s *salesSheet) name(field string, f facts, names ...string) {
	if s.names[field] == nil {
		s.names[field] = map[int][]string{}
	}
	s.names[field][f[field]] = names
}

func (s *salesSheet) channel(x *sales.Line) *book.Channel {
	if x.Channel < 0 {
		return nil
	}
	return s.book.Channels[x.Channel]
}

// fees are the channels' fees, which the lines rest on.
func (s *salesSheet) fees() []*calc.Figure {
	var out []*calc.Figure
	for _, c := range s.book.Channels {
		if f, ok := s.listed[c]; ok {
			for _, x := range []*calc.Figure{f.share, f.order, f.unit} {
				if x.Known() {
					out = append(out, x)
				}
			}
		}
	}
	return out
}
