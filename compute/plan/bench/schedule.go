package bench

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// Schedule gives every pour a day: none late, no day over its minutes, no
// material before it is there; then the fewest change-over minutes, then the
// earliest finish. It is false when no such days were found.
//
// Up to exactPours pours a branch and bound search finds the best schedule there
// is; more pours, or a search that is cut off, are left to simulated annealing
// with a fixed seed from a greedy start. A start that reaches the lower bound of
// changeFloor needs neither.
func (s *Shop) Schedule(pours []Pour) ([]Pour, bool) {
	b := s.newBoard(pours)
	if len(pours) == 0 {
		return nil, true
	}
	for i := b.held; i < len(b.pours); i++ {
		if b.lasts[i] == 0 || !within(b.mins[i], s.Minutes) {
			return nil, false
		}
	}
	best := b.solve(len(s.Days), math.Inf(1))
	if best == nil {
		return nil, false
	}
	for low, high := b.earliest(best.change), best.finish; low < high; {
		mid := (low + high) / 2
		if r := b.solve(mid, best.change); r != nil {
			best, high = r, r.finish
		} else {
			low = mid + 1
		}
	}
	b.restore(best.days)
	b.settle()
	return slices.Clone(b.pours[b.held:]), true
}

// result is a schedule that keeps to every limit.
type result struct {
	days   []int
	change float64
	finish int
	sum    float64
}

func (b *board) result() *result {
	return &result{b.assignment(), b.change, b.finish(), b.sum}
}

func (r *result) better(than *result) bool {
	if than == nil {
		return true
	}
	if math.Abs(r.change-than.change) > 1e-6 {
		return r.change < than.change
	}
	return cmp.Or(cmp.Compare(r.finish, than.finish), cmp.Compare(r.sum, than.sum)) < 0
}

// solve finds a schedule within the first days of the shop whose change-overs
// take at most the given minutes; nil when it finds none.
func (b *board) solve(days int, atMost float64) *result {
	b.days = days
	target := b.changeFloor(days)
	if days == 0 || target > atMost+1e-6 || !b.roomy(days) {
		return nil
	}
	if !math.IsInf(atMost, 1) {
		target = math.Max(target, atMost)
	}
	enough := func(r *result) bool { return r != nil && r.change <= target+1e-6 }
	b.greedy()
	var best *result
	if b.works() {
		best = b.result()
	}
	if len(b.pours)-b.held <= exactPours && !enough(best) {
		var all bool
		if best, all = b.exact(best, atMost); all {
			return best.atMost(atMost)
		}
	}
	for seed := uint64(1); seed <= tries(atMost) && !enough(best); seed++ {
		best = b.anneal(seed, best, enough)
		if best == nil && b.over > 0.02*b.Minutes*float64(days) {
			break // far from fitting
		}
	}
	return best.atMost(atMost)
}

// tries is how often annealing starts: three times for the change-overs, once for each
// earlier finish.
func tries(atMost float64) uint64 {
	if math.IsInf(atMost, 1) {
		return 3
	}
	return 1
}

// atMost is r where its change-overs take no more than the given minutes.
func (r *result) atMost(minutes float64) *result {
	if r == nil || r.change > minutes+1e-6 {
		return nil
	}
	return r
}

// greedy places the pours by due day, those of a recipe together, each where it
// costs least.
func (b *board) greedy() {
	by := b.byUrgency()
	for _, i := range by {
		b.place(i, -1)
	}
	for _, i := range by {
		best, at := math.Inf(1), 0
		for d := range min(b.lasts[i], b.days) {
			b.place(i, d)
			if e := b.energy(); e < best-1e-9 {
				best, at = e, d
			}
		}
		b.place(i, at)
	}
}

// byUrgency is the pours that are not held: the recipes by their earliest due
// day, within them natural first, large before small.
func (b *board) byUrgency() []int {
	due := map[int]int{}
	by := make([]int, 0, len(b.pours)-b.held)
	for i := b.held; i < len(b.pours); i++ {
		r := b.recipe(i)
		if v, ok := due[r]; !ok || b.lasts[i] < v {
			due[r] = b.lasts[i]
		}
		by = append(by, i)
	}
	slices.SortStableFunc(by, func(i, j int) int {
		ri, rj := b.recipe(i), b.recipe(j)
		return cmp.Or(cmp.Compare(due[ri], due[rj]), cmp.Compare(ri, rj), b.rank(b.kind(i), b.kind(j)), cmp.Compare(b.mins[j], b.mins[i]))
	})
	return by
}

func (b *board) kind(i int) int   { return b.Batches[b.pours[i].Batch].Kind }
func (b *board) recipe(i int) int { return b.Kinds[b.kind(i)].Recipe }

