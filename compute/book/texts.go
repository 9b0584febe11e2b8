package book

import (
	"encoding/binary"
	"hash/maphash"
	"iter"
	"sort"
	"strconv"
)

// Texts are distinct texts, packed and numbered in the order in which they were
// added. Number 0 is the empty text, which is always there.
type Texts struct {
	// Where the texts from 1 stand in bytes, with their lengths before them; or
	// isWhole and the value of a whole number, which stands nowhere.
	places Paged[uint32]
	bytes  [][]byte // pieces of pieceSize, or of one longer text
	// Whole numbers that come in rising order, as those of orders mostly do, are
	// found by their values, all other texts by their hash.
	rising Paged[int32]
	slots  []slot // by hash; a power of two, at most two thirds full
	hashed int
}

// slot is a number and the hash of its text; number 0 is a free slot.
type slot struct {
	number int32
	hash   uint32
}

const (
	isWhole   = 1 << 31
	pieceSize = 1 << 16
)

var seed = maphash.MakeSeed()

// Len is the number of texts, the empty one included.
func (t *Texts) Len() int { return t.places.Len() + 1 }

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
	p := *t.places.At(int(n - 1))
	if p&isWhole != 0 {
		return strconv.AppendUint(room, uint64(p&^isWhole), 10)
	}
	piece := t.bytes[p/pieceSize][p%pieceSize:]
	length, from := binary.Uvarint(piece)
	return piece[from:][:length]
}

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
			if *t.places.At(int(n - 1))&isWhole == 0 && !yield(t.at(n, nil)) {
				return
			}
		}
	}
}

// Is reports whether a number's text is s.
func (t *Texts) Is(n int32, s []byte) bool {
	if n > 0 && len(s) > 0 {
		if p := *t.places.At(int(n - 1)); p&isWhole != 0 {
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
	if whole {
		if n := t.rising.Len(); n == 0 || t.value(n-1) < value {
			t.rising.Add(t.addWhole(value))
		}
		if n := t.risen(value); n > 0 {
			return n
		}
	}
	if 3*t.hashed >= 2*len(t.slots) {
		t.grow()
	}
	hash := uint32(maphash.Bytes(seed, s))
	at := t.find(hash, func(n int32) bool { return t.Is(n, s) })
	if at.number == 0 {
		t.hashed++
		if at.hash = hash; whole {
			at.number = t.addWhole(value)
		} else {
			at.number = t.add(s)
		}
	}
	return at.number
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
func (t *Texts) value(i int) uint32 { return *t.places.At(int(*t.rising.At(i) - 1)) &^ isWhole }

// risen is the number of the text of a value, or 0 if it is not a rising one.
func (t *Texts) risen(value uint32) int32 {
	last := t.rising.Len() - 1
	if t.value(last) == value {
		return *t.rising.At(last)
	}
	if i := sort.Search(last, func(i int) bool { return t.value(i) >= value }); t.value(i) == value {
		return *t.rising.At(i)
	}
	return 0
}

func (t *Texts) addWhole(value uint32) int32 {
	t.places.Add(value | isWhole)
	return int32(t.places.Len())
}

func (t *Texts) add(s []byte) int32 {
	last := len(t.bytes) - 1
	if need := len(s) + binary.MaxVarintLen32; last < 0 || len(t.bytes[last])+need > pieceSize {
		room := pieceSize
		if last < 0 {
			room = 0 // few texts stay small
		}
		t.bytes, last = append(t.bytes, make([]byte, 0, max(room, need))), last+1
	}
	piece := &t.bytes[last]
	t.places.Add(uint32(last*pieceSize + len(*piece)))
	*piece = append(binary.AppendUvarint(*piece, uint64(len(s))), s...)
	return int32(t.places.Len())
}

// find is the slot of the text of a hash, or the one that it may take.
func (t *Texts) find(hash uint32, is func(n int32) bool) *slot {
	mask := uint32(len(t.slots) - 1)
	for i := hash & mask; ; i = (i + 1) & mask {
		if at := &t.slots[i]; at.number == 0 || at.hash == hash && is(at.number) {
			return at
		}
	}
}

func (t *Texts) grow() {
	old := t.slots
	t.slots = make([]slot, max(16, 2*len(old)))
	for _, x := range old {
		if x.number != 0 {
			*t.find(x.hash, func(int32) bool { return false }) = x
		}
	}
}
