package bench

import "math"

// board is pours on days, with what that takes, kept up to date move by move.
type board struct {
	*Shop
	pours []Pour // the held ones first
	held  int
	lasts []int // per pour: it may fall on a day before this index
	days  int   // how many of the shop's days may be used

	mins   []float64   // per pour
	takes  [][]float64 // per pour, of each short material
	early  []int       // per short material: the days before it arrives
	limit  []float64   // per short material: what is on hand
	before []float64   // per short material: taken on those days

	loads   []float64 // per day: minutes of its pours
	kinds   [][]int   // per day: the distinct kinds
	masks   []mask    // per day: the same
	counts  [][]int   // per day and kind
	changes []float64 // per day: change-over minutes

	undo []moved

	over, change, sum float64 // minutes beyond the days', of change-overs, days x minutes
}

// newBoard sets up pours of which none has a day but those held.
func (s *Shop) newBoard(pours []Pour) *board {
	n := len(s.Days)
	b := &board{Shop: s, held: len(s.Held), days: n, loads: make([]float64, n), kinds: make([][]int, n), masks: make([]mask, n), counts: make([][]int, n), changes: make([]float64, n)}
	b.pours = append(append(b.pours, s.Held...), pours...)
	for i := range b.counts {
		b.counts[i] = make([]int, len(s.Kinds))
	}
	short := b.shortages()
	for i := range b.pours {
		p := &b.pours[i]
		b.lasts = append(b.lasts, s.last(p.Batch))
		b.mins = append(b.mins, s.minutes(p.Batch, p.Units))
		take := make([]float64, len(short))
		for k, m := range short {
			take[k] = s.use(p.Batch, p.Units, m)
		}
		b.takes = append(b.takes, take)
		if i >= b.held {
			p.Day = -1
		} else {
			b.count(i, p.Day, 1)
		}
	}
	return b
}

// shortages are the materials of which the pours take more than is on hand,
// and that are not there on the first day.
func (b *board) shortages() []int {
	var short []int
	for m, stock := range b.Stock {
		total := 0.0
		for _, p := range b.pours {
			total += b.use(p.Batch, p.Units, m)
		}
		early := 0
		for early < len(b.Days) && b.Days[early] < stock.Arrives {
			early++
		}
		if early > 0 && !within(total, stock.Held) {
			short = append(short, m)
			b.early = append(b.early, early)
			b.limit = append(b.limit, stock.Held)
		}
	}
	b.before = make([]float64, len(short))
	return short
}

// place moves pour i to a day; -1 takes it off.
func (b *board) place(i, day int) {
	if from := b.pours[i].Day; from >= 0 {
		b.count(i, from, -1)
	}
	b.pours[i].Day = day
	if day >= 0 {
		b.count(i, day, 1)
	}
}

func (b *board) count(i, day, sign int) {
	k := b.Batches[b.pours[i].Batch].Kind
	was := b.overload(day)
	b.loads[day] += float64(sign) * b.mins[i]
	b.sum += float64(sign*day) * b.mins[i]
	b.counts[day][k] += sign
	if sign > 0 && b.counts[day][k] == 1 || sign < 0 && b.counts[day][k] == 0 {
		b.rekind(day, k, sign)
	}
	b.over += b.overload(day) - was
	for m, t := range b.takes[i] {
		if day < b.early[m] {
			b.before[m] += float64(sign) * t
		}
	}
}

// rekind adds or drops a kind of a day.
func (b *board) rekind(day, k, sign int) {
	if sign > 0 {
		b.kinds[day] = append(b.kinds[day], k)
	} else {
		ks := b.kinds[day]
		for j := range ks {
			if ks[j] == k {
				ks[j] = ks[len(ks)-1]
				break
			}
		}
		b.kinds[day] = ks[:len(ks)-1]
	}
	b.masks[day].flip(k)
	c := b.sequenceOf(b.masks[day], b.kinds[day]).minutes
	b.change += c - b.changes[day]
	b.changes[day] = c
}

func (b *board) overload(day int) float64 {
	if x := b.loads[day] + b.changes[day] - b.Minutes; x > slack*b.Minutes {
		return x
	}
	return 0
}

// shortage is by how much the early days take more than is on hand, each
// material as a share of what it has, or of one pour's where it has nothing.
func (b *board) shortage() float64 {
	s := 0.0
	for m, v := range b.before {
		if !within(v, b.limit[m]+1e-12) {
			s += 0.05 + (v-b.limit[m])/math.Max(b.limit[m], v)
		}
	}
	return s
}

// works reports whether every limit is kept.
func (b *board) works() bool { return b.over <= 1e-6 && b.shortage() == 0 }

// finish is the index of the last day in use, plus one.
func (b *board) finish() int {
	f := 0
	for _, p := range b.pours {
		f = max(f, p.Day+1)
	}
	return f
}

// energy puts limits first, then change-overs, then early days.
func (b *board) energy() float64 {
	return 20*b.over + 2000*b.shortage() + b.change + b.sum*1e-4
}

// assignment is the day of every pour.
func (b *board) assignment() []int {
	out := make([]int, len(b.pours))
	for i, p := range b.pours {
		out[i] = p.Day
	}
	return out
}

func (b *board) restore(days []int) {
	for i := b.held; i < len(b.pours); i++ {
		if b.pours[i].Day != days[i] {
			b.place(i, days[i])
		}
	}
}
