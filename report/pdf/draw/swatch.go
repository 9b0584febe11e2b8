package draw

import (
	"hash/fnv"
	"strconv"
	"strings"
)

// Swatch is the look of a finish: an approximate color under a white hatch of
// its own, so that two colors differ in black and white too.
type Swatch struct {
	Hex     string // #rrggbb, may be empty
	Name    string // gives the hatch, unless Pattern does
	Pattern int    // a number of Patterns; 0: by the name
	Natural bool   // cream, no hatch
}

// Swatch draws a swatch. The name belongs beside it.
func (p *Page) Swatch(r Rect, s Swatch) {
	if !r.usable() {
		return
	}
	if s.Natural {
		p.Fill(r, Cream)
		p.Outline(r, 0.25, Black)
		return
	}
	k, ok := ParseHex(s.Hex)
	if !ok {
		k = inkMid
	}
	p.Fill(r, k)
	gap := max(0.7, min(1.3, r.H/4.5))
	line, light := White, k.light()
	if light {
		line = Black // white on a pale color would vanish
	}
	for _, h := range s.hatch() {
		p.Hatch(r, h.degrees, gap*h.gap, 0.22, line)
	}
	p.Outline(r, 0.3, Black)
}

type hatching struct{ degrees, gap float64 }

// hatches are the patterns a name can have: single, crossed, wide and narrow.
var hatches = [][]hatching{
	{{45, 1}},
	{{-45, 1}},
	{{45, 1.2}, {-45, 1.2}},
	{{90, 1}},
	{{0, 1}},
	{{0, 1.2}, {90, 1.2}},
	{{22, 1}},
	{{-22, 1}},
	{{68, 1}},
	{{-68, 1}},
	{{45, 1.7}},
	{{-45, 1.7}},
	{{90, 1.8}},
	{{0, 1.5}},
	{{20, 1.3}, {70, 1.3}},
	{{-20, 1.3}, {-70, 1.3}},
}

func (s Swatch) hatch() []hatching {
	n := s.Pattern - 1
	if n < 0 {
		n = patternOf(s.Name)
	}
	return hatches[n%len(hatches)]
}

// patternOf picks the pattern of a name: the same name always has the same.
func patternOf(name string) int {
	h := fnv.New32a()
	h.Write([]byte(strings.ToLower(strings.TrimSpace(name))))
	v := h.Sum32()
	return int((v ^ v>>16) % uint32(len(hatches)))
}

// Patterns gives each name the pattern of its own, and another one where an
// earlier name has that already, so that up to sixteen colors of one document
// all differ.
func Patterns(names []string) map[string]int {
	out, taken := map[string]int{}, map[int]bool{}
	for _, name := range names {
		if out[name] > 0 {
			continue
		}
		n := patternOf(name)
		for i := 0; taken[n] && i < len(hatches); i++ {
			n = (n + 1) % len(hatches)
		}
		taken[n] = true
		out[name] = n + 1
	}
	return out
}

// ParseHex reads #rrggbb.
func ParseHex(s string) (Ink, bool) {
	s = strings.TrimPrefix(strings.TrimSpace(s), "#")
	v, err := strconv.ParseUint(s, 16, 32)
	if err != nil || len(s) != 6 {
		return Ink{}, false
	}
	return Ink{uint8(v >> 16), uint8(v >> 8), uint8(v)}, true
}

// light reports whether white lines would not show on the ink.
func (k Ink) light() bool {
	return 299*int(k.R)+587*int(k.G)+114*int(k.B) > 178*1000
}

// Fills is the number of chart fills.
const Fills = 8

// ChartFill fills a rectangle with the n-th chart fill, from 0, and outlines
// it. All eight differ in one-bit print; they are always used in this order.
func (p *Page) ChartFill(r Rect, n int) {
	if !r.usable() {
		return
	}
	switch ((n % Fills) + Fills) % Fills {
	case 0:
		p.Fill(r, inkDark)
	case 1:
		p.Fill(r, inkMid)
	case 2:
		p.Fill(r, Rust)
	case 3:
		p.Fill(r, White)
		p.Hatch(r, 90, 0.9, 0.22, Black)
	case 4:
		p.Fill(r, inkPale)
	case 5:
		p.Fill(r, White)
		p.Dots(r, 0.75, 0.2, Black)
	case 6:
		p.Fill(r, White)
		p.Hatch(r, 45, 0.85, 0.22, Black)
	case 7:
		p.Fill(r, Secondary)
		p.Hatch(r, -45, 0.9, 0.28, White)
	}
	p.Outline(r, WeightHair, Black)
}

// onFill is how a value is printed on a chart fill: its ink, and whether it
// needs a white ground.
func onFill(n int) (k Ink, ground bool) {
	switch n % Fills {
	case 0, 2:
		return White, false
	case 1, 4:
		return Black, false
	}
	return Black, true
}
