package cost

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/sales"
)

// leaf is the lines of the window that are in the same groups.
type leaf struct {
	finish [2]sales.Total // units only
	season int            // row of met
	above  []*group       // groups that leaves of other jars are in too
	own    []*group       // the others

	order int // whose units are being added up
	units money.Amount
}

// reading adds the lines of a window up, order by order.
type reading struct {
	*window
	places   []placed
	worths   []sales.Worth
	seasonOf []int     // by day of the window, one more than the row of met
	leaves   [][]*leaf // by row of met and row of Jars, the last for none
	shops    *leaf

	order int     // the orders met
	open  []*leaf // that have lines of the order
}

func (w *window) read() {
	r := &reading{
		window: w, places: w.places(), worths: w.ledger.Worths(), seasonOf: make([]int, w.scope.to-w.scope.from+1), shops: &leaf{season: -1, own: []*group{w.wholesale}},
	}
	var id, channel int32
	for s := range w.ledger.Between(w.scope.from, w.scope.to).ColumnsByOrder(book.Days | book.Orders | book.Places | book.Amounts) {
		for i, n := range s.Places {
			of := w.book.Sales.Places()[n].Channel
			if s.Orders[i] == 0 || s.Orders[i] != id || of != channel {
				r.close()
				id, channel = s.Orders[i], of
			}
			r.add(s, i)
		}
	}
	r.close()
	r.sums()
}

func (r *reading) add(s *book.Stretch, i int) {
	at, worth := &r.places[s.Places[i]], &r.worths[s.Amounts[i]]
	x := r.shops
	if season := r.season(day.Date(s.Days[i])); !at.wholesale {
		x = r.leaf(season, at.jar)
	}
	x.finish[at.side].AddUnits(worth)
	if x.order == r.order {
		x.units = x.units.Add(worth.Units)
		return
	}
	x.order, x.units = r.order, worth.Units
	r.open = append(r.open, x)
}

// season is the row in met of a day's season.
func (r *reading) season(d day.Date) int {
	at := &r.seasonOf[d-r.scope.from]
	if *at == 0 {
		*at = r.seasonRow(r.ledger.Seasons.Of(d)) + 1
	}
	return *at - 1
}

// seasonRow is the row of a season in met, made when it is met first.
func (r *reading) seasonRow(s sales.Season) int {
	if i := slices.Index(r.met, s); i >= 0 {
		return i
	}
	r.met = append(r.met, s)
	r.seasons = append(r.seasons, &group{reading: r.scope.with("season", r.seasonText(s))})
	r.both = append(r.both, make([]*group, len(r.jars)))
	r.leaves = append(r.leaves, make([]*leaf, len(r.jars)+1))
	if s.Row >= 0 && r.names[s.Row] == nil {
		r.names[s.Row] = &group{reading: r.scope.with("season", r.ledger.Seasons.Name(s))}
	}
	return len(r.met) - 1
}

// leaf is the leaf of a season and a jar, -1 for none, made when it is met first.
func (r *reading) leaf(season, jar int) *leaf {
	j := jar
	if j < 0 {
		j = len(r.jars)
	}
	if x := r.leaves[season][j]; x != nil {
		return x
	}
	x := &leaf{season: season, above: []*group{r.all, r.seasons[season]}}
	r.leaves[season][j] = x
	if row := r.met[season].Row; row >= 0 {
		x.above = append(x.above, r.names[row])
	}
	if jar >= 0 {
		name := r.book.Jars[jar].Name.V
		if r.jars[jar] == nil {
			r.jars[jar] = &group{reading: r.scope.with("jar", name)}
		}
		r.both[season][jar] = &group{reading: r.scope.with("season", r.seasonText(r.met[season]), "jar", name)}
		x.own = []*group{r.jars[jar], r.both[season][jar]}
	}
	return x
}

// close counts the order whose lines have all been added.
func (r *reading) close() {
	switch {
	case len(r.open) == 0:
	case slices.ContainsFunc(r.open, func(x *leaf) bool { return x.season != r.open[0].season }):
		r.closeMixed()
	default:
		var all money.Amount
		for _, x := range r.open {
			all = all.Add(x.units)
			count(x.own, x.units)
		}
		count(r.open[0].above, all)
	}
	r.open = r.open[:0]
	r.order++
}

// count counts an order in groups; one without net units does not count.
func count(gs []*group, units money.Amount) {
	if len(gs) == 0 || units.Sign() <= 0 {
		return
	}
	m := units.Float64()
	for _, g := range gs {
		g.count(m)
	}
}

// closeMixed closes an order that has lines of several seasons.
func (r *reading) closeMixed() {
	var met []*group
	for _, x := range r.open {
		for _, g := range slices.Concat(x.above, x.own) {
			if !g.open {
				met = append(met, g)
			}
			g.open, g.units = true, g.units.Add(x.units)
		}
	}
	for _, g := range met {
		count([]*group{g}, g.units)
		g.open, g.units = false, money.Amount{}
	}
}

// sums gives every group the lines of its leaves.
func (r *reading) sums() {
	for _, x := range slices.Concat(append(r.leaves, []*leaf{r.shops})...) {
		if x == nil {
			continue
		}
		for _, g := range slices.Concat(x.above, x.own) {
			for i := range g.finish {
				g.finish[i].Join(&x.finish[i])
			}
		}
	}
}
