package ingest

import (
	"slices"
	"strings"
	"sync"

	"pourbook/compute/book"
)

// kindWords are what makers call the kinds of material. A kind of several
// words is also known by its last one: "soy wax" is a wax.
var kindWords = sync.OnceValue(func() map[string]book.Kind { return meanings("kind.", book.Kinds...) })

// unfit are words of kinds that do not belong in candles.
var unfit = sync.OnceValue(func() []string { return normals("read.unfit") })

// kindOf is the kind of material that a text says.
func kindOf(s string) (book.Kind, bool) {
	n := normal(s)
	if k, ok := kindWords()[n]; ok {
		return k, true
	}
	if before, _, ok := strings.Cut(s, "("); ok && strings.TrimSpace(before) != "" {
		return kindOf(before)
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
	return slices.ContainsFunc(strings.Fields(normal(kind)), func(w string) bool { return slices.Contains(unfit(), w) })
}
