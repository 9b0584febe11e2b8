package ingest

import (
	"slices"
	"strings"
	"sync"
	"unicode"

	"pourbook/templates"
)

// wording is how headings and names are written out before they are compared.
type wording struct {
	signs   *strings.Replacer // signs and spellings
	same    map[string]string // short forms and words that mean the same
	numbers []string          // words that say "number", if they do not stand first
	fillers []string          // words that say nothing
}

var wordings = sync.OnceValue(func() wording {
	var signs []string
	for sign, word := range pairs("read.signs") {
		signs = append(signs, sign, " "+word+" ")
	}
	for other, word := range pairs("read.spellings") {
		signs = append(signs, other, word)
	}
	return wording{strings.NewReplacer(signs...), pairs("read.same"), templates.List("read.numbers"), templates.List("read.fillers")}
})

// pairs are what stands before and after "=" in the words of a key.
func pairs(key string) map[string]string {
	m := map[string]string{}
	for _, pair := range templates.List(key) {
		from, to, _ := strings.Cut(pair, " = ")
		m[from] = to
	}
	return m
}

// normal is a heading or a name as it is compared: words of letters and
// digits, in lower case and the singular, short forms written out.
func normal(s string) string {
	use := wordings()
	s = use.signs.Replace(strings.ToLower(s))
	words := strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	out := words[:0:len(words)]
	for i, w := range words {
		switch {
		case slices.Contains(use.numbers, w) && (i > 0 || len(words) > 1 && slices.Contains(use.fillers, words[1])):
			w = "number"
		case len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss"):
			w = w[:len(w)-1]
		}
		if same, ok := use.same[w]; ok {
			w = same
		}
		if len(words) > 1 && slices.Contains(use.fillers, w) {
			continue
		}
		out = append(out, w)
	}
	return strings.Join(out, " ")
}

// normals are the words of a key as they are compared.
func normals(key string) []string {
	out := templates.List(key)
	for i, w := range out {
		out[i] = normal(w)
	}
	return out
}

// meanings are values by their own names and the words of the keys that begin
// with prefix.
func meanings[T ~string](prefix string, values ...T) map[string]T {
	m := map[string]T{}
	for _, v := range values {
		m[normal(string(v))] = v
		for _, w := range normals(prefix + string(v)) {
			m[w] = v
		}
	}
	return m
}
