package file

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestName(t *testing.T) {
	for in, want := range map[string]string{
		"Harbor Fair": "Harbor-Fair", "../../etc": "etc", "a/b:c": "a-b-c", "": "unnamed", "Crème 12 oz": "Crème-12-oz",
		"a\u202eb": "a-b", "\x00\x1b[2J": "2J", "a\u2028b": "a-b", "🕯": "🕯", "CON|NUL": "CON-NUL", "שלום": "שלום",
	} {
		if got := Name(in); got != want {
			t.Errorf("Name(%q) = %q, want %q", in, got, want)
		}
	}
}

// A file can be named after a book and two jars, whatever their script.
func TestThreeNamesFitAFileName(t *testing.T) {
	for _, s := range []string{"x", "é", "蠟", "🕯", "\xff", "a\u0301"} {
		name := Name(strings.Repeat(s, 32_767))
		if n := 3*len(name) + len("-price--.xlsx"); n > 255 || !utf8.ValidString(name) || len(name) < 60 {
			t.Errorf("the name of many %q has %d bytes, the file's %d", s, len(name), n)
		}
	}
}
