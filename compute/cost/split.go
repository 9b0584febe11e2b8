package cost

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/stat"
	"pourbook/compute/unitcost"
)

func yearText(y int) string { return strconv.Itoa(y) }

// splitMonths is how far back colored is set against natural.
const splitMonths = 24

// windowFrom is the first day of the 24 months up to a day: the day after the
// same day 24 months earlier, and a month's first where to is a month's end.
func windowFrom(to day.Date) day.Date {
	if to == to.Month().Last() {
		return (to.Month() - splitMonths + 1).First()
	}
	return to.AddMonths(-splitMonths) + 1
}

// group is the lines of a group by finish, and its orders' net units.
type group struct {
	season  sales.Season
	jar     *book.Jar
	finish  [2]sales.Total // colored, natural
	orders  map[int32]float64
	reading scope
}

func newGroup(s scope) *group { return &group{orders: map[int32]float64{}, reading: s} }

func (g *group) add(x *sales.Line, f book.Finish) {
	i := 0
	if f == book.Natural {
		i = 1
	}
	g.finish[i].Add(x)
	g.orders[x.Order] += x.Units.Float64()
}

// units is the net units of a finish, a negative net counting as 0.
func (g *group) units(f book.Finish) *calc.Figure {
	i := 0
	if f == book.Natural {
		i = 1
	}
	s := g.reading
	sum := g.finish[i].Figure(sales.Units, s.where("finish", string(f)), s.of(string(f))...)
	if sum.Or(0) >= 0 {
		return sum
	}
	return calc.Max(calc.Zero, sum)
}

// ratio is the group's split with its bounds.
func (g *group) ratio() Ratio {
	of := g.reading.of("")
	c, n := g.units(book.Colored), g.units(book.Natural)
	both := calc.Add(c, n)
	r := Ratio{Colored: c, Natural: n, NEff: g.effective(both)}
	r.Share = calc.Div(c, both).Named("split.share", of...)
	low, high := stat.Wilson(r.Share, r.NEff)
	if n.Or(0) == 0 {
		return r
	}
	odds := func(key string, p *calc.Figure) *calc.Figure {
		return calc.Div(p, calc.Sub(calc.Const(1), p)).Named(key, of...)
	}
	r.Ratio = calc.Div(c, n).Named("split.ratio", of...)
	r.RatioLow, r.RatioHigh = odds("split.ratio-low", low), odds("split.ratio-high", high)
	return r
}

// effective is the number of observations that the group's orders are worth;
// unknown when no order has net units.
func (g *group) effective(both *calc.Figure) *calc.Figure {
	var sum, squares float64
	n := 0
	for _, id := range slices.Sorted(maps.Keys(g.orders)) {
		if m := g.orders[id]; m > 0 {
			sum, squares, n = sum+m, squares+m*m, n+1
		}
	}
	if n == 0 {
		return nil
	}
	of, where := g.reading.of(""), g.reading.where("net", "> 0")
	table := string(book.TSales)
	return stat.Kish(calc.Sum(sum, table, n, "order units", where, "split.order-units", of...),
		calc.Sum(squares, table, n, "order units squared", where, "split.order-squares", of...), both).Named("split.n-eff", of...)
}

// split sets colored against natural over 24 months, wholesale left out.
func (r *run) split() {
	w := r.window(r.period.To)
	sp := &r.res.Split
	sp.From, sp.To = w.scope.from, w.scope.to
	sp.Overall = w.all.ratio()
	sp.BySeason, sp.ByJar, sp.BySeasonAndJar = w.bySeason(), w.byJar(), w.bySeasonAndJar()
	sp.SeasonTest, sp.JarTest = w.test("season", w.nameRows()), w.test("jar", w.jarRows())
	sp.Wholesale = &Pair{
		Colored: w.wholesale.finish[0].Figure(sales.Units, w.wholesale.reading.where("finish", "colored"), "colored", "wholesale"),
		Natural: w.wholesale.finish[1].Figure(sales.Units, w.wholesale.reading.where("finish", "natural"), "natural", "wholesale"),
	}
	w.dropping(sp)
	w.negative()
}

// SplitUpTo is the split of the 24 months up to a day, without its tests and
// customers.
func SplitUpTo(b *book.Book, l *sales.Ledger, e *unitcost.Engine, to day.Date) Split {
	r := &run{book: b, ledger: l, engine: e, res: &Result{}}
	w := r.window(to)
	return Split{From: w.scope.from, To: w.scope.to, Overall: w.all.ratio(), BySeason: w.bySeason(), ByJar: w.byJar()}
}

// window reads the lines of the 24 months up to a day.
func (r *run) window(to day.Date) *window {
	s := scope{from: windowFrom(to), to: to, unsaid: []string{"wholesale", "no"}}
	shops := scope{from: s.from, to: s.to, unsaid: []string{"wholesale", "yes"}}
	w := &window{
		run: r, scope: s, all: newGroup(s), wholesale: newGroup(shops),
		seasons: map[sales.Season]*group{}, jars: map[*book.Jar]*group{}, both: map[seasonJar]*group{},
		names: map[string]*group{}, finishes: [2]tallies{{}, {}}, customers: map[int32]*customer{},
	}
	lines := r.ledger.Between(s.from, s.to)
	for i := range lines {
		w.add(&lines[i])
	}
	return w
}

func (s scope) with(more ...string) scope {
	s.more = append(slices.Clone(s.more), more...)
	return s
}

type seasonJar struct {
	season sales.Season
	jar    *book.Jar
}

