package grid

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"

	"golang.org/x/text/encoding/unicode"
)

// maxDepth bounds how deep elements may stand in each other.
const maxDepth = 256

// unicodeReader gives UTF-8 without a byte order mark, whatever Unicode form r has.
func unicodeReader(r io.Reader) io.Reader {
	b := bufio.NewReaderSize(r, 64<<10)
	head, _ := b.Peek(4)
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		b.Discard(3)
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("<\x00")):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Reader(withMark(b, head, "\xff\xfe"))
	case bytes.HasPrefix(head, []byte("\xfe\xff")), bytes.HasPrefix(head, []byte("\x00<")):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder().Reader(withMark(b, head, "\xfe\xff"))
	}
	return b
}

func withMark(r io.Reader, head []byte, mark string) io.Reader {
	if bytes.HasPrefix(head, []byte(mark)) {
		return r
	}
	return io.MultiReader(strings.NewReader(mark), r)
}

// tokens walks a part's XML to its end and insists on one whole document
// without a document type. It matches the tags itself: the decoder's Token does
// so too, with a quarter more allocations.
type tokens struct {
	dec   *xml.Decoder
	part  string
	depth int
	open  [maxDepth]xml.Name // the elements around the next token
	root  bool               // seen
}

func newTokens(r io.Reader, part string) *tokens {
	d := xml.NewDecoder(r)
	d.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		switch strings.ToLower(label) {
		case "utf-16", "utf-16le", "utf-16be", "us-ascii", "utf8":
			return in, nil
		}
		return nil, errors.New("encoding " + label)
	}
	return &tokens{dec: d, part: part}
}

// next is the next start, end or text; its bytes are valid until the call after
// it. io.EOF only at the end of a whole document; other errors are *Fault.
func (t *tokens) next() (xml.Token, error) {
	for {
		tok, err := t.dec.RawToken()
		if err != nil {
			return nil, t.end(err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			if t.depth == 0 && t.root || t.depth >= maxDepth {
				return nil, t.bad(nil)
			}
			t.root = true
			t.open[t.depth] = x.Name
			t.depth++
			return x, nil
		case xml.EndElement:
			if t.depth == 0 || t.open[t.depth-1] != x.Name {
				return nil, t.bad(nil)
			}
			t.depth--
			return x, nil
		case xml.CharData:
			if t.depth > 0 {
				return x, nil
			}
			if len(bytes.TrimSpace(x)) > 0 {
				return nil, t.bad(nil)
			}
		case xml.Directive:
			return nil, fault("doctype", nil, "part", t.part)
		}
	}
}

func (t *tokens) end(err error) error {
	var f *Fault
	var syntax *xml.SyntaxError
	switch {
	case err == io.EOF && t.root && t.depth == 0:
		return io.EOF
	case errors.As(err, &f):
		return f
	case err == io.EOF, errors.As(err, &syntax), strings.HasPrefix(err.Error(), "xml: "):
		return t.bad(err)
	}
	return err
}

func (t *tokens) bad(err error) error {
	return fault("not-xml", err, "part", t.part, "offset", t.dec.InputOffset())
}

// decode reads a small part into v, after its whole XML has been checked.
func (p *pack) decode(part string, v any) error {
	data, err := p.small(part)
	if err != nil {
		return err
	}
	if err := wellFormed(data, part); err != nil {
		return err
	}
	d := newTokens(bytes.NewReader(data), part)
	if err := d.dec.Decode(v); err != nil {
		return fault("part-damaged", err, "part", part)
	}
	return nil
}

func wellFormed(data []byte, part string) error {
	t := newTokens(bytes.NewReader(data), part)
	for {
		if _, err := t.next(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}
