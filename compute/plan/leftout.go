package plan

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/plan/bench"
)

// morePitcher is how much larger the pitcher is whose worth is given.
const morePitcher = 1.5

// leftOut lists the products of which fewer are poured than asked for, and
// holds the plan's contribution against the most that any plan could have had.
func (r *run) leftOut(s *bench.Shop, done bench.Plan) {
	lost, asked, kept := map[*book.Product]*LeftOut{}, 0.0, 0.0
	for _, j := range r.jobs {
		good := 0
		if j.batch >= 0 {
			good = min(j.need, s.Good(done.Started[j.batch][j.item]))
		}
		for k, w := range j.worths() {
			asked += w
			if k < good {
				kept += w
			}
		}
		if good < j.need {
			r.lose(lost, j, j.need-good)
		}
	}
	for _, p := range r.book.Products {
		if l := lost[p]; l != nil {
			r.res.LeftOut = append(r.res.LeftOut, *l)
		}
	}
	if len(r.outings) == 0 {
		return
	}
	r.compare(s, done, asked, kept)
}

// lose adds units of a job to what is left out.
func (r *run) lose(lost map[*book.Product]*LeftOut, j *job, units int) {
	l := lost[j.product]
	if l == nil {
		l = &LeftOut{Product: j.product.Code.V, Of: j.product}
		lost[j.product] = l
	}
	l.Units += units
	if j.demand == nil {
		return
	}
	_, less := r.earns(j.demand, j.demand.Bring-units)
	gone := calc.Sub(j.demand.Contribution, less).Named("plan.left-out", j.product.Code.V)
	if l.Contribution != nil {
		gone = calc.Add(l.Contribution, gone)
	}
	l.Contribution = gone
}

// compare sets the plan's contribution beside the bound, and beside that of a
// day or a pitcher more.
func (r *run) compare(s *bench.Shop, done bench.Plan, asked, kept float64) {
	var all, gone []*calc.Figure
	for _, o := range r.outings {
		for _, d := range o.demand {
			if d.Contribution.Known() {
				all = append(all, d.Contribution)
			}
		}
	}
	for _, l := range r.res.LeftOut {
		gone = append(gone, l.Contribution)
	}
	whole := calc.Add(all...).Named("plan.all-contribution")
	r.res.Contribution = whole
	if len(gone) == 0 {
		r.res.Bound, r.res.Gap = whole, calc.Zero
		return
	}
	r.res.Contribution = calc.Sub(whole, calc.Add(gone...)).Named("plan.kept-contribution")
	most := kept
	if !done.Exact {
		most = max(kept, s.Bound(kept))
	}
	// At the least as much is lost as all units are worth beyond the most that
	// can be kept of them.
	r.res.Bound = calc.Max(r.res.Contribution, calc.Sub(whole, calc.Const(asked-most))).Named("plan.bound")
	r.res.Gap = calc.Sub(r.res.Bound, r.res.Contribution).Named("plan.gap")
	r.res.MoreDay = r.more(s, kept, func(x *bench.Shop) bool { return r.addDay(x, done) }, "plan.more-day")
	r.res.MorePitcher = r.more(s, kept, func(x *bench.Shop) bool {
		x.Pitcher *= morePitcher
		return true
	}, "plan.more-pitcher")
}

// more is what a plan with something more keeps beyond this one; unknown when
// nothing can be had more.
func (r *run) more(s *bench.Shop, kept float64, change func(*bench.Shop) bool, key string) *calc.Figure {
	x := s.Copy()
	if !change(x) {
		return nil
	}
	return calc.Const(max(0, x.Most(r.opts.effort/trialPart)-kept)).Named(key)
}

// addDay adds an evening on the earliest day that something left out is due, so
// that all of it can be poured then; false when all of it is too late already.
func (r *run) addDay(s *bench.Shop, done bench.Plan) bool {
	at := day.None
	for b, x := range s.Batches {
		for i, item := range x.Items {
			if done.Started[b][i] < item.Units && x.Due >= r.firstDay() && (at == day.None || x.Due < at) {
				at = x.Due
			}
		}
	}
	if at == day.None {
		return false
	}
	n, _ := slices.BinarySearch(s.Days, at+1)
	s.Days = slices.Insert(slices.Clone(s.Days), n, at)
	return true
}
