package rows

import "bytes"

// maxNested is how deep elements may stand in an element that is passed.
const maxNested = 16

// maxPieces is how many pieces a text may be joined of.
const maxPieces = 64

// pass goes past an element that is not read, from its "<" to behind its end.
// No element in it may have one of the names.
func (s *scanner) pass(i int, names ...string) int {
	var open [maxNested][]byte
	for depth := 0; ; {
		if s.b[i] != '<' {
			return s.out(i, "element")
		}
		if s.b[i+1] == '/' {
			name := open[depth-1]
			end := i + 2 + len(name)
			if end >= s.hi {
				return s.more("end tag")
			}
			if !bytes.Equal(s.b[i+2:end], name) || s.b[end] != '>' {
				return s.out(i, "end tag")
			}
			depth--
			i = end + 1
		} else {
			name, j := s.name(i + 1)
			if j < 0 {
				return -1
			}
			for _, n := range names {
				if string(local(name)) == n {
					return s.out(i, n)
				}
			}
			if depth == maxNested {
				return s.out(i, "depth")
			}
			open[depth] = name
			var empty bool
			if i, empty = s.tag(j); i < 0 {
				return -1
			}
			if !empty {
				depth++
			}
		}
		if depth == 0 {
			return i
		}
		start := len(s.arena)
		if _, i = s.text(s.space(i)); i < 0 {
			return -1
		}
		s.arena = s.arena[:start]
	}
}

// declaration passes the XML declaration and the white space behind it.
func (s *scanner) declaration(i int) int {
	if !s.has(i, "<?xml") {
		return i
	}
	i += len("<?xml")
	for place := 0; ; {
		j := s.space(i)
		if s.b[j] == '?' && s.b[j+1] == '>' && place > 0 {
			return s.space(j + 2)
		}
		name, value, j := s.attr(i)
		if j < 0 {
			return -1
		}
		v := string(value)
		switch string(name) {
		case "version":
			if place != 0 || v != "1.0" {
				return s.out(i, "version")
			}
			place = 1
		case "encoding":
			if place != 1 || v != "UTF-8" && v != "utf-8" {
				return s.out(i, "encoding")
			}
			place = 2
		case "standalone":
			if place == 0 || place == 3 || v != "yes" && v != "no" {
				return s.out(i, "standalone")
			}
			place = 3
		default:
			return s.out(i, "declaration")
		}
		i = j
	}
}

// root passes what stands before the content of the root element of that name.
func (s *scanner) root(i int, name string) (next int, empty bool) {
	if s.has(i, "\xef\xbb\xbf") {
		i += 3
	}
	if i = s.declaration(i); i < 0 {
		return -1, false
	}
	if i = s.space(i); s.b[i] != '<' || !s.opens(i, name) {
		return s.out(i, "root"), false
	}
	return s.tag(i + 1 + len(name))
}

// rich is the text of an item or an inline text, from behind its start tag to
// behind its end tag: the texts of its runs joined, phonetic ones left out.
func (s *scanner) rich(i int, end string) (text Span, next int) {
	inRun := false
	for pieces := 0; ; {
		i = s.space(i)
		switch {
		case s.b[i] != '<':
			return Span{}, s.out(i, "text")
		case s.has(i, end) && !inRun:
			return text, i + len(end)
		case s.has(i, "</r>") && inRun:
			inRun, i = false, i+len("</r>")
		case s.opens(i, "t"):
			var piece Span
			if piece, i = s.piece(i + len("<t")); i < 0 {
				return Span{}, -1
			}
			if text = s.add(text, piece); text.n > maxText || pieces == maxPieces {
				return Span{}, s.out(i, "long text")
			}
			pieces++
		case s.opens(i, "r") && !inRun:
			if i, inRun = s.tag(i + len("<r")); i < 0 {
				return Span{}, -1
			}
			inRun = !inRun
		case s.opens(i, "rPr") && inRun, s.opens(i, "phoneticPr") && !inRun:
			i = s.pass(i, "t", "rPh")
		case s.opens(i, "rPh"):
			i = s.pass(i)
		default:
			return Span{}, s.out(i, "element in text")
		}
		if i < 0 {
			return Span{}, -1
		}
	}
}

// piece is the text of a t, from behind the name in its start tag.
func (s *scanner) piece(i int) (text Span, next int) {
	i, empty := s.tag(i)
	if i < 0 || empty {
		return Span{}, i
	}
	if text, i = s.text(i); i < 0 {
		return Span{}, -1
	}
	if !s.has(i, "</t>") {
		return Span{}, s.out(i, "element in text")
	}
	return text, i + len("</t>")
}

// add joins a further piece to a text, in the arena.
func (s *scanner) add(text, piece Span) Span {
	if text.n == 0 {
		return piece
	}
	start := len(s.arena)
	s.arena = append(append(s.arena, textOf(s.b, s.arena, text)...), textOf(s.b, s.arena, piece)...)
	return s.inArena(start)
}
