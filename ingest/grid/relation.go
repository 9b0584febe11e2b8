package grid

import (
	"path"
	"strings"
)

// relations are what a part refers to, by id.
type relations map[string]relation

// relation is a reference to another part. Kind is the last word of its type,
// such as "worksheet", the same in the transitional and the strict form.
type relation struct{ kind, target string }

// relationsOf reads the relations of a part ("" for the package). A part
// without any has none.
func (p *pack) relationsOf(part string) (relations, error) {
	dir, base := path.Split(part)
	name := path.Join(dir, "_rels", base+".rels")
	if !p.has(name) {
		return nil, nil
	}
	var doc struct {
		Relationship []struct {
			ID         string `xml:"Id,attr"`
			Type       string `xml:"Type,attr"`
			Target     string `xml:"Target,attr"`
			TargetMode string `xml:"TargetMode,attr"`
		}
	}
	if err := p.decode(name, &doc); err != nil {
		return nil, err
	}
	out := relations{}
	for _, r := range doc.Relationship {
		if _, twice := out[r.ID]; twice {
			return nil, fault("part-damaged", nil, "part", name)
		}
		target := r.Target
		if !strings.HasPrefix(target, "/") {
			target = path.Join(dir, target)
		}
		if strings.EqualFold(r.TargetMode, "External") {
			target = ""
		}
		out[r.ID] = relation{path.Base(r.Type), strings.TrimPrefix(path.Clean(target), "/")}
	}
	return out, nil
}

// one is the target of the only relation of a kind.
func (rs relations) one(kind string) (target string, ok bool) {
	for _, r := range rs {
		if r.kind == kind {
			return r.target, true
		}
	}
	return "", false
}
