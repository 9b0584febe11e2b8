package draw

import (
	"fmt"
	"math"
	"slices"

	"github.com/jung-kurt/gofpdf"
)

// Point is a place on the page, mm from its left and top edge.
type Point struct{ X, Y float64 }

// pen is the only one that talks to gofpdf. It never sets a clip: hatches and
// curves are cut by arithmetic, because text set after a clip can come out white.
type pen struct {
	f          *gofpdf.Fpdf
	known      bool // the fields below are what the page has
	draw, fill Ink
	weight     float64
	dash       []float64
	round      bool
	face       Face
	size       float64 // 0: no font is set
	loaded     [faceCount]bool
	heard      func(x, y float64, s string, st Style) // for tests: told of every text
}

func (k *pen) page() {
	k.f.AddPage()
	k.known = false
}

// stroke sets color, weight in mm and dashes of lines.
func (k *pen) stroke(c Ink, weight float64, dash []float64) {
	if !k.known {
		k.reset()
	}
	if k.draw != c {
		k.f.SetDrawColor(int(c.R), int(c.G), int(c.B))
		k.draw = c
	}
	if k.weight != weight {
		k.f.SetLineWidth(weight)
		k.weight = weight
	}
	if !slices.Equal(k.dash, dash) {
		k.f.SetDashPattern(slices.Clone(dash), 0)
		k.dash = dash
	}
	if round := len(dash) > 0 && dash[0] == 0; k.round != round {
		k.f.SetLineCapStyle(map[bool]string{true: "round", false: "butt"}[round])
		k.round = round
	}
}

func (k *pen) paint(c Ink) {
	if !k.known {
		k.reset()
	}
	if k.fill != c {
		k.f.SetFillColor(int(c.R), int(c.G), int(c.B))
		k.fill = c
	}
}

// reset puts the page and the pen into the same state.
func (k *pen) reset() {
	k.f.SetDrawColor(0, 0, 0)
	k.f.SetFillColor(0, 0, 0)
	k.f.SetLineWidth(WeightHair)
	k.f.SetDashPattern([]float64{}, 0)
	k.f.SetLineCapStyle("butt")
	k.draw, k.fill, k.weight, k.dash, k.round = Black, Black, WeightHair, nil, false
	k.size = 0
	k.known = true
}

// font selects a face, loading its own copy of the font on first use. gofpdf
// keeps the first error, such as a font it cannot read, and Bytes returns it.
func (k *pen) font(f Face, size float64) {
	if !k.loaded[f] {
		k.f.AddUTF8FontFromBytes(faceNames[f], "", slices.Clone(typefaces[f]().ttf))
		k.loaded[f] = true
	}
	if k.face != f || k.size != size {
		k.f.SetFont(faceNames[f], "", size)
		k.face, k.size = f, size
	}
}

// text sets a cleaned text with its base line at y.
func (k *pen) text(x, y float64, s string, st Style) {
	if k.heard != nil {
		k.heard(x, y, s, st)
	}
	if !k.known {
		k.reset()
	}
	k.f.SetTextColor(int(st.Ink.R), int(st.Ink.G), int(st.Ink.B))
	if st.Track != 0 {
		k.f.RawWriteStr(fmt.Sprintf("%.3f Tc", st.Track))
	}
	for _, r := range runs(s, st) {
		if r.text != "" {
			k.font(r.face, st.size())
			k.f.Text(x, y, r.text)
		}
		x += r.width
	}
	if st.Track != 0 {
		k.f.RawWriteStr("0 Tc")
	}
}

// turned sets a cleaned text turned by 90 degrees, reading upwards, starting at x, y.
func (k *pen) turned(x, y float64, s string, st Style) {
	k.font(st.Face, st.size())
	k.f.TransformBegin()
	k.f.TransformRotate(90, x, y)
	k.text(x, y, s, st)
	k.f.TransformEnd()
	k.known = false
}

// usable reports whether all numbers can stand in a PDF.
func usable(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.Abs(x) > 1e4 {
			return false
		}
	}
	return true
}
