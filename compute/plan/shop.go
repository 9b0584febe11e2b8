package plan

import (
	"math"
	"slices"
	"strings"
	"time"
	"unicode"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/plan/bench"
	"pourbook/compute/problem"
)

// batch is a recipe and finish for one market, and its jobs in table order.
type batch struct {
	recipe *book.Recipe
	finish book.Finish
	turn   int
	due    day.Date
	cure   day.Date // days
	fixed  *calc.Figure
	jobs   []*job
}

// shop puts everything that is to be poured, and what limits it, into numbers.
func (r *run) shop() (*bench.Shop, []*batch) {
	s := &bench.Shop{
		Minutes: r.value(book.PourMinutes), Pitcher: r.value(book.Pitcher), Reject: 1 - r.good.Or(1),
		Wipe: r.value(book.WipeMinutes), Wash: r.value(book.WashMinutes),
	}
	if r.opts.Minutes > 0 {
		s.Minutes = r.opts.Minutes
	}
	batches := r.batches()
	last := day.None
	for _, b := range batches {
		last = max(last, b.due)
	}
	s.Days = r.pourDays(last)
	r.stock(s)
	kinds := map[[2]string]int{}
	recipes := map[*book.Recipe]int{}
	for n, b := range batches {
		k := [2]string{b.recipe.Name.V, string(b.finish)}
		if _, ok := kinds[k]; !ok {
			kinds[k] = len(s.Kinds)
			if _, ok := recipes[b.recipe]; !ok {
				recipes[b.recipe] = len(recipes)
			}
			s.Kinds = append(s.Kinds, bench.Kind{
				Recipe: recipes[b.recipe], Dye: r.dyeNumber(b.jobs[0].dyes()),
				Natural: b.finish == book.Natural, Drops: b.jobs[0].dropShare(),
			})
		}
		s.Batches = append(s.Batches, r.bench(b, n, kinds[k]))
	}
	return s, batches
}

func (r *run) dyeNumber(dyes string) int {
	n, ok := r.dyes[dyes]
	if !ok {
		n = len(r.dyes)
		r.dyes[dyes] = n
	}
	return n
}

// bench is a batch in numbers.
func (r *run) bench(b *batch, n, kind int) bench.Batch {
	out := bench.Batch{Kind: kind, Due: b.due, Turn: b.turn, Fixed: b.fixed.Or(0)}
	for i, j := range b.jobs {
		j.batch, j.item = n, i
		x := bench.Item{Sort: bench.Sort{Units: j.started, Grams: j.fill.Or(0), Minutes: j.minutes.Or(0)}, Worth: j.worths()}
		x.Use = make([]float64, len(r.mats))
		for _, t := range j.takes {
			x.Use[slices.Index(r.mats, t.of)] += t.quantity.Or(0)
		}
		out.Items = append(out.Items, x)
	}
	return out
}

// batches groups the jobs by market, recipe and finish. A job of which something
// is unknown is left out, with a problem.
func (r *run) batches() []*batch {
	var out []*batch
	for _, j := range r.jobs {
		if !r.fit(j) {
			j.batch = -1
			r.problem(problem.Error, problem.MissingField, "pour", j.product.Code.At, "product", j.product.Code.V)
			continue
		}
		p := j.product
		i := slices.IndexFunc(out, func(b *batch) bool { return b.turn == j.turn && b.recipe == p.Recipe && b.finish == p.Finish })
		if i < 0 {
			i = len(out)
			out = append(out, r.newBatch(j))
		}
		out[i].jobs = append(out[i].jobs, j)
	}
	return out
}

func (r *run) newBatch(j *job) *batch {
	defer fault.In(j.product.Code.At, j.product.Code.V)
	b := &batch{recipe: j.product.Recipe, finish: j.product.Finish, turn: j.turn, fixed: r.setting(book.BatchMinutes)}
	if b.finish == book.Colored {
		b.fixed = calc.Add(b.fixed, r.setting(book.ColoredMinutes))
	}
	wanted := r.res.By
	if len(r.outings) > 0 {
		wanted = r.outings[j.turn].of.Day
	}
	days := b.recipe.CureDays
	if days.State == cell.Blank {
		days = r.book.Settings.Num(book.CureDays)
	}
	margin := r.book.Settings.Num(book.CureMargin)
	if !days.OK() || !margin.OK() {
		r.problem(problem.Error, problem.MissingField, "cure-days", days.At, "recipe", b.recipe.Name.V)
		b.due = r.opts.Today - 1 // never in time
		return b
	}
	b.cure = wholeDays(days.V)
	b.due = wanted - b.cure - wholeDays(margin.V)
	return b
}

// stock lists the materials that the jobs take, and when more of them can be there.
func (r *run) stock(s *bench.Shop) {
	used := map[*book.Material]bool{}
	for _, j := range r.jobs {
		for _, t := range j.takes {
			used[t.of] = used[t.of] || j.batch >= 0
		}
	}
	for _, m := range r.book.Materials {
		if used[m] {
			r.mats = append(r.mats, m)
			s.Stock = append(s.Stock, bench.Stock{Held: held(m), Arrives: r.opts.Today + leadDays(m)})
		}
	}
}

// held is what is on hand of a material, none where the book does not say.
func held(m *book.Material) float64 {
	if !m.OnHand.OK() {
		return 0
	}
	return math.Max(0, m.OnHand.V)
}

func leadDays(m *book.Material) day.Date {
	if !m.LeadDays.OK() {
		return 0
	}
	return wholeDays(m.LeadDays.V)
}

// pourDays are the days on which can be poured, up to the last one due.
func (r *run) pourDays(last day.Date) []day.Date {
	var out []day.Date
	week := weekdays(r.book.Settings.Text(book.PourDays).V)
	for d := r.firstDay(); d <= last; d++ {
		if week[d.Time().Weekday()] && !slices.Contains(r.opts.Skip, d) {
			out = append(out, d)
		}
	}
	return out
}

func (r *run) firstDay() day.Date { return max(r.opts.Today, r.opts.Start) }

// weekdays reads names of days such as "Mon, Wed and Fri", "Tue-Thu", "weekdays"
// or "every day"; text without any is every day.
func weekdays(s string) [7]bool {
	var out [7]bool
	words := strings.FieldsFunc(cell.Fold(s), func(c rune) bool { return !unicode.IsLetter(c) && c != '-' && c != '–' })
	for n, w := range words {
		from, to, span := strings.Cut(strings.ReplaceAll(w, "–", "-"), "-")
		switch {
		case strings.HasPrefix(w, "weekday"):
			mark(&out, time.Monday, time.Friday)
		case strings.HasPrefix(w, "weekend"):
			mark(&out, time.Saturday, time.Sunday)
		case span:
			mark(&out, weekday(from), weekday(to))
		case w == "to" && n > 0 && n+1 < len(words):
			mark(&out, weekday(words[n-1]), weekday(words[n+1]))
		default:
			mark(&out, weekday(w), weekday(w))
		}
	}
	if out == [7]bool{} {
		return [7]bool{true, true, true, true, true, true, true}
	}
	return out
}

// weekday is the day that a word names; -1 for none.
func weekday(w string) time.Weekday {
	for d := time.Sunday; d <= time.Saturday; d++ {
		if len(w) >= 3 && strings.HasPrefix(w, strings.ToLower(d.String()[:3])) {
			return d
		}
	}
	return -1
}

func mark(week *[7]bool, from, to time.Weekday) {
	if from < 0 || to < 0 {
		return
	}
	for d := from; ; d = (d + 1) % 7 {
		week[d] = true
		if d == to {
			return
		}
	}
}
