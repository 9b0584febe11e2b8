package draw

import (
	"encoding/binary"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

const (
	hyphen     = '-'
	softHyphen = '\u00ad'
	maxRune    = 0xffff // gofpdf panics above
)

// typeface is what layout needs of a font: coverage and advances. It is shared
// between documents and its bytes are never written; those given to gofpdf are copies.
type typeface struct {
	ttf   []byte
	font  *sfnt.Font // nil for a font that cannot be read
	pages [(maxRune + 1) / runePage]atomic.Pointer[advances]
}

// advances are those of neighboring runes, in thousandths of an em, noGlyph
// where the font has none. They are read when the first of them is asked for.
type advances [runePage]uint16

const (
	runePage = 256
	noGlyph  = math.MaxUint16
)

var typefaces = [faceCount]func() *typeface{
	Regular:  once(goregular.TTF, true),
	Medium:   once(gomedium.TTF, true),
	Bold:     once(gobold.TTF, true),
	Italic:   once(goitalic.TTF, true),
	Mono:     once(gomono.TTF, false),
	MonoBold: once(gomonobold.TTF, false),
	fallback: once(dejavusanscondensed.TTF, false),
}

var faceNames = [faceCount]string{"go", "gomedium", "gobold", "goitalic", "gomono", "gomonobold", "dejavu"}

func once(ttf []byte, shortHyphen bool) func() *typeface {
	return sync.OnceValue(func() *typeface {
		if shortHyphen {
			ttf = slices.Clone(ttf)
			shortenHyphen(ttf)
		}
		t := &typeface{ttf: ttf}
		if f, err := sfnt.Parse(ttf); err == nil {
			t.font = f
		}
		return t
	})
}

// has reports whether the font draws r.
func (t *typeface) has(r rune) bool {
	return r >= 0 && r <= maxRune && t.advance(r) != noGlyph
}

// advance is that of a rune up to maxRune.
func (t *typeface) advance(r rune) uint16 {
	page := &t.pages[r/runePage]
	a := page.Load()
	if a == nil {
		a = t.read(r - r%runePage)
		page.Store(a)
	}
	return a[r%runePage]
}

// read reads coverage and advance widths from a rune on.
func (t *typeface) read(from rune) *advances {
	var out advances
	var buf sfnt.Buffer
	for i := range out {
		out[i] = noGlyph
		if t.font == nil {
			continue
		}
		em := fixed.Int26_6(t.font.UnitsPerEm())
		g, err := t.font.GlyphIndex(&buf, from+rune(i))
		if err != nil || g == 0 {
			continue
		}
		if a, err := t.font.GlyphAdvance(&buf, g, em, font.HintingNone); err == nil {
			out[i] = uint16(math.Round(float64(a) * 1000 / float64(em)))
		}
	}
	return &out
}

// shortenHyphen gives the hyphen of a Go font, which is as wide as a minus,
// the outline and the advance of the soft hyphen. Changing the outline and not
// the text keeps "B-014" searchable. A font of another build is left as it is.
func shortenHyphen(ttf []byte) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return
	}
	var buf sfnt.Buffer
	to, err1 := f.GlyphIndex(&buf, hyphen)
	from, err2 := f.GlyphIndex(&buf, softHyphen)
	if err1 != nil || err2 != nil || to == 0 || from == 0 {
		return
	}
	t := tables(ttf)
	glyf, loca, hmtx, head := t["glyf"], t["loca"], t["hmtx"], t["head"]
	if len(head) < 52 {
		return
	}
	long := binary.BigEndian.Uint16(head[50:]) == 1
	dst, src := outline(glyf, loca, int(to), long), outline(glyf, loca, int(from), long)
	if dst == nil || src == nil || len(src) > len(dst) || len(hmtx) < 4*int(max(to, from))+4 {
		return
	}
	copy(dst, src)
	copy(hmtx[4*to:4*to+4], hmtx[4*from:4*from+4])
}

// outline is a glyph's part of the glyf table; offsets in loca are long, or
// short and halved.
func outline(glyf, loca []byte, g int, long bool) []byte {
	var from, to int
	switch {
	case long && len(loca) >= 4*g+8:
		from, to = int(binary.BigEndian.Uint32(loca[4*g:])), int(binary.BigEndian.Uint32(loca[4*g+4:]))
	case !long && len(loca) >= 2*g+4:
		from, to = 2*int(binary.BigEndian.Uint16(loca[2*g:])), 2*int(binary.BigEndian.Uint16(loca[2*g+2:]))
	}
	if from >= to || to > len(glyf) {
		return nil
	}
	return glyf[from:to]
}

// tables cuts a TrueType file into its tables.
func tables(ttf []byte) map[string][]byte {
	out := map[string][]byte{}
	if len(ttf) < 12 {
		return out
	}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		if len(ttf) < 28+16*i {
			break
		}
		e := ttf[12+16*i:]
		at, n := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
		if uint64(at)+uint64(n) <= uint64(len(ttf)) {
			out[string(e[:4])] = ttf[at : at+n]
		}
	}
	return out
}