// roomy reports whether the minutes alone leave a chance: for every due day,
// the pours up to it against the days up to it.
func (b *board) roomy(days int) bool {
	for d := 1; d <= days; d++ {
		sum, alone := 0.0, 0
		for i := range b.pours {
			if min(b.lasts[i], days) <= d {
				sum += b.mins[i]
				if b.mins[i] > b.Minutes/2*(1+slack) {
					alone++
				}
			}
		}
		if !within(sum, float64(d)*b.Minutes) || alone > d {
			return false
		}
	}
	return true
}

// earliest is a number of days below which the minutes cannot be had.
func (b *board) earliest(change float64) int {
	total := change
	for _, m := range b.mins {
		total += m
	}
	n := max(1, ceilDiv(total, b.Minutes))
	for _, p := range b.pours[:b.held] {
		n = max(n, p.Day+1)
	}
	return n
}

// changeFloor is a lower bound on the change-over minutes. The pours of a recipe
// take at least so many days as their minutes fill; where the recipes together
// ask for more days than there are, each day too few costs a change-over. It
// holds for the pours due by any day, and the days up to it.
func (b *board) changeFloor(days int) float64 {
	floor := 0.0
	for d := 1; d <= days; d++ {
		minutes := map[int]float64{}
		for i := range b.pours {
			if min(b.lasts[i], days) <= d {
				minutes[b.recipe(i)] += b.mins[i]
			}
		}
		asked := 0
		for _, m := range minutes {
			asked += max(1, ceilDiv(m, b.Minutes))
		}
		floor = math.Max(floor, float64(asked-d)*math.Min(b.Wipe, b.Wash))
	}
	return floor
}

// hottest is the energy, in minutes of change-over, that annealing gives away at first.
const hottest = 5.0

// anneal improves the board from where it stands; the best schedule seen that
// keeps to every limit, or the one given.
func (b *board) anneal(seed uint64, best *result, enough func(*result) bool) *result {
	rng := rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))
	free := len(b.pours) - b.held
	steps := min(max(2000*free, 20_000), 60_000)
	energy := b.energy()
	cooling := math.Pow(0.05/hottest, 1/float64(steps))
	for heat := hottest; steps > 0; steps-- {
		heat *= cooling
		b.undo = b.undo[:0]
		b.move(rng)
		if len(b.undo) == 0 {
			continue
		}
		e := b.energy()
		if e > energy && rng.Float64() >= math.Exp((energy-e)/heat) {
			for n := len(b.undo) - 1; n >= 0; n-- {
				b.place(b.undo[n].pour, b.undo[n].from)
			}
			continue
		}
		energy = e
		if b.works() && (best == nil || b.change < best.change+1e-6) {
			if r := b.result(); r.better(best) {
				best = r
				if enough(best) && steps > 4000 {
					steps = 4000
				}
			}
		}
	}
	return best
}

// moved is where a pour came from.
type moved struct{ pour, from int }

func (b *board) moveTo(i, day int) {
	b.undo = append(b.undo, moved{i, b.pours[i].Day})
	b.place(i, day)
}

// move changes something at random, if it can.
func (b *board) move(rng *rand.Rand) {
	i, j := b.held+rng.IntN(len(b.pours)-b.held), b.held+rng.IntN(len(b.pours)-b.held)
	from := b.pours[i].Day
	switch rng.IntN(8) {
	case 0, 1: // change two pours' days
		if to := b.pours[j].Day; to != from && to < b.lasts[i] && from < b.lasts[j] {
			b.moveTo(i, to)
			b.moveTo(j, from)
		}
	case 2: // move a recipe's pours of a day together
		b.moveRecipe(i, from, rng.IntN(min(b.lasts[i], b.days)))
	case 3: // change two recipes' days
		to := b.pours[j].Day
		b.moveRecipe(i, from, to)
		b.moveRecipe(j, to, from)
	default:
		if to := rng.IntN(min(b.lasts[i], b.days)); to != from {
			b.moveTo(i, to)
		}
	}
}

// moveRecipe moves what is poured of a pour's recipe from one day to another,
// as far as it is not late there.
func (b *board) moveRecipe(i, from, to int) {
	if from == to {
		return
	}
	r, already := b.recipe(i), len(b.undo)
	for j := b.held; j < len(b.pours); j++ {
		if b.pours[j].Day == from && b.recipe(j) == r && to < b.lasts[j] && !b.justMoved(j, already) {
			b.moveTo(j, to)
		}
	}
}

// justMoved reports whether a pour is among the first n moves.
func (b *board) justMoved(j, n int) bool {
	for _, m := range b.undo[:n] {
		if m.pour == j {
			return true
		}
	}
	return false
}

// settle moves pours to earlier days where that costs nothing.
func (b *board) settle() {
	change := b.change
	for moved := true; moved; {
		moved = false
		for i := b.held; i < len(b.pours); i++ {
			from := b.pours[i].Day
			for d := range from {
				b.place(i, d)
				if b.works() && b.change <= change+1e-6 {
					moved = true
					break
				}
				b.place(i, from)
			}
		}
	}
}
