package plan

import (
	"cmp"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
)

// Where an expected total comes from.
const (
	fromRow      = "expected"
	fromLike     = "like"
	fromSameName = "same-market"
	fromSeason   = "season"
	fromAll      = "all"
)

// lastMarkets is how many earlier markets a mean is of.
const lastMarkets = 6

// expect finds the expected total of a market: its row's own; else, grown, what
// was sold at the market that it is like, at its own name's latest date, or on
// average at the last markets of the season, or of all.
func (r *run) expect(o *outing) error {
	defer fault.In(o.of.At, o.of.Name.V)
	how := ""
	o.refs, how = r.reference(o)
	name, date := o.of.Name.V, o.of.Day.String()
	switch {
	case o.of.Expected.State != cell.Blank:
		o.from, o.total = fromRow, calc.In(o.of.Expected, "plan.expected", name, date).Named("plan.expected-total", name, date)
	case len(o.refs) > 0:
		o.from = how
		grown := calc.Add(calc.Const(1), optional(o.of.Growth, "plan.growth", name, date))
		o.total = calc.Mul(grown, r.meanSold(o.refs)).Named("plan.expected-total", name, date)
	}
	if v, ok := o.total.Value(); !ok || v < 0 {
		r.problem(problem.Error, problem.MissingField, "expected", o.of.At, "market", name, "date", date)
		return ErrTotal
	}
	return nil
}

// meanSold is the mean total of some rows of Markets.
func (r *run) meanSold(rows []int) *calc.Figure {
	var sums []*calc.Figure
	for _, row := range rows {
		sums = append(sums, r.soldFigure(row))
	}
	if len(sums) == 1 {
		return sums[0]
	}
	return calc.Div(calc.Add(sums...), calc.Const(float64(len(sums)))).Named("plan.mean-total")
}

// reference is the rows that a total comes from, and by which rule; none where
// nothing was sold at an earlier market.
func (r *run) reference(o *outing) ([]int, string) {
	earlier := r.earlier(o)
	named := func(name string) []int {
		for _, row := range slices.Backward(earlier) {
			if name != "" && cell.Fold(r.book.Markets[row].Name.V) == cell.Fold(name) {
				return []int{row}
			}
		}
		return nil
	}
	if rows := named(o.of.Like.V); rows != nil {
		return rows, fromLike
	}
	if rows := named(o.of.Name.V); rows != nil {
		return rows, fromSameName
	}
	var season []int
	for _, row := range earlier {
		if r.seasonOf(r.book.Markets[row].Day) == o.season {
			season = append(season, row)
		}
	}
	if len(season) > 0 {
		return season[max(0, len(season)-lastMarkets):], fromSeason
	}
	return earlier[max(0, len(earlier)-lastMarkets):], fromAll
}

// earlier is the rows of Markets before a market at which something was sold, by day.
func (r *run) earlier(o *outing) []int {
	var rows []int
	for row, m := range r.book.Markets {
		if m.Day < o.of.Day && r.sold(row) > 0 {
			rows = append(rows, row)
		}
	}
	slices.SortStableFunc(rows, func(a, b int) int { return cmp.Compare(r.book.Markets[a].Day, r.book.Markets[b].Day) })
	return rows
}

// The spread of demand where it is not given.
const (
	plainSpread = 4.0
	leastSpread = 2.0
	mostSpread  = 50.0
	fewTotals   = 3 // below so many totals nothing is estimated
)

// spread is the negative binomial's r: the setting, else from how earlier totals
// vary about the mean of their market's name, else a plain assumption.
func (r *run) spread(o *outing) *calc.Figure {
	if set := r.book.Settings.Num(book.DemandSpread); set.State != cell.Blank {
		if set.OK() && set.V > 0 {
			return r.setting(book.DemandSpread)
		}
		r.problem(problem.Error, problem.BadNumber, "above-zero", set.At, "setting", string(book.DemandSpread))
	}
	rows := r.earlier(o)
	if len(rows) < fewTotals {
		assumed := cell.Num{V: plainSpread, Raw: "4", State: cell.Assumed}
		return calc.In(assumed, "setting", string(book.DemandSpread))
	}
	var all []*calc.Figure
	byName := map[string][]*calc.Figure{}
	var names []string
	for _, row := range rows {
		f, name := r.soldFigure(row), cell.Fold(r.book.Markets[row].Name.V)
		if byName[name] == nil {
			names = append(names, name)
		}
		byName[name] = append(byName[name], f)
		all = append(all, f)
	}
	var groups [][]*calc.Figure
	n := 0
	for _, name := range names {
		if g := byName[name]; len(g) >= 2 {
			groups, n = append(groups, g), n+len(g)
		}
	}
	if n < fewTotals {
		groups = [][]*calc.Figure{all}
	}
	return spreadOf(groups)
}

// spreadOf estimates r from groups of totals, each with a mean of its own.
func spreadOf(groups [][]*calc.Figure) *calc.Figure {
	var squares, used []*calc.Figure
	for _, g := range groups {
		mean := calc.Div(calc.Add(g...), calc.Const(float64(len(g)))).Named("plan.name-mean")
		for _, f := range g {
			off := calc.Sub(calc.Div(f, mean), calc.Const(1))
			squares = append(squares, calc.Mul(off, off))
			used = append(used, f)
		}
	}
	free := float64(len(used) - len(groups))
	cv2 := calc.Div(calc.Add(squares...), calc.Const(free)).Named("plan.variation")
	mean := calc.Div(calc.Add(used...), calc.Const(float64(len(used))))
	rest := calc.Sub(cv2, calc.Div(calc.Const(1), mean))
	if v, ok := rest.Value(); ok && v <= 0 {
		return calc.Const(mostSpread).Named("plan.spread")
	}
	r := calc.Div(calc.Const(1), rest)
	return calc.Min(calc.Const(mostSpread), calc.Max(calc.Const(leastSpread), r)).Named("plan.spread")
}