// window is the split at work.
type window struct {
	*run
	scope     scope
	all       *group
	wholesale *group
	seasons   map[sales.Season]*group
	jars      map[*book.Jar]*group
	both      map[seasonJar]*group
	names     map[string]*group
	finishes  [2]tallies
	customers map[int32]*customer
}

func (w *window) add(x *sales.Line) {
	p := w.ledger.Product(x)
	if c := w.ledger.Channel(x); c != nil && c.Wholesale {
		w.wholesale.add(x, p.Finish)
		return
	}
	w.all.add(x, p.Finish)
	season := w.seasonText(x.Season)
	in(w.seasons, x.Season, w.scope.with("season", season)).add(x, p.Finish)
	in(w.jars, p.Jar, w.scope.with("jar", p.Jar.Name.V)).add(x, p.Finish)
	in(w.both, seasonJar{x.Season, p.Jar}, w.scope.with("season", season, "jar", p.Jar.Name.V)).add(x, p.Finish)
	if name := w.ledger.Seasons.Name(x.Season); x.Season.Row >= 0 {
		in(w.names, name, w.scope.with("season", name)).add(x, p.Finish)
	}
	i := 0
	if p.Finish == book.Natural {
		i = 1
	}
	w.finishes[i].add(p, x)
	w.addCustomer(x, p, i)
}

// in is the group of a key, made when it is met first.
func in[K comparable](m map[K]*group, k K, s scope) *group {
	g := m[k]
	if g == nil {
		g = newGroup(s)
		m[k] = g
	}
	return g
}

// filled reports whether a group has net units of either finish.
func (g *group) filled() bool {
	return max(0, g.finish[0].Units.Float64())+max(0, g.finish[1].Units.Float64()) > 0
}

func (w *window) bySeason() []SplitGroup {
	out := []SplitGroup{}
	for _, s := range sortedKeys(w.seasons, w.ledger.Seasons.Compare) {
		if g := w.seasons[s]; g.filled() {
			out = append(out, SplitGroup{Season: w.ledger.Seasons.Name(s), SeasonYear: int(s.Year), InSeason: true, Ratio: g.ratio()})
		}
	}
	return out
}

func (w *window) jarRow(a, b *book.Jar) int {
	return slices.Index(w.book.Jars, a) - slices.Index(w.book.Jars, b)
}

func (w *window) byJar() []SplitGroup {
	out := []SplitGroup{}
	for _, j := range sortedKeys(w.jars, w.jarRow) {
		if g := w.jars[j]; g.filled() {
			out = append(out, SplitGroup{Jar: j.Name.V, Ratio: g.ratio()})
		}
	}
	return out
}

func (w *window) bySeasonAndJar() []SplitGroup {
	out := []SplitGroup{}
	order := func(a, b seasonJar) int {
		return cmp.Or(w.ledger.Seasons.Compare(a.season, b.season), w.jarRow(a.jar, b.jar))
	}
	for _, k := range sortedKeys(w.both, order) {
		if g := w.both[k]; g.filled() {
			out = append(out, SplitGroup{Season: w.ledger.Seasons.Name(k.season), SeasonYear: int(k.season.Year), InSeason: true,
				Jar: k.jar.Name.V, Ratio: g.ratio()})
		}
	}
	return out
}

func sortedKeys[K comparable](m map[K]*group, order func(a, b K) int) []K {
	out := make([]K, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.SortFunc(out, order)
	return out
}

func (w *window) nameRows() []stat.Row {
	var out []stat.Row
	done := map[string]bool{}
	for _, s := range w.ledger.Seasons.All() {
		if g := w.names[s.Name.V]; g != nil && !done[s.Name.V] {
			done[s.Name.V] = true
			out = append(out, stat.Row{Colored: g.units(book.Colored), Natural: g.units(book.Natural)})
		}
	}
	return out
}

func (w *window) jarRows() []stat.Row {
	var out []stat.Row
	for _, j := range sortedKeys(w.jars, w.jarRow) {
		out = append(out, stat.Row{Colored: w.jars[j].units(book.Colored), Natural: w.jars[j].units(book.Natural)})
	}
	return out
}

// test is Pearson's chi-square over the groups, divided by the design effect of
// orders; absent with fewer than two groups.
func (w *window) test(of string, rows []stat.Row) *Test {
	rows = stat.Pool(rows)
	size := w.all.ratio()
	if len(rows) < 2 || !size.NEff.Known() {
		return nil
	}
	design := calc.Max(calc.Const(1), calc.Div(calc.Add(size.Colored, size.Natural), size.NEff)).Named("split.design-effect", of)
	t := &Test{DF: calc.Const(float64(len(rows)-1)).Named("split.df", of)}
	t.ChiSquare = calc.Div(stat.ChiSquare(rows), design).Named("split.chi-square", of)
	t.P = stat.Tail(t.ChiSquare, t.DF).Named("split.p", of)
	return t
}

// negative notes the groups whose refunds outweigh their sales.
func (w *window) negative() {
	for _, j := range sortedKeys(w.jars, w.jarRow) {
		for i, f := range []book.Finish{book.Colored, book.Natural} {
			if w.jars[j].finish[i].Units.Sign() < 0 {
				w.res.Problems.Add(problem.Problem{Severity: problem.Note, Code: problem.NegativeUnits, Say: "jar", At: j.Name.At,
					Args: []any{"finish", string(f), "jar", j.Name.V}})
			}
		}
	}
}
