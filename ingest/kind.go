package ingest

import (
	"slices"
	"strings"
	"sync"

	"pourbook/compute/book"
	"pourbook/templates"
)

// kindWords are what makers call the kinds of material. A kind of several
// words is also known by its last one: "soy wax" is a wax.
var kindWords = sync.OnceValue(func() map[string]book.Kind {
	m := map[string]book.Kind{}
	for _, k := range book.Kinds {
		m[normal(string(k))] = k
		for _, w := range templates.List("kind." + string(k)) {
			m[normal(w)] = k
		}
	}
	return m
})

// kindOf is the kind of material that a text says.
func kindOf(s string) (book.Kind, bool) {
	n := normal(s)
	if k, ok := kindWords()[n]; ok {
		return k, true
	}
	k, ok := kindWords()[n[strings.LastIndexByte(n, ' ')+1:]]
	return k, ok
}

func kindNames() []string {
	var out []string
	for _, k := range book.Kinds {
		out = append(out, string(k))
	}
	return out
}

// saysUnfit reports whether a kind says that the stuff does not belong in candles.
func saysUnfit(kind string) bool {
	words := strings.Fields(normal(kind))
	return slices.ContainsFunc(words, func(w string) bool { return w == "crayon" || w == "food" || w == "soap" })
}
