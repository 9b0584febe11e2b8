package rows

import (
	"bytes"
	"fmt"
	"math"
	"unicode/utf8"
)

// Classes of bytes.
const (
	isPlain = 1 << iota // stands for itself in text
	isSpace
	isFirst // may start a name
	isName  // may stand in a name
	isValue // stands for itself in an attribute, in either quotes
)

var class = func() (c [256]uint8) {
	for i := range 256 {
		b := byte(i)
		letter := b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b == '_'
		if b >= ' ' && b < 0x7f || b == '\t' || b == '\n' {
			if b != '<' && b != '&' && b != ']' {
				c[i] |= isPlain
			}
			if b != '<' && b != '&' && b != '"' && b != '\'' {
				c[i] |= isValue
			}
		}
		if b == ' ' || b == '\t' || b == '\n' || b == '\r' {
			c[i] |= isSpace
		}
		if letter {
			c[i] |= isFirst
		}
		if letter || b >= '0' && b <= '9' || b == '-' || b == '.' {
			c[i] |= isName
		}
	}
	return c
}()

// lookahead is more than is compared at once: what does not fit so close to the
// end of the bytes may fit when there are more of them.
const lookahead = padSize / 2

// scanner reads XML in a window of bytes. Its methods take and give positions;
// -1 is a stop: either err is set, or the window ends too early.
type scanner struct {
	b     []byte // with zeros behind hi
	hi    int
	base  int64 // of b[0] in the part
	final bool  // nothing follows the window
	err   error
	arena []byte
}

// out stops at what is outside the subset.
func (s *scanner) out(i int, what string) int {
	if s.final || i+lookahead <= s.hi {
		s.err = fmt.Errorf("%s at offset %d: %w", what, s.base+int64(i), ErrOutside)
	}
	return -1
}

// more stops at the end of the window.
func (s *scanner) more(what string) int {
	if s.final {
		return s.out(s.hi, what)
	}
	return -1
}

func (s *scanner) space(i int) int {
	for class[s.b[i]]&isSpace != 0 {
		i++
	}
	return i
}

// has reports whether text stands at i.
func (s *scanner) has(i int, text string) bool {
	return string(s.b[i:min(i+len(text), len(s.b))]) == text
}

// opens reports whether a start tag of that name stands at i, which is at "<".
func (s *scanner) opens(i int, name string) bool {
	end := i + 1 + len(name)
	return s.has(i+1, name) && (class[s.b[end]]&isSpace != 0 || s.b[end] == '>' || s.b[end] == '/')
}

// name is a name with at most one prefix.
func (s *scanner) name(i int) (name []byte, next int) {
	b, start, colon := s.b, i, false
	for {
		if class[b[i]]&isFirst == 0 {
			return nil, s.out(i, "name")
		}
		for class[b[i]]&isName != 0 {
			i++
		}
		if b[i] != ':' {
			return b[start:i], i
		}
		if colon {
			return nil, s.out(i, "name")
		}
		colon = true
		i++
	}
}

// local is a name without its prefix.
func local(name []byte) []byte { return name[bytes.IndexByte(name, ':')+1:] }

// attr is the attribute that follows at i, entities as they stand; or a nil
// name at the end of the tag, with next at its ">" or "/>".
func (s *scanner) attr(i int) (name, value []byte, next int) {
	j := s.space(i)
	switch c := s.b[j]; {
	case c == '>', c == '/' && s.b[j+1] == '>':
		return nil, nil, j
	case j == i:
		return nil, nil, s.out(i, "tag")
	}
	if name, i = s.name(j); i < 0 {
		return nil, nil, -1
	}
	q := s.b[i+1]
	if s.b[i] != '=' || q != '"' && q != '\'' {
		return nil, nil, s.out(i, "attribute")
	}
	start := i + 2
	for i = start; class[s.b[i]]&isValue != 0; {
		i++
	}
	if s.b[i] != q {
		if i = s.oddValue(start, q); i < 0 {
			return nil, nil, -1
		}
	}
	return name, s.b[start:i], i + 1
}

