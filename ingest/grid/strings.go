package grid

import (
	"encoding/xml"
	"io"
	"strings"
	"sync"
)

// sharedStrings reads the texts that cells refer to, on first use.
func (p *pack) sharedStrings(part string) func() ([]string, error) {
	return sync.OnceValues(func() ([]string, error) {
		r, err := p.open(part)
		if err != nil {
			return nil, err
		}
		defer r.Close()
		return readStrings(newTokens(unicodeReader(r), part))
	})
}

func readStrings(t *tokens) ([]string, error) {
	const atItem, atText = 2, 3
	var all []string
	var b strings.Builder
	skip, copying := 0, false
	for {
		tok, err := t.next()
		if err == io.EOF {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		switch x := tok.(type) {
		case xml.StartElement:
			switch {
			case t.depth == 1 && x.Name.Local != "sst":
				return nil, fault("part-damaged", nil, "part", t.part)
			case t.depth == atItem:
				b.Reset()
			case x.Name.Local == "rPh" && skip == 0:
				skip = t.depth
			}
			copying = t.depth >= atText && x.Name.Local == "t" && skip == 0
		case xml.EndElement:
			copying = false
			if t.depth < skip {
				skip = 0
			}
			if t.depth == atItem-1 && x.Name.Local == "si" {
				if len(all) == maxTextCount {
					return nil, fault("too-many-texts", nil, "limit", maxTextCount)
				}
				all = append(all, unescape(b.String()))
			}
		case xml.CharData:
			if copying {
				b.Write(x)
			}
		}
	}
}
