package plan

import (
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/fault"
	"pourbook/compute/plan/bench"
)

// take turns what the bench has decided into pours and days.
func (r *run) take(s *bench.Shop, batches []*batch, done bench.Plan) {
	of := map[int]int{}
	for _, x := range done.Pours {
		of[x.Batch]++
	}
	nth := map[int]int{}
	number := max(1, r.opts.FirstBatch)
	for n, x := range done.Pours {
		b := batches[x.Batch]
		p := Pour{
			Batch: number + n, Day: s.Days[x.Day], Order: 1, Recipe: b.recipe.Name.V, Finish: b.finish,
			Due: b.due, Cured: s.Days[x.Day] + b.cure, Of: b.recipe, Flags: []string{}, Weigh: []Weigh{}, PoursOf: of[x.Batch],
		}
		if n > 0 && done.Pours[n-1].Day == x.Day {
			p.Order = r.pours[n-1].Order + 1
		}
		nth[x.Batch]++
		p.PourOf = nth[x.Batch]
		if len(r.outings) > 1 {
			p.Market = r.outings[b.turn].of.Name.V
		}
		var jobs []*job
		for i, units := range x.Units {
			if j := b.jobs[i]; units > 0 {
				jobs = append(jobs, j)
				p.Jars = append(p.Jars, Jar{Product: j.product.Code.V, Units: units, Of: j.product, Fill: j.content.Fill})
			}
		}
		p.Changeover = r.changeover(done.Changeover[n])
		r.fillIn(&p, b, jobs)
		r.pours, r.units = append(r.pours, p), append(r.units, jobs)
	}
	for n := range r.pours {
		r.flag(&r.pours[n], r.units[n])
	}
	r.res.Pours = append(r.res.Pours, r.pours...)
	r.days(s)
}

// changeover is minutes that the bench found, as the setting that they are.
func (r *run) changeover(minutes float64) *calc.Figure {
	for _, name := range []book.Setting{book.WipeMinutes, book.WashMinutes} {
		if f := r.setting(name); minutes > 0 && f.Or(0) == minutes {
			return f
		}
	}
	return calc.Zero
}

// fillIn adds up what a pour weighs, takes and lasts.
func (r *run) fillIn(p *Pour, b *batch, jobs []*job) {
	defer fault.In(b.recipe.Name.At, b.recipe.Name.V)
	var blend, minutes []*calc.Figure
	for i, j := range jobs {
		units := calc.Const(float64(p.Jars[i].Units))
		blend = append(blend, calc.Mul(units, j.fill))
		minutes = append(minutes, calc.Mul(units, j.minutes))
	}
	label := batchLabel(p)
	p.Blend = calc.Add(blend...).Named("plan.blend", label)
	p.Minutes = calc.Add(append(minutes, b.fixed)...).Named("plan.minutes", label)
	for _, m := range r.mats {
		var quantity, grams, drops []*calc.Figure
		for i, j := range jobs {
			at := slices.IndexFunc(j.takes, func(t take) bool { return t.of == m })
			if at < 0 {
				continue
			}
			units, t := calc.Const(float64(p.Jars[i].Units)), j.takes[at]
			quantity = append(quantity, calc.Mul(units, t.quantity))
			if t.grams != nil {
				grams = append(grams, calc.Mul(units, t.grams))
			}
			if t.drops != nil {
				drops = append(drops, calc.Mul(units, t.drops))
			}
		}
		if len(quantity) == 0 {
			continue
		}
		p.takes = append(p.takes, Take{m, calc.Add(quantity...).Named("plan.pour-takes", m.Name.V, label)})
		if len(grams) > 0 {
			p.Weigh = append(p.Weigh, r.weigh(m, label, p.Blend, grams, drops))
		} else {
			p.Parts = append(p.Parts, p.takes[len(p.takes)-1])
		}
	}
}

func batchLabel(p *Pour) string { return p.Recipe + ", " + string(p.Finish) + ", " + p.Day.String() }

// dropsToWeigh is from how many drops on they are weighed too.
const dropsToWeigh = 60

