package grid

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"sync"

	"pourbook/ingest/grid/rows"
)

// sharedStrings reads the texts that cells refer to, on first use.
func (p *pack) sharedStrings(part string) func() (*texts, error) {
	return sync.OnceValues(func() (*texts, error) {
		if t := p.scanStrings(part); t != nil {
			return t, nil
		}
		r, err := p.open(part)
		if err != nil {
			return nil, err
		}
		defer r.Close()
		return readStrings(newTokens(unicodeReader(r), part))
	})
}

var errTooMany = errors.New("too many texts")

// scanStrings is the fast way to read the texts: nil where the part has to be
// read, or refused, in the checking way.
func (p *pack) scanStrings(part string) *texts {
	if p.walksOnly() {
		return nil
	}
	r, err := p.open(part)
	if err != nil {
		return nil
	}
	defer r.Close()
	var all texts
	err = rows.Texts(r, func(text []byte) error {
		if all.len() == maxTextCount {
			return errTooMany
		}
		all.add(text)
		return nil
	})
	if err != nil {
		return nil
	}
	all.seal()
	return &all
}

func readStrings(t *tokens) (*texts, error) {
	const atItem, atText = 2, 3
	var all texts
	var b bytes.Buffer
	skip, copying := 0, false
	for {
		tok, err := t.next()
		if err == io.EOF {
			all.seal()
			return &all, nil
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
				if all.len() == maxTextCount {
					return nil, fault("too-many-texts", nil, "limit", maxTextCount)
				}
				all.add(b.Bytes())
			}
		case xml.CharData:
			if copying {
				b.Write(x)
			}
		}
	}
}
