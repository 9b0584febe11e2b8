package draw

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e6, 1e6).Draw(t, "low")
		high := low + rapid.Float64Range(0, 1e6).Draw(t, "span")
		n := rapid.IntRange(-3, math.MaxInt32).Draw(t, "n")
		ticks := Ticks(low, high, n)
		if len(ticks) < 2 || len(ticks) > 23 {
			t.Fatalf("%d ticks", len(ticks))
		}
		slack := 1e-6 * math.Max(1, math.Abs(high))
		if ticks[0] > low+slack || ticks[len(ticks)-1] < high-slack {
			t.Fatalf("%v does not hold %v to %v", ticks, low, high)
		}
	})
}

// The numbers of an axis are those of its ticks: no rounding of steps.
func TestAxisTexts(t *testing.T) {
	for _, c := range []struct{ low, high float64 }{{0, 9}, {0, 0.03}, {-0.4, 0.5}, {0, 12345}} {
		ticks := Ticks(c.low, c.high, 4)
		seen := map[string]bool{}
		for _, s := range AxisFormat(nil).texts(ticks) {
			if seen[s] {
				t.Errorf("%v to %v: %q stands twice", c.low, c.high, s)
			}
			seen[s] = true
		}
	}
}

func TestRangePlotClips(t *testing.T) {
	c := RangePlot{Rows: []RangeRow{{Low: 0.5, Mid: 1, High: 3}, {Low: 0, Mid: 0.4, High: math.Inf(1), Thin: true}}}
	s, ticks := c.scale(Rect{0, 0, 100, 50})
	if ticks[0] != 0.25 || ticks[len(ticks)-1] != 4 {
		t.Errorf("ticks %v", ticks)
	}
	if x, way := s.clip(0); x != s.from || way != -1 {
		t.Errorf("0 stands at %v, %d", x, way)
	}
	if x, way := s.clip(math.Inf(1)); x != s.to || way != 1 {
		t.Errorf("infinity stands at %v, %d", x, way)
	}
	if math.Abs(s.at(1)-50) > 1e-9 {
		t.Errorf("level stands at %v", s.at(1))
	}
}

// A value is printed only in a segment of 7.6 mm or more that holds it.
func TestValuesInSegments(t *testing.T) {
	d := New(options(A4))
	p := d.NewPage(Header{Title: "Costs"})
	c := StackedBars{Parts: []string{"Wax", "Dye"}, Rows: []StackedRow{{Label: "A", Values: []float64{9, 0.07}}}}
	c.Draw(p, Rect{18, 60, 180, 60})
	all := drawn(t, p)
	if _, n := find(all, "9.00"); n != 1 {
		t.Error("the wide segment has no value")
	}
	if _, n := find(all, "0.07"); n != 0 {
		t.Error("the narrow segment has a value")
	}
}

func TestScatterLabelsKeepApart(t *testing.T) {
	d := New(options(A4))
	p := d.NewPage(Header{Title: "Price"})
	var c Scatter
	for i := range 40 {
		c.Points = append(c.Points, ScatterPoint{X: float64(i % 7), Y: float64(i % 5), Label: "jar " + itoa(i)})
	}
	c.Draw(p, Rect{18, 60, 180, 70})
	var boxes []Rect
	for _, q := range drawn(t, p) {
		if len(q.s) < 5 || q.s[:4] != "jar " {
			continue
		}
		b := Rect{q.x, q.y - q.st.Cap(), width(q.s, q.st), q.st.Cap()}
		if b.meets(boxes) {
			t.Errorf("%q lies on another label", q.s)
		}
		boxes = append(boxes, b)
	}
	if len(boxes) < 10 {
		t.Errorf("only %d labels", len(boxes))
	}
}

func TestDropsWrap(t *testing.T) {
	d := New(options(Letter))
	p := d.NewPage(Header{Title: "Card"})
	y := p.Drops(20, 60, 100, 41)
	if want := 60 + DropsHeight(100, 41); y != want {
		t.Errorf("ends at %v, not %v", y, want)
	}
	all := drawn(t, p)
	for _, s := range []string{"10", "20", "30", "40", "41"} {
		if q, n := find(all, s); n != 1 || q.x > 120 {
			t.Errorf("%q is set %d times, at %v", s, n, q.x)
		}
	}
}

func TestHatchStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Rect{10, 20, rapid.Float64Range(0.1, 50).Draw(t, "w"), rapid.Float64Range(0.1, 50).Draw(t, "h")}
		q := Point{rapid.Float64Range(0, 80).Draw(t, "x"), rapid.Float64Range(0, 80).Draw(t, "y")}
		sin, cos := math.Sincos(rapid.Float64Range(-4, 4).Draw(t, "angle"))
		a, b, ok := r.cut(q, cos, sin)
		if !ok {
			return
		}
		for _, e := range []Point{a, b} {
			if e.X < r.X-1e-6 || e.X > r.Right()+1e-6 || e.Y < r.Y-1e-6 || e.Y > r.Bottom()+1e-6 {
				t.Fatalf("%v lies outside of %v", e, r)
			}
		}
	})
}

func TestSwatch(t *testing.T) {
	if k, ok := ParseHex(" #b0442C"); !ok || k != (Ink{0xb0, 0x44, 0x2c}) {
		t.Errorf("ParseHex = %v, %v", k, ok)
	}
	for _, s := range []string{"", "#fff", "red", "#12345g", "#1234567"} {
		if _, ok := ParseHex(s); ok {
			t.Errorf("ParseHex(%q) is a color", s)
		}
	}
	if patternOf("Brick 3") != patternOf(" brick 3") {
		t.Error("one name has two patterns")
	}
	var names []string
	for i := range len(hatches) {
		names = append(names, "color "+itoa(i))
	}
	seen := map[int]string{}
	for name, n := range Patterns(append(names, names...)) {
		if seen[n] != "" {
			t.Errorf("%s and %s have pattern %d", name, seen[n], n)
		}
		seen[n] = name
	}
	if len(seen) != len(names) {
		t.Errorf("%d patterns for %d names", len(seen), len(names))
	}
}