// oddValue is the end of an attribute's value that holds more than plain text.
func (s *scanner) oddValue(i int, quote byte) int {
	n := bytes.IndexByte(s.b[i:s.hi], quote)
	if n < 0 {
		return s.more("attribute")
	}
	value := s.b[i : i+n]
	if bytes.IndexByte(value, '<') >= 0 || !s.resolve(value) {
		return s.out(i, "attribute")
	}
	return i + n
}

// tag passes the rest of a start tag, its attributes unread.
func (s *scanner) tag(i int) (next int, empty bool) {
	for {
		name, _, j := s.attr(i)
		switch {
		case j < 0:
			return -1, false
		case name == nil && s.b[j] == '/':
			return j + 2, true
		case name == nil:
			return j + 1, false
		}
		i = j
	}
}

// text is the text from i to the next tag.
func (s *scanner) text(i int) (text Span, next int) {
	j := i
	for class[s.b[j]]&isPlain != 0 {
		j++
	}
	if s.b[j] == '<' {
		return Span{int32(i), int32(j - i)}, j
	}
	return s.oddText(i)
}

func (s *scanner) oddText(i int) (text Span, next int) {
	n := bytes.IndexByte(s.b[i:s.hi], '<')
	if n < 0 {
		return Span{}, s.more("text")
	}
	raw, start := s.b[i:i+n], len(s.arena)
	if bytes.Contains(raw, []byte("]]>")) || !s.resolve(raw) {
		return Span{}, s.out(i, "text")
	}
	if text = s.inArena(start); text.n != int32(n) {
		return text, i + n
	}
	s.arena = s.arena[:start]
	return Span{int32(i), int32(n)}, i + n
}

// inArena is the text from start to the end of the arena.
func (s *scanner) inArena(start int) Span {
	return Span{math.MinInt32 + int32(start), int32(len(s.arena) - start)}
}

// resolve appends text to the arena, its entities resolved. It refuses what XML
// does not allow, and carriage returns, which XML turns into line feeds.
func (s *scanner) resolve(text []byte) bool {
	for len(text) > 0 {
		n := 0
		for n < len(text) && class[text[n]]&isPlain != 0 {
			n++
		}
		s.arena = append(s.arena, text[:n]...)
		if text = text[n:]; len(text) == 0 {
			break
		}
		r, size := utf8.DecodeRune(text)
		if r == '&' {
			r, size = entity(text)
		}
		if size == 0 || r == utf8.RuneError && size == 1 || !legal(r) || text[0] == '\r' {
			return false
		}
		s.arena = utf8.AppendRune(s.arena, r)
		text = text[size:]
	}
	return true
}

func legal(r rune) bool {
	return r >= ' ' && r <= 0xd7ff || r == '\t' || r == '\n' || r == '\r' || r >= 0xe000 && r <= 0xfffd || r >= 0x10000 && r <= 0x10ffff
}

var entities = []struct {
	text string
	r    rune
}{{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&apos;", '\''}}

// entity is the character that an entity stands for, and the entity's length;
// 0 for none that is known.
func entity(text []byte) (r rune, size int) {
	for _, e := range entities {
		if len(text) >= len(e.text) && string(text[:len(e.text)]) == e.text {
			return e.r, len(e.text)
		}
	}
	if len(text) < 2 || text[1] != '#' {
		return 0, 0
	}
	digits, base, start := "0123456789", rune(10), 2
	if len(text) > 2 && text[2] == 'x' {
		digits, base, start = "0123456789abcdef", 16, 3
	}
	i := start
	for ; i < len(text) && i < start+7; i++ {
		c := text[i]
		if base == 16 && c >= 'A' && c <= 'F' {
			c |= 0x20
		}
		d := bytes.IndexByte([]byte(digits), c)
		if d < 0 {
			break
		}
		r = r*base + rune(d)
	}
	if i == start || i == len(text) || text[i] != ';' {
		return 0, 0
	}
	return r, i + 1
}
