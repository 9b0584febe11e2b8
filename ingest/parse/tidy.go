package parse

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// clean drops what cannot be seen: zero-width characters, a stray byte order
// mark, direction marks and controls; every kind of space becomes a space, and
// accents are joined to their letters.
func clean(s string) string {
	s = norm.NFC.String(s)
	return strings.Map(func(r rune) rune {
		switch {
		case r < utf8Self:
			if r < ' ' || r == 0x7f {
				return ' '
			}
			return r
		case r == joiner || r == nonJoiner:
			return r
		case unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.Cf, r) || unicode.IsControl(r):
			return -1
		}
		return r
	}, s)
}

const (
	utf8Self = 0x80
	// Some scripts and emoji are spelled with these.
	nonJoiner = '\u200c'
	joiner    = '\u200d'
)

// tidy is text ready for reading a number or a date: clean, trimmed, with
// full-width characters, minus signs and apostrophes in their plain form.
func tidy(s string) string {
	return strings.TrimSpace(strings.Map(plain, clean(s)))
}

func plain(r rune) rune {
	switch {
	case r < utf8Self:
		return r
	case r >= '！' && r <= '～':
		return r - '！' + '!'
	}
	switch r {
	case '−', '–', '‐', '‑', '﹣':
		return '-'
	case '’', '‘', 'ʼ', '´':
		return '\''
	case '⁄', '∕':
		return '/'
	case '×':
		return 'x'
	}
	return r
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
