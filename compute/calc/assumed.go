package calc

import "strings"

// Assumed are the inputs below the figures that a default stands in for, each
// once, in the order in which they are met.
func Assumed(figures ...*Figure) []*Figure {
	var out []*Figure
	seen, named := map[*Figure]bool{}, map[string]bool{}
	var look func(f *Figure)
	look = func(f *Figure) {
		if f == nil || !f.assumed || f.kind != Op && seen[f] {
			return
		}
		if f.kind != Op {
			seen[f] = true
		}
		if f.kind == Input {
			if name := f.Name().Key + "\x00" + strings.Join(f.Name().Of, "\x00"); !named[name] {
				named[name] = true
				out = append(out, f)
			}
		}
		for _, a := range f.Args() {
			look(a)
		}
	}
	for _, f := range figures {
		look(f)
	}
	return out
}
