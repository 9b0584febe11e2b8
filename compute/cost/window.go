package cost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/compute/sales"
	"pourbook/compute/stat"
)

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

// window is the lines of the 24 months in their groups.
type window struct {
	*run
	scope     scope
	all       *group
	wholesale *group
	jars      []*group // by row of Jars
	seasons   []*group // by row of met
	both      [][]*group
	names     []*group // by row of Seasons, years together
	met       []sales.Season
	buyers    *buyers // nil where nothing asks for it
}

// window reads the lines of the 24 months up to a day.
func (r *run) window(to day.Date) *window {
	s := scope{windowFrom(to), to, &sales.Further{Unsaid: []string{"wholesale", "no"}}}
	shops := scope{s.from, to, &sales.Further{Unsaid: []string{"wholesale", "yes"}}}
	w := &window{
		run: r, scope: s, all: &group{reading: s}, wholesale: &group{reading: shops},
		jars: make([]*group, len(r.book.Jars)), names: make([]*group, len(r.ledger.Seasons.All())),
	}
	w.read()
	return w
}

// filled reports whether a group has net units of either finish.
func (g *group) filled() bool {
	return g != nil && (g.finish[0].Units.Sign() > 0 || g.finish[1].Units.Sign() > 0)
}

// inOrder is the rows of met, in the order of the seasons' first days.
func (w *window) inOrder() []int {
	out := make([]int, len(w.met))
	for i := range out {
		out[i] = i
	}
	slices.SortFunc(out, func(a, b int) int { return w.ledger.Seasons.Compare(w.met[a], w.met[b]) })
	return out
}

func (w *window) bySeason() []SplitGroup {
	out := []SplitGroup{}
	for _, i := range w.inOrder() {
		if w.seasons[i].filled() {
			out = append(out, w.inSeason(i, "", w.seasons[i]))
		}
	}
	return out
}

func (w *window) inSeason(i int, jar string, g *group) SplitGroup {
	s := w.met[i]
	return SplitGroup{Season: w.ledger.Seasons.Name(s), SeasonYear: int(s.Year), InSeason: true, Jar: jar, Ratio: g.ratio()}
}

func (w *window) byJar() []SplitGroup {
	out := []SplitGroup{}
	for j, g := range w.jars {
		if g.filled() {
			out = append(out, SplitGroup{Jar: w.book.Jars[j].Name.V, Ratio: g.ratio()})
		}
	}
	return out
}

func (w *window) bySeasonAndJar() []SplitGroup {
	out := []SplitGroup{}
	for _, i := range w.inOrder() {
		for j, g := range w.both[i] {
			if g.filled() {
				out = append(out, w.inSeason(i, w.book.Jars[j].Name.V, g))
			}
		}
	}
	return out
}

func (w *window) nameRows() []stat.Row {
	var out []stat.Row
	for _, g := range w.names {
		if g != nil {
			out = append(out, stat.Row{Colored: g.of(book.Colored), Natural: g.of(book.Natural)})
		}
	}
	return out
}

func (w *window) jarRows() []stat.Row {
	var out []stat.Row
	for _, g := range w.jars {
		if g != nil {
			out = append(out, stat.Row{Colored: g.of(book.Colored), Natural: g.of(book.Natural)})
		}
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
	w.noteNegative(w.all, "all", cell.Ref{})
	for j, g := range w.jars {
		w.noteNegative(g, "jar", w.book.Jars[j].Name.At, "jar", w.book.Jars[j].Name.V)
	}
	for _, i := range w.inOrder() {
		season := w.seasonText(w.met[i])
		w.noteNegative(w.seasons[i], "season", cell.Ref{}, "season", season)
		for j, g := range w.both[i] {
			jar := w.book.Jars[j].Name
			w.noteNegative(g, "season-and-jar", jar.At, "season", season, "jar", jar.V)
		}
	}
}

func (w *window) noteNegative(g *group, say string, at cell.Ref, args ...any) {
	if g == nil {
		return
	}
	for i, f := range []book.Finish{book.Colored, book.Natural} {
		if g.finish[i].Units.Sign() < 0 {
			w.res.Problems.Add(problem.Problem{
				Severity: problem.Note, Code: problem.NegativeUnits, Say: say, At: at,
				Args: append([]any{"finish", string(f)}, args...),
			})
		}
	}
}
