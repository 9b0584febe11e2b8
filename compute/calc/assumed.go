package calc

import "strings"

// Assumed are the inputs below the figures that a default stands in for, each
// once, in the order in which they are met.
func Assumed(figures ...*Figure) []*Figure {
	var out []*Figure
	seen, named := map[*Figure]bool{}, map[string]bool{}
	for _, f := range figures {
		walk(f, seen, func(n *Figure) bool {
			if n.kind == Input && n.assumed {
				if name := n.name.Key + "\x00" + strings.Join(n.name.Of, "\x00"); !named[name] {
					named[name] = true
					out = append(out, n)
				}
			}
			return n.assumed
		})
	}
	return out
}
