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
	places paged[uint32]
	bytes  [][]byte // pieces of pieceSize, or of one longer text
	// Whole numbers that come in rising order, as those of orders mostly do, are
	// found by their values, all other texts by their hash.
	rising paged[int32]
	slots  []int32 // numbers by hash, 0 for a free slot; a power of two, at most two thirds full
	hashed int
}

const (
	isWhole   = 1 << 31
	pieceSize = 1 << 16
)

var seed = maphash.MakeSeed()

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
	p := t.places.at(int(n - 1))
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

// Words is the texts that are not whole numbers of up to nine digits.
func (t *Texts) Words() iter.Seq[string] {
	return func(yield func(string) bool) {
		for n := range int32(t.Len()) {
			if n > 0 && t.places.at(int(n-1))&isWhole == 0 && !yield(t.At(n)) {
				return
			}
		}
	}
}

// Is reports whether a number's text is s.
func (t *Texts) Is(n int32, s []byte) bool {
	if n > 0 && len(s) > 0 {
		if p := t.places.at(int(n - 1)); p&isWhole != 0 {
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
		if n := t.rising.len(); n == 0 || t.value(n-1) < value {
			t.rising.add(t.addWhole(value))
		}
		if n := t.risen(value); n > 0 {
			return n
		}
	}
	if 3*t.hashed >= 2*len(t.slots) {
		t.grow()
	}
	slot := t.find(s)
	if *slot == 0 {
		if t.hashed++; whole {
			*slot = t.addWhole(value)
		} else {
			*slot = t.add(s)
		}
	}
	return *slot
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
func (t *Texts) value(i int) uint32 { return t.places.at(int(t.rising.at(i)-1)) &^ isWhole }

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

func (t *Texts) addWhole(value uint32) int32 {
	t.places.add(value | isWhole)
	return int32(t.places.len())
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
	t.places.add(uint32(last*pieceSize + len(*piece)))
	*piece = append(binary.AppendUvarint(*piece, uint64(len(s))), s...)
	return int32(t.places.len())
}

// find is the slot of a text, or the one that it may take.
func (t *Texts) find(s []byte) *int32 {
	mask := uint64(len(t.slots) - 1)
	for i := maphash.Bytes(seed, s) & mask; ; i = (i + 1) & mask {
		if n := t.slots[i]; n == 0 || t.Is(n, s) {
			return &t.slots[i]
		}
	}
}

func (t *Texts) grow() {
	old := t.slots
	t.slots = make([]int32, max(16, 4*len(old)))
	var room [10]byte
	for _, n := range old {
		if n != 0 {
			*t.find(t.at(n, room[:0])) = n
		}
	}
}
