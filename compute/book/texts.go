package book

import (
	"encoding/binary"
	"iter"
	"sort"
	"strconv"
)

// Texts are texts, packed and numbered in the order in which they were added,
// distinct unless [Texts.Add] adds one twice. Number 0 is the empty text, which is
// always there. A copy shares what it holds: only one of the two may be used.
type Texts struct {
	// Where the texts from 1 stand in bytes, with their lengths before them; or
	// isWhole and the value of a whole number, which stands nowhere.
	places numbers
	bytes  [][]byte // pieces of pieceSize, or of one longer text
	// Whole numbers that come in rising order, as those of orders mostly do, are
	// found by their values, all other texts by their hash.
	rising numbers
	hashed index
	loose  int32 // the first number that may be missing in hashed; 0 for none
	added  bool  // without having been looked for
}

const (
	isWhole   = 1 << 31
	pieceSize = 1 << 16
)

// Len is the number of texts, the empty one included.
func (t *Texts) Len() int { return t.places.len() + 1 }

// At is the text of a number.
func (t *Texts) At(n int32) string {
	var room [10]byte
	return string(t.at(n, room[:0]))
}

// at is the text of a number, perhaps in the room.
func (t *Texts) at(n int32, room []byte) []byte {
	if n == 0 {
		return nil
	}
	p := t.place(n)
	if p&isWhole != 0 {
		return strconv.AppendUint(room, uint64(p&^isWhole), 10)
	}
	piece := t.bytes[p/pieceSize][p%pieceSize:]
	length, from := binary.Uvarint(piece)
	return piece[from:][:length]
}

func (t *Texts) place(n int32) uint32 { return uint32(t.places.at(int(n - 1))) }

// All is the texts with their numbers.
func (t *Texts) All() iter.Seq2[int32, string] {
	return func(yield func(int32, string) bool) {
		for n := range int32(t.Len()) {
			if !yield(n, t.At(n)) {
				return
			}
		}
	}
}

// Words is the texts that are not whole numbers of up to nine digits; a word holds
// until the next is given out.
func (t *Texts) Words() iter.Seq[[]byte] {
	return func(yield func([]byte) bool) {
		for n := int32(1); n < int32(t.Len()); n++ {
			if t.place(n)&isWhole == 0 && !yield(t.at(n, nil)) {
				return
			}
		}
	}
}

// Is reports whether a number's text is s.
func (t *Texts) Is(n int32, s []byte) bool {
	if n > 0 && len(s) > 0 {
		if p := t.place(n); p&isWhole != 0 {
			v, ok := wholeValue(s)
			return ok && v == p&^isWhole
		}
	}
	return string(t.at(n, nil)) == string(s)
}

// Number is the number of a text, which is added if it is new.
func (t *Texts) Number(s string) int32 { return t.NumberOf([]byte(s)) }

// NumberOf is Number.
func (t *Texts) NumberOf(s []byte) int32 {
	if len(s) == 0 {
		return 0
	}
	value, whole := wholeValue(s)
	if n := t.byValue(value, whole); n > 0 {
		return n
	}
	t.findLoose()
	at := t.hashed.find(hashOf(s), func(n int32) bool { return t.Is(n, s) })
	if at.number == 0 {
		at.number = t.add(s, value, whole)
	}
	return at.number
}

// Add is Number for a text, not the empty one, that Add was not given before: it is
// not looked for among those that Add has added, and may so get one more number.
func (t *Texts) Add(s []byte) int32 {
	value, whole := wholeValue(s)
	if n := t.byValue(value, whole); n > 0 {
		return n
	}
	if n := t.hashed.number(hashOf(s), func(n int32) bool { return t.Is(n, s) }); n > 0 {
		return n
	}
	t.added = true
	n := t.add(s, value, whole)
	if t.loose == 0 {
		t.loose = n
	}
	return n
}

// byValue is the number of a rising whole number, which is added where it rises; 0 of
// any other text.
func (t *Texts) byValue(value uint32, whole bool) int32 {
	switch last := t.rising.len() - 1; {
	case !whole:
		return 0
	case last >= 0 && t.value(last) >= value:
		return t.risen(value)
	}
	n := t.add(nil, value, true)
	t.rising.add(n)
	return n
}

// findLoose makes texts that were added findable, of the same ones the first.
func (t *Texts) findLoose() {
	if t.loose == 0 {
		return
	}
	for n := t.loose; n < int32(t.Len()); n++ {
		var room [10]byte
		s := t.at(n, room[:0])
		if value, whole := wholeValue(s); whole && t.risen(value) > 0 {
			continue // risen may be asked: a whole number is a rising one or comes after one
		}
		if at := t.hashed.find(hashOf(s), func(n int32) bool { return t.Is(n, s) }); at.number == 0 {
			at.number = n
		}
	}
	t.loose = 0
}

// wholeValue is the whole number that a text of up to nine digits stands for, as
// a spreadsheet shows it.
func wholeValue(s []byte) (v uint32, ok bool) {
	if len(s) > 9 || s[0] == '0' && len(s) > 1 {
		return 0, false
	}
	for _, c := range s {
		if c -= '0'; c > 9 {
			return 0, false
		}
		v = v*10 + uint32(c)
	}
	return v, true
}

// value is a number of the rising ones.
func (t *Texts) value(i int) uint32 { return t.place(t.rising.at(i)) &^ isWhole }

// risen is the number of the text of a value, or 0 if it is not a rising one.
func (t *Texts) risen(value uint32) int32 {
	last := t.rising.len() - 1
	if t.value(last) == value {
		return t.rising.at(last)
	}
	if i := sort.Search(last, func(i int) bool { return t.value(i) >= value }); t.value(i) == value {
		return t.rising.at(i)
	}
	return 0
}

// add adds a text, which may be a whole number of a value.
func (t *Texts) add(s []byte, value uint32, whole bool) int32 {
	if whole {
		t.places.add(int32(value | isWhole))
		return int32(t.places.len())
	}
	last := len(t.bytes) - 1
	if need := len(s) + binary.MaxVarintLen32; last < 0 || len(t.bytes[last])+need > pieceSize {
		room := pieceSize
		if last < 0 {
			room = 0 // few texts stay small
		}
		t.bytes, last = append(t.bytes, make([]byte, 0, max(room, need))), last+1
	}
	piece := &t.bytes[last]
	t.places.add(int32(last*pieceSize + len(*piece)))
	*piece = append(binary.AppendUvarint(*piece, uint64(len(s))), s...)
	return int32(t.places.len())
}
