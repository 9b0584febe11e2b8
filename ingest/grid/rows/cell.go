package rows

import (
	"encoding/binary"
	"math/bits"
)

// The ends of most cells, as words.
var (
	endOfCell = binary.LittleEndian.Uint64([]byte("</v></c>"))
	endOfV    = binary.LittleEndian.Uint64([]byte("</v>\x00\x00\x00\x00"))
)

// The attributes of a cell that are read.
const (
	hasRef = 1 << iota
	hasStyle
	hasKind
)

// cell reads a cell, from behind the name in its start tag.
func (r *rowScan) cell(s *scanner, i int) int {
	b := s.b
	c := Cell{Col: r.col + 1}
	for seen := 0; ; {
		for class[b[i]]&isSpace != 0 {
			i++
		}
		this := 0
		switch b[i] {
		case '>':
			if c.Col > maxColumns {
				return s.out(i, "column")
			}
			r.col = c.Col
			return r.inCell(s, i+1, c)
		case '/':
			if b[i+1] != '>' || c.Col > maxColumns {
				return s.out(i, "tag of a cell")
			}
			r.col = c.Col
			return i + 2
		case 'r':
			this = hasRef
		case 's':
			this = hasStyle
		case 't':
			this = hasKind
		}
		if class[b[i-1]]&isSpace == 0 {
			return s.out(i, "tag of a cell")
		}
		q := b[i+2]
		if this == 0 || b[i+1] != '=' || q != '"' && q != '\'' {
			if _, _, i = s.attr(i - 1); i < 0 {
				return -1
			}
			continue
		}
		if seen&this != 0 {
			return s.out(i, "repeated attribute")
		}
		seen |= this
		switch i += 3; this {
		case hasRef:
			c.Col, i = r.ref(s, i)
		case hasStyle:
			if c.Style, i = number(s, i); c.Style > r.style {
				r.style = c.Style
			}
		case hasKind:
			c.Kind, i = kind(s, i)
		}
		if i < 0 {
			return -1
		}
		if b[i] != q {
			return s.out(i, "attribute of a cell")
		}
		i++
	}
}

// ref reads a cell's reference, whose row has to be that of the row.
func (r *rowScan) ref(s *scanner, i int) (col int32, next int) {
	for start := i; ; i++ {
		letter := s.b[i] - 'A'
		if letter > 25 || i == start+3 {
			break
		}
		col = col*26 + int32(letter) + 1
	}
	if col <= r.col || binary.LittleEndian.Uint64(s.b[i:])&r.mask != r.digits {
		return 0, s.out(i, "reference")
	}
	return col, i + r.width
}

// number reads up to seven digits, or none.
func number(s *scanner, i int) (n int32, next int) {
	for start := i; ; i++ {
		digit := s.b[i] - '0'
		if digit > 9 {
			return n, i
		}
		if i == start+7 {
			return 0, s.out(i, "style")
		}
		n = n*10 + int32(digit)
	}
}

// kind reads the type of a cell.
func kind(s *scanner, i int) (k Kind, next int) {
	switch s.b[i] {
	case '"', '\'':
		return Number, i
	case 'n':
		return Number, i + 1
	case 'b':
		return Bool, i + 1
	case 'e':
		return Error, i + 1
	case 'd':
		return ISODate, i + 1
	case 's':
		if s.has(i, "str") {
			return Str, i + len("str")
		}
		return Shared, i + 1
	case 'i':
		if s.has(i, "inlineStr") {
			return Inline, i + len("inlineStr")
		}
	}
	return 0, s.out(i, "type of a cell")
}

// inCell reads the content of a cell and its end tag.
func (r *rowScan) inCell(s *scanner, i int, c Cell) int {
	b := s.b
	if b[i] == '<' && b[i+1] == 'v' && b[i+2] == '>' {
		c.HasValue = true
		start := i + 3
		for i = start + ofNumber(b[start:]); class[b[i]]&isPlain != 0; {
			i++
		}
		if b[i] == '<' {
			c.Text = Span{int32(start), int32(i - start)}
			if c.Kind == Shared {
				c.Shared = 1 + ofDigits(b[start:], i-start)
			}
		} else if c.Text, i = s.oddText(start); i < 0 {
			return -1
		}
		if c.Text.n > maxText {
			return s.out(i, "long text")
		}
		end := binary.LittleEndian.Uint64(b[i:])
		if end == endOfCell {
			r.cells = append(r.cells, c)
			return i + 8
		}
		if end&0xffffffff != endOfV {
			return s.out(i, "element in a value")
		}
		i += 4
	}
	return r.slowCell(s, i, c)
}

const ones = 0x0101010101010101

// ofNumber is how many of the first eight bytes are those of a number, digits and
// signs from + to ;, up to the first that is none.
func ofNumber(b []byte) int {
	w := binary.LittleEndian.Uint64(b)
	above, notBelow := w+(0x80-'<')*ones, w+(0x80-'+')*ones
	return bits.TrailingZeros64((above|^notBelow)&(0x80*ones)) / 8
}

// ofDigits is the number that the first n bytes are, if they are one to seven digits,
// else -1.
func ofDigits(b []byte, n int) int32 {
	if n == 0 || n > 7 {
		return -1
	}
	// The first digit is in the lowest byte: zeros come before it.
	const zeros, high = '0' * ones, 0xf0 * ones
	w := binary.LittleEndian.Uint64(b)<<(64-8*n) | zeros>>(8*n)
	if w&high != zeros || (w+6*ones)&high != zeros {
		return -1
	}
	w -= zeros
	w = (w*10 + w>>8) & 0x00ff00ff00ff00ff
	w = (w*100 + w>>16) & 0x0000ffff0000ffff
	return int32(w*10000 + w>>32)
}

func (r *rowScan) slowCell(s *scanner, i int, c Cell) int {
	inline := false
	for {
		i = s.space(i)
		switch {
		case s.has(i, "</c>"):
			if c.HasValue || c.HasFormula || inline {
				r.cells = append(r.cells, c)
			}
			return i + len("</c>")
		case s.b[i] != '<':
			return s.out(i, "text in a cell")
		case s.opens(i, "f") && !c.HasFormula:
			c.HasFormula = true
			c.Formula, i = s.leaf(i, "</f>")
		case s.opens(i, "v") && !c.HasValue && !inline:
			c.HasValue = true
			c.Text, i = s.leaf(i, "</v>")
		case s.opens(i, "is") && c.Kind == Inline && !c.HasValue && !inline:
			inline = true
			var empty bool
			if i, empty = s.tag(i + len("<is")); i >= 0 && !empty {
				c.Text, i = s.rich(i, "</is>")
			}
		default:
			return s.out(i, "element in a cell")
		}
		if i < 0 {
			return -1
		}
	}
}

// leaf is the text of an element with a name of one letter, from its "<".
func (s *scanner) leaf(i int, end string) (text Span, next int) {
	i, empty := s.tag(i + 2)
	if i < 0 || empty {
		return Span{}, i
	}
	if text, i = s.text(i); i < 0 {
		return Span{}, -1
	}
	if !s.has(i, end) || text.n >= maxText {
		return Span{}, s.out(i, "element in a leaf")
	}
	return text, i + len(end)
}
