package file

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A name has at most so many runes and bytes; a file may be named after three
// of them, and file systems take 255 bytes.
const (
	nameRunes = 60
	nameBytes = 80
)

// Name is text as part of a file name: letters, digits, "-" and "_" stay, all
// else that could mean something to a system becomes "-".
func Name(s string) string {
	var b strings.Builder
	n := 0
	for _, r := range strings.TrimSpace(s) {
		if n++; n > nameRunes || b.Len()+utf8.RuneLen(r) > nameBytes {
			break
		}
		switch {
		case r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r > 0xbf && unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			b.WriteByte('-')
		}
	}
	out := strings.Trim(b.String(), "-")
	for strings.Contains(out, "--") {
		out = strings.ReplaceAll(out, "--", "-")
	}
	if out == "" {
		return "unnamed"
	}
	return out
}
