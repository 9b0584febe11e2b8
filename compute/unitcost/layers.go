package unitcost

import (
	"strings"

	"pourbook/compute/calc"
)

// layers is first in, first out. Layers stand end to end on one line of
// quantity bought, of which the part up to taken is gone; so what a month takes
// is a stretch of that line, and its formula stays true when a quantity changes.
type layers struct {
	of     string
	ends   []*calc.Figure // where each layer ends, base units since the roll's start
	prices []*calc.Figure
	taken  *calc.Figure
	cost   *calc.Figure // of the month before
}

// around is how many layers beside those that a stretch touches its formula
// takes in: enough for a change of quantities, few enough for one cell.
const around = 12

// add puts a layer of a quantity on top; day is its purchase's.
func (l *layers) add(qty, price *calc.Figure, day string) {
	if qty.Or(1) <= 0 {
		return
	}
	end := qty
	if len(l.ends) > 0 {
		end = calc.Add(l.end(), qty).Named("stock.layer", l.of, day)
	}
	l.ends, l.prices = append(l.ends, end), append(l.prices, price)
}

// end is everything that ever came in.
func (l *layers) end() *calc.Figure { return l.start(len(l.ends)) }

// start is where layer i begins.
func (l *layers) start(i int) *calc.Figure {
	if i == 0 {
		return calc.Zero
	}
	return l.ends[i-1]
}

func (l *layers) month(r *rolled, buys []buy) (cost, value *calc.Figure) {
	on := r.month.String()
	for _, b := range buys {
		l.add(b.qty, b.price, b.day.String())
	}
	from := l.taken
	wanted := calc.Add(from, r.use)
	l.taken = calc.Min(wanted, l.end()).Named("stock.taken", l.of, on)
	l.cost = l.price(from, wanted, r.use).Named("material.price", l.of, on)
	if r.count != nil {
		l.correct(r)
	}
	return l.cost, l.stretch(l.taken, l.end()).Named("stock.value", l.of, on)
}

// price is value taken / quantity taken, any excess at the last layer's price;
// without use that of the oldest layer left, else the last cost.
func (l *layers) price(from, wanted, use *calc.Figure) *calc.Figure {
	excess := calc.Max(calc.Zero, calc.Sub(wanted, l.end()))
	amount := calc.Add(calc.Sub(l.taken, from), excess)
	if use.Or(1) <= 0 || amount.Or(1) <= 0 {
		for i, end := range l.ends {
			if v := end.Or(0); v-from.Or(0) > 1e-9*max(1, v) {
				return l.prices[i]
			}
		}
		return l.cost
	}
	value := l.stretch(from, l.taken)
	newest := l.prices[len(l.prices)-1]
	if excess.Or(1) > 0 || newest.Known() {
		value = calc.Add(value, calc.Mul(excess, newest))
	}
	return calc.Div(value, amount)
}

// correct makes what is left what the count says: what is missing is taken
// from the oldest layers, a surplus joins the newest at its price.
func (l *layers) correct(r *rolled) {
	on := r.count.day.String()
	missing := calc.Max(calc.Zero, calc.Sub(r.without, r.closing))
	l.taken = calc.Min(l.end(), calc.Add(l.taken, missing)).Named("stock.taken-with-count", l.of, on)
	l.add(calc.Max(calc.Zero, calc.Sub(r.closing, r.without)), l.prices[len(l.prices)-1], on)
}

// stretch is the value of the layers between two places of the line. A layer
// whose price is unknown counts only where the stretch touches it.
func (l *layers) stretch(from, to *calc.Figure) *calc.Figure {
	lo, hi := l.touched(from.Or(0), to.Or(0))
	args := []*calc.Figure{from, to}
	for i := max(0, lo-around); i < min(len(l.ends), hi+around); i++ {
		if l.prices[i].Known() || i >= lo && i < hi {
			args = append(args, l.start(i), l.ends[i], l.prices[i])
		}
	}
	return calc.Call(valueOfLayers, args...)
}

// touched are the layers from lo up to, not including, hi that lie in a stretch.
func (l *layers) touched(from, to float64) (lo, hi int) {
	for lo < len(l.ends) && l.ends[lo].Or(0) <= from {
		lo++
	}
	for hi = lo; hi < len(l.ends) && l.start(hi).Or(0) < to; {
		hi++
	}
	return lo, hi
}

// valueOfLayers takes from, to, and start, end and price of each layer.
var valueOfLayers = &calc.Fn{
	Eval: func(v []float64) (float64, bool) {
		sum := 0.0
		for i := 2; i+2 < len(v); i += 3 {
			sum += v[i+2] * max(0, min(v[i+1], v[1])-max(v[i], v[0]))
		}
		return sum, true
	},
	Write: func(a []string) string {
		terms := []string{"0"}
		for i := 2; i+2 < len(a); i += 3 {
			price := a[i+2]
			if strings.ContainsAny(price, "+-") {
				price = "(" + price + ")"
			}
			terms = append(terms, price+"*MAX(0,MIN("+a[i+1]+","+a[1]+")-MAX("+a[i]+","+a[0]+"))")
		}
		return "(" + strings.Join(terms[min(1, len(terms)-1):], "+") + ")"
	},
}
