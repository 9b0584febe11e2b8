package draw

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestClean(t *testing.T) {
	for _, c := range []struct{ in, want, missing string }{
		{"plain (text)", "plain (text)", ""},
		{"Cre\u0300me", "Crème", ""},
		{"a\x00b\u202ec\u200bd", "abcd", ""},
		{"a\tb\r\nc", "a b  c", ""},
		{"🕯\ufe0f x", "□ x", "🕯"},
		{"蠟 a", "□ a", "蠟"},
		{"a\xffb", "a□b", "\ufffd"},
		{"₹ ✓ ⅓", "₹ ✓ ⅓", ""},
		{"1\u202f234", "1\u2009234", ""},
		{"B\u2011014", "B-014", ""},
		{"typed □", "typed □", ""},
	} {
		got, missing := clean(c.in, Bold)
		if got != c.want || string(missing) != c.missing {
			t.Errorf("clean(%q) = %q, %q; want %q, %q", c.in, got, string(missing), c.want, c.missing)
		}
	}
}

func TestCleanAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")) + rapid.String().Draw(t, "text")
		face := Face(rapid.IntRange(0, int(faceCount)-1).Draw(t, "face"))
		got, _ := clean(s, face)
		if !utf8.ValidString(got) {
			t.Fatalf("%q is not valid", got)
		}
		for _, r := range got {
			if r > maxRune || r < ' ' || r != thin && !typefaces[face]().has(r) && !typefaces[fallback]().has(r) {
				t.Fatalf("%q keeps %U", got, r)
			}
		}
		sum := 0.0
		st := Style{Face: face, Size: 9}
		joined := ""
		for _, r := range runs(got, st) {
			joined += r.text
			sum += r.width
		}
		if joined != strings.ReplaceAll(got, string(thin), "") || math.Abs(sum-width(got, st)) > 1e-9 {
			t.Fatalf("runs of %q are %q", got, joined)
		}
	})
}

func TestMissing(t *testing.T) {
	d := New(options(Letter))
	p := d.NewPage(Header{Title: "Plan"})
	p.Text(20, 50, "Candle 🕯", Plain)
	p.Text(20, 60, "Candle 🕯", Item)
	p.Fit(20, 70, 30, "蠟燭", Plain, 5, AlignLeft)
	if want := []string{"Candle 🕯", "蠟燭"}; !slices.Equal(d.Missing(), want) {
		t.Errorf("Missing() = %q, want %q", d.Missing(), want)
	}
	if want := []rune("燭蠟🕯"); !slices.Equal(d.MissingRunes(), want) {
		t.Errorf("MissingRunes() = %q, want %q", d.MissingRunes(), want)
	}
}

// The foot is set last, and still what it misses is known from the start.
func TestMissingInFoot(t *testing.T) {
	o := options(A4)
	o.Shop = "火 candles"
	if got := New(o).Missing(); !slices.Equal(got, []string{"火 candles"}) {
		t.Errorf("Missing() = %q", got)
	}
}

func TestWrapAndFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, _ := clean(rapid.StringOf(rapid.RuneFrom([]rune("ab W-é字 \u00a0"))).Draw(t, "text"), Regular)
		w := rapid.Float64Range(5, 60).Draw(t, "width")
		most := rapid.IntRange(0, 3).Draw(t, "most")
		lines := wrap(s, Plain, w, most)
		for _, line := range lines {
			if width(line, Plain) > w+0.02 {
				t.Fatalf("%q is wider than %v", line, w)
			}
		}
		if most > 0 && len(lines) > most {
			t.Fatalf("%d lines", len(lines))
		}
		if most == 0 && strings.ReplaceAll(strings.Join(lines, ""), " ", "") != strings.ReplaceAll(s, " ", "") {
			t.Fatalf("%q lost letters: %q", s, lines)
		}
		if out, st := fit(s, Item, w, 7); width(out, st) > w+0.02 || st.Size < 7 {
			t.Fatalf("%q at %v is wider than %v", out, st.Size, w)
		}
	})
}

func TestFitShrinksBeforeItCuts(t *testing.T) {
	s := "Fragrance, Damp Orchard"
	full := width(s, Item)
	if out, st := fit(s, Item, full*0.8, 7); out != s || st.Size >= 13 || st.Size < 10 {
		t.Errorf("fit = %q at %v", out, st.Size)
	}
	if out, st := fit(s, Item, full*0.3, 9); !strings.HasSuffix(out, "…") || st.Size != 9 {
		t.Errorf("fit = %q at %v", out, st.Size)
	}
}

// The hyphen of the Go faces is as wide as a minus; ours is short.
func TestHyphenIsShort(t *testing.T) {
	for _, f := range []Face{Regular, Medium, Bold, Italic} {
		a := typefaces[f]().advance
		if a('-') != a(softHyphen) || a('-') >= a('−') {
			t.Errorf("%s: hyphen %d, minus %d", faceNames[f], a('-'), a('−'))
		}
	}
}

// Layout measures with our table, the PDF with gofpdf's: both must agree.
func TestWidthsAgree(t *testing.T) {
	for f := range faceCount {
		k := newPen(options(A4))
		k.page()
		k.font(f, 10)
		for _, r := range "aW0-−–·½Łé□" {
			if !typefaces[f]().has(r) {
				continue
			}
			got, want := int(typefaces[f]().advance(r)), k.f.GetStringSymbolWidth(string(r))
			if got-want > 1 || want-got > 1 {
				t.Errorf("%s %q: %d, gofpdf says %d", faceNames[f], r, got, want)
			}
		}
	}
}

func TestNumber(t *testing.T) {
	for in, want := range map[string]string{
		"1,234.50": "1\u2009234.50", "-1234567.8": "−1\u2009234\u2009567.8", "$1,234": "$1\u2009234", "−$3.20": "−$3.20",
		"-0.00": "0.00", "0.54": "0.54", "56 %": "56 %", "+0.24": "+0.24", "–": "–", "-": "-", "Oct 3": "Oct 3",
		"0.40 – 0.74": "0.40 – 0.74", "1,2 and 3": "1,2 and 3", "": "",
	} {
		if got := Number(in); got != want {
			t.Errorf("Number(%q) = %q, want %q", in, got, want)
		}
	}
	if Report(math.NaN(), 2) != Nil || Report(-1234.567, 2) != "−1\u2009234.57" {
		t.Error("Report")
	}
}

func TestCaps(t *testing.T) {
	if got := Caps("Pot, g of Mélange (mL)"); got != "POT, g OF MÉLANGE (mL)" {
		t.Errorf("Caps = %q", got)
	}
}
