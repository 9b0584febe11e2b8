package bench

// bestDay is what a day of a class makes of its minutes at the prices, and the
// units that it buys of each item.
//
// The pours of a recipe are an unbounded knapsack over the cells of the day; the
// recipes are then put together, each paying a change-over, the first one from
// minutes that are added to the day.
func (l *prices) bestDay(c class) (float64, []float64) {
	wide := l.cells + l.wipe
	best := make([]float64, wide+1)
	var recipes []recipeDay
	var picks [][]int
	for _, batches := range l.byRecipe(c) {
		r := l.recipeDay(c, batches)
		if len(r.steps) == 0 {
			continue
		}
		next, pick := make([]float64, wide+1), make([]int, wide+1)
		copy(next, best)
		for _, t := range r.steps {
			for at := t + l.wipe; at <= wide; at++ {
				if v := best[at-t-l.wipe] + r.value[t]; v > next[at]+1e-12 {
					next[at], pick[at] = v, t
				}
			}
		}
		best = next
		recipes, picks = append(recipes, r), append(picks, pick)
	}
	bought := make([]float64, len(l.price))
	at := wide
	for n := len(recipes) - 1; n >= 0; n-- {
		if t := picks[n][at]; t > 0 {
			recipes[n].buy(l, t, bought)
			at -= t + l.wipe
		}
	}
	return best[wide], bought
}

// byRecipe groups the batches that a class may pour.
func (l *prices) byRecipe(c class) [][]int {
	var out [][]int
	at := map[int]int{}
	for b := range l.Batches {
		if !c.batches[b] {
			continue
		}
		r := l.Kinds[l.Batches[b].Kind].Recipe
		n, ok := at[r]
		if !ok {
			n = len(out)
			at[r], out = n, append(out, nil)
		}
		out[n] = append(out[n], b)
	}
	return out
}

// recipeDay is the best that one recipe makes of so many cells.
type recipeDay struct {
	value []float64
	batch []int // of the last pour, -1 for none
	dish  []int
	steps []int // cells at which the value rises
}

func (l *prices) recipeDay(c class, batches []int) recipeDay {
	r := recipeDay{make([]float64, l.cells+1), make([]int, l.cells+1), make([]int, l.cells+1), nil}
	menu := l.offers(c, batches)
	for t := 1; t <= l.cells; t++ {
		r.value[t], r.batch[t] = r.value[t-1], -1
		for _, o := range menu {
			if o.cells <= t {
				if v := r.value[t-o.cells] + o.value; v > r.value[t]+1e-12 {
					r.value[t], r.batch[t], r.dish[t] = v, o.batch, o.dish
				}
			}
		}
		if r.value[t] > r.value[t-1]+1e-12 {
			r.steps = append(r.steps, t)
		}
	}
	return r
}

// valued is a pour at the prices: the best one of its batch for its cells.
type valued struct {
	cells, batch, dish int
	value              float64
}

// offers is the pours worth something, none that costs more cells for no more value.
func (l *prices) offers(c class, batches []int) []valued {
	best := map[int]valued{}
	for _, b := range batches {
		net := make([]float64, len(l.Batches[b].Items))
		for i := range net {
			net[i] = l.price[l.first[b]+i]
			for k, early := range c.early {
				if early {
					net[i] -= l.charge[k] * l.Batches[b].Items[i].Use[l.stock[k]]
				}
			}
		}
		for d, x := range l.menus[b] {
			v := 0.0
			for i, n := range x.units {
				v += float64(n) * net[i]
			}
			if had, ok := best[x.cells]; v > 1e-12 && (!ok || v > had.value) {
				best[x.cells] = valued{x.cells, b, d, v}
			}
		}
	}
	var out []valued
	top := 0.0
	for t := 1; t <= l.cells; t++ {
		if o, ok := best[t]; ok && o.value > top+1e-12 {
			out, top = append(out, o), o.value
		}
	}
	return out
}

// buy adds the units of t cells of the recipe.
func (r *recipeDay) buy(l *prices, t int, bought []float64) {
	for t > 0 {
		b := r.batch[t]
		if b < 0 {
			t--
			continue
		}
		x := l.menus[b][r.dish[t]]
		for i, n := range x.units {
			bought[l.first[b]+i] += float64(n)
		}
		t -= x.cells
	}
}
