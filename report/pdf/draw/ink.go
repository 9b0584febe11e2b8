package draw

// Ink is an sRGB color.
type Ink struct{ R, G, B uint8 }

// The inks of the house. Anything read at the bench is Black; Rust is for
// alarms only, always with a triangle, a word and a number.
var (
	Black     = Ink{0, 0, 0}
	White     = Ink{255, 255, 255}
	Secondary = Ink{70, 74, 80}
	Petrol    = Ink{16, 72, 82}
	Rust      = Ink{158, 52, 20}
	Cream     = Ink{255, 252, 240}
	Hairline  = Ink{172, 174, 176}
	Panel     = Ink{240, 238, 234}

	inkDark = Ink{8, 36, 42}
	inkMid  = Ink{140, 163, 166}
	inkPale = Ink{222, 224, 217}
)

// Line weights in mm.
const (
	WeightTop     = 1.6  // the rule over every page
	WeightSection = 0.6  // over a section
	WeightEnd     = 0.4  // end of a table, start of totals
	WeightWriteIn = 0.45 // foot of a write-in box
	WeightMark    = 0.55 // tick boxes and rings
	WeightHair    = 0.2  // between rows, gray; outline of chart fills
)

// Type sizes in points.
const (
	SizeLabel   = 6.5
	SizeSmall   = 7.5
	SizeTable   = 9
	SizeBody    = 10.5
	SizeSection = 13
	SizeLarge   = 17
	SizeFigure  = 22
	SizeTitle   = 26
	SizeBench   = 30
	SizeBatch   = 46
)

// Face names one of the typefaces.
type Face uint8

// The faces: the Go family, and DejaVu Sans Condensed for what it lacks.
const (
	Regular Face = iota
	Medium
	Bold
	Italic
	Mono
	MonoBold
	fallback
	faceCount
)

// Style is how a text is set. The zero Ink is black.
type Style struct {
	Face  Face
	Size  float64 // points; 0 is SizeTable
	Ink   Ink
	Track float64 // extra space after each letter, points
}

// With is the style in another ink.
func (s Style) With(k Ink) Style { s.Ink = k; return s }

// At is the style in another size, in points.
func (s Style) At(size float64) Style { s.Size = size; return s }

// In is the style in another face.
func (s Style) In(f Face) Style { s.Face = f; return s }

// The styles of the type table.
var (
	Label   = Style{Face: Regular, Size: SizeLabel, Ink: Secondary, Track: 0.45}
	Small   = Style{Face: Regular, Size: SizeSmall}
	Aside   = Style{Face: Regular, Size: SizeTable, Ink: Secondary}
	Plain   = Style{Face: Regular, Size: SizeTable}
	Strong  = Style{Face: Bold, Size: SizeTable}
	Body    = Style{Face: Regular, Size: SizeBody}
	Item    = Style{Face: Bold, Size: SizeSection}
	Finding = Style{Face: Medium, Size: SizeSection}
	Large   = Style{Face: Bold, Size: SizeLarge}
	Title   = Style{Face: Bold, Size: SizeTitle}
	Weight  = Style{Face: Bold, Size: SizeBench}
	Batch   = Style{Face: Bold, Size: SizeBatch}
)

const mmPerPt = 25.4 / 72

// size is the type size in points, always usable.
func (s Style) size() float64 {
	if !(s.Size >= 1 && s.Size <= 400) {
		return SizeTable
	}
	return s.Size
}

// Cap is the height of a capital letter in mm.
func (s Style) Cap() float64 { return s.size() * mmPerPt * 0.72 }

// Leading is the distance between base lines in mm.
func (s Style) Leading() float64 { return s.size() * mmPerPt * 1.22 }

// Middle is the base line of a text whose capitals stand centered on y.
func (s Style) Middle(y float64) float64 { return y + s.Cap()/2 }
