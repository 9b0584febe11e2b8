package draw

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

const (
	box      = '□'      // stands for a letter that no face has
	thin     = '\u2009' // drawn as a gap, so that the font need not have it
	noBreak  = '\u00a0'
	ellipsis = "…"
	maxRunes = 4000 // no text on a page is longer; the rest is cut with "…"
)

// clean makes any bytes a text that gofpdf can set, and reports the runes that
// had to be replaced by a box: valid UTF-8, composed, without controls, bidi
// overrides and zero-width characters, each rune with a glyph in f or the fallback.
func clean(s string, f Face) (string, []rune) {
	if isPlain(s) {
		return s, nil
	}
	if len(s) > 4*maxRunes {
		s = head(s, 4*maxRunes)
	}
	s = norm.NFC.String(strings.ToValidUTF8(s, string(unicode.ReplacementChar)))
	main, other := typefaces[f](), typefaces[fallback]()
	var b strings.Builder
	var missing []rune
	n := 0
	for _, r := range s {
		r = plain(r)
		if r < 0 {
			continue
		}
		if n++; n > maxRunes {
			b.WriteString(ellipsis)
			break
		}
		if r != thin && (r == unicode.ReplacementChar || !main.has(r) && !other.has(r)) {
			missing = append(missing, r)
			r = box
		}
		b.WriteRune(r)
	}
	return b.String(), missing
}

// head is the first n bytes of s, or fewer where that would cut a rune.
func head(s string, n int) string {
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n]
}

// isPlain is the short way for most texts.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return len(s) <= maxRunes
}

// plain maps a rune to the one that is set, or to -1 when it is dropped.
func plain(r rune) rune {
	switch {
	case r == '\u2009', r == '\u202f', r == '\u200a':
		return thin
	case r == noBreak:
		return noBreak
	case r == '\t', r == '\n', r == '\r', r == '\v', r == '\f', r == '\u0085', unicode.In(r, unicode.Z):
		return ' '
	case r == '\u2010', r == '\u2011':
		return hyphen
	case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Variation_Selector):
		return -1
	}
	return r
}

// Caps is a label in capitals. Units such as g, mL and °C stay as they are.
func Caps(s string) string {
	words := strings.Split(strings.ToValidUTF8(s, string(unicode.ReplacementChar)), " ")
	for i, w := range words {
		if !units[strings.Trim(w, ",.;:()/")] {
			words[i] = strings.ToUpper(w)
		}
	}
	return strings.Join(words, " ")
}

var units = map[string]bool{
	"g": true, "kg": true, "mg": true, "mL": true, "ml": true, "L": true, "oz": true, "lb": true,
	"mm": true, "cm": true, "°C": true, "°F": true,
}