// weigh is the dose of a material in a pour: grams to the scale's resolution, or
// whole drops, at least one, and then grams too where there are many.
func (r *run) weigh(m *book.Material, label string, blend *calc.Figure, grams, drops []*calc.Figure) Weigh {
	scale := r.setting(book.ScaleResolution)
	w := Weigh{Material: m.Name.V, Of: m, ExactGrams: calc.Add(grams...).Named("plan.exact-grams", m.Name.V, label)}
	weighed := calc.Call(roundTo, w.ExactGrams, scale).Named("plan.grams", m.Name.V, label)
	if len(drops) == 0 {
		w.Grams = weighed
		w.DoseError = doseError(w.Grams, w.ExactGrams)
		w.CureBatch = r.cureBatch(w.DoseError, w.ExactGrams, blend, scale.Or(1))
		return w
	}
	w.ExactDrops = calc.Add(drops...).Named("plan.exact-drops", m.Name.V, label)
	w.Drops = calc.Max(calc.Const(1), calc.Call(roundTo, w.ExactDrops, calc.Const(1))).Named("plan.drops", m.Name.V, label)
	if w.Drops.Or(0) >= dropsToWeigh {
		w.Grams = weighed
	}
	w.DoseError = doseError(w.Drops, w.ExactDrops)
	w.CureBatch = r.cureBatch(w.DoseError, w.ExactDrops, blend, 1)
	return w
}

// doseError is (rounded - exact) / exact; 0 where nothing is asked for.
func doseError(rounded, exact *calc.Figure) *calc.Figure {
	if v, ok := exact.Value(); ok && v == 0 {
		return calc.Zero
	}
	return calc.Div(calc.Sub(rounded, exact), exact)
}

// roundTo is v[0] to a multiple of v[1], half away from zero, with a relative
// slack of 1e-9.
var roundTo = &calc.Fn{
	Eval: func(v []float64) (float64, bool) {
		n := v[0] / v[1]
		return math.Floor(n*(1+1e-9)+0.5) * v[1], v[1] > 0 && v[0] >= 0
	},
	Write: func(a []string) string { return "INT((" + a[0] + ")/(" + a[1] + ")*(1+1E-9)+0.5)*(" + a[1] + ")" },
}

// cureBatch is the weight of blend nearest to a pour's at which a dose would be
// off by no more than the limit: the next above that the pitcher holds, else the
// next below, else the next above; unknown where the pour's own is.
func (r *run) cureBatch(off, exact, blend *calc.Figure, step float64) *calc.Figure {
	limit := r.value(book.DoseErrorLimit)
	e, ok := exact.Value()
	v, known := off.Value()
	if !ok || !known || e <= 0 || math.Abs(v) <= limit+1e-12 {
		return nil
	}
	above, below := cures(e, step, limit)
	factor := above
	if blend.Or(0)*above/e > r.value(book.Pitcher)*(1+1e-9) && below > 0 {
		factor = below
	}
	return calc.Mul(blend, calc.Const(factor/e))
}

// cures are the exact doses nearest to e, above and below it, that are off by no
// more than limit when they are rounded to steps; below is 0 where there is none.
func cures(e, step, limit float64) (above, below float64) {
	low := func(n float64) float64 { return math.Max(n*step/(1+limit), (n-0.5)*step) }
	high := func(n float64) float64 { return math.Min(n*step/(1-math.Min(limit, 0.999)), (n+0.5)*step*(1-1e-9)) }
	n := math.Max(1, math.Floor(e/step))
	for ; high(n) < e; n++ {
	}
	above = math.Max(e, low(n))
	for n = math.Ceil(e / step); n >= 1; n-- {
		if low(n) <= e {
			return above, math.Min(e, high(n))
		}
	}
	return above, 0
}

// days sums up the days that are poured on.
func (r *run) days(s *bench.Shop) {
	limit := r.setting(book.PourMinutes)
	if r.opts.Minutes > 0 {
		limit = calc.Const(s.Minutes)
	}
	for i := range r.res.Pours {
		p := &r.res.Pours[i]
		minutes := calc.Add(p.Minutes, p.Changeover)
		if n := len(r.res.Days); n > 0 && r.res.Days[n-1].Day == p.Day {
			r.res.Days[n-1].Minutes = calc.Add(r.res.Days[n-1].Minutes, minutes)
			continue
		}
		r.res.Days = append(r.res.Days, Day{Day: p.Day, Minutes: minutes, Limit: limit})
	}
	for i := range r.res.Days {
		d := &r.res.Days[i]
		d.Minutes = d.Minutes.Named("plan.day-minutes", d.Day.String())
	}
}
