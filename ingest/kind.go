package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/book"
)

// kindWords are what makers call the kinds of material. A kind of several
// words is also known by its last one: "soy wax" is a wax.
var kindWords = kindIndex(map[book.Kind][]string{
	book.Wax:       {"wax blend", "waxes", "base wax"},
	book.Fragrance: {"fragrance oil", "fo", "scent", "oil", "essential oil", "eo", "perfume", "aroma", "parfum"},
	book.Dye:       {"color", "colorant", "dye chip", "dye block", "coloring", "color chip", "crayon", "pigment", "mica"},
	book.Additive:  {"polymer", "hardener", "stearin", "stearic acid", "uv inhibitor"},
	book.Wick:      {"wicks", "wicking"},
	book.JarKind:   {"container", "vessel", "tin", "glass", "tumbler", "bowl", "cup", "jars/tin", "candle jar"},
	book.Lid:       {"cap", "closure", "cover", "top"},
	book.Label:     {"sticker", "warning label", "tag"},
	book.Packaging: {
		"box", "boxes", "bag", "package", "packing", "shipping", "mailer", "tissue", "wrap", "wrapping", "ribbon", "packaging material",
		"packing material", "shred",
	},
	book.Other: {"misc", "miscellaneous", "tool", "wick sticker", "supply", "extra"},
})

func kindIndex(words map[book.Kind][]string) map[string]book.Kind {
	m := map[string]book.Kind{}
	for k, list := range words {
		m[normal(string(k))] = k
		for _, w := range list {
			m[normal(w)] = k
		}
	}
	return m
}

// kindOf is the kind of material that a text says.
func kindOf(s string) (book.Kind, bool) {
	n := normal(s)
	if k, ok := kindWords[n]; ok {
		return k, true
	}
	k, ok := kindWords[n[strings.LastIndexByte(n, ' ')+1:]]
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
