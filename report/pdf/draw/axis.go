package draw

import "math"

// Ticks are round numbers from at or below low to at or above high, about n of them.
func Ticks(low, high float64, n int) []float64 {
	if !usableValue(low) || !usableValue(high) {
		return []float64{0, 1}
	}
	if high < low {
		low, high = high, low
	}
	if high-low < 1e-9*math.Max(1, math.Abs(high)) {
		high = low + math.Max(1, math.Abs(low)*0.1)
	}
	step := niceStep((high - low) / float64(max(1, min(n, 20))))
	first, last := math.Floor(low/step+1e-9), math.Ceil(high/step-1e-9)
	var out []float64
	for i := first; i <= last; i++ {
		out = append(out, i*step)
	}
	return out
}

// niceStep is the smallest of 1, 2, 5 times a power of ten that is at least s.
func niceStep(s float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(s)))
	for _, m := range [...]float64{1, 2, 5} {
		if m*p >= s*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

func usableValue(v float64) bool { return !math.IsNaN(v) && math.Abs(v) < 1e15 }

// decimals is how many places a tick step needs.
func decimals(step float64) int {
	for n := range 6 {
		if v := step * math.Pow(10, float64(n)); math.Abs(v-math.Round(v)) < 1e-6 {
			return n
		}
	}
	return 6
}

// scale maps values to mm.
type scale struct {
	low, high float64 // values
	from, to  float64 // mm
	log       bool
}

func (s scale) at(v float64) float64 {
	low, high := s.low, s.high
	if s.log {
		v, low, high = math.Log(v), math.Log(low), math.Log(high)
	}
	if high == low {
		return s.from
	}
	return s.from + (v-low)/(high-low)*(s.to-s.from)
}

// clip is the place of a value, held inside the scale, and which way it left: -1, 0, 1.
func (s scale) clip(v float64) (float64, int) {
	switch {
	case !(v >= s.low):
		return s.from, -1
	case v > s.high:
		return s.to, 1
	}
	return s.at(v), 0
}

// Format writes a value of a chart; nil is two places.
type Format func(float64) string

func (f Format) text(v float64) string {
	if f == nil {
		return Report(v, 2)
	}
	return f(v)
}

// AxisFormat writes a number of an axis, whose step needs a number of decimal
// places; nil writes the plain number. It must not round to fewer places, or
// the axis would lie.
type AxisFormat func(v float64, places int) string

// texts are the numbers of an axis.
func (f AxisFormat) texts(ticks []float64) []string {
	if f == nil {
		f = Report
	}
	places := 0
	if len(ticks) > 1 {
		places = decimals(ticks[1] - ticks[0])
	}
	out := make([]string, len(ticks))
	for i, t := range ticks {
		out[i] = f(t, places)
	}
	return out
}

// linear makes ticks and a scale for values on a level axis; it always holds 0
// when zero is set.
func linear(values []float64, zero bool, from, to float64, n int) ([]float64, scale) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if usableValue(v) {
			low, high = min(low, v), max(high, v)
		}
	}
	if low > high {
		low, high = 0, 1
	}
	if zero {
		low, high = min(low, 0), max(high, 0)
	}
	ticks := Ticks(low, high, n)
	return ticks, scale{low: ticks[0], high: ticks[len(ticks)-1], from: from, to: to}
}

const axisHeight = 5.5 // room for the numbers under a level axis

// levelAxis draws the grid lines and numbers of a level axis; numbers that
// would touch are left out.
func (p *Page) levelAxis(s scale, ticks []float64, top, bottom float64, labels []string) {
	end := math.Inf(-1)
	st := Small.With(Secondary)
	for i, t := range ticks {
		x := s.at(t)
		p.Line(x, top, x, bottom, WeightHair, Hairline)
		label := labels[i]
		w := p.doc.Width(label, st)
		if x-w/2 < end+1.5 {
			continue
		}
		p.TextCenter(x, bottom+3.9, label, st)
		end = x + w/2
	}
}
