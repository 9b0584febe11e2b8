package book

import (
	"hash/maphash"
	"iter"
)

// Texts are distinct texts, packed and numbered in the order in which they were
// added. Number 0 is the empty text, which is always there.
type Texts struct {
	bytes []byte
	ends  []uint32 // of the texts from 1
	slots []int32  // numbers by hash, 0 for a free slot; a power of two, at most two thirds full
}

var seed = maphash.MakeSeed()

// Len is the number of texts, the empty one included.
func (t *Texts) Len() int { return len(t.ends) + 1 }

// At is the text of a number.
func (t *Texts) At(n int32) string { return string(t.at(n)) }

func (t *Texts) at(n int32) []byte {
	if n == 0 {
		return nil
	}
	first := uint32(0)
	if n > 1 {
		first = t.ends[n-2]
	}
	return t.bytes[first:t.ends[n-1]]
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

// Is reports whether a number's text is s.
func (t *Texts) Is(n int32, s []byte) bool { return string(t.at(n)) == string(s) }

// Number is the number of a text, which is added if it is new.
func (t *Texts) Number(s string) int32 { return t.NumberOf([]byte(s)) }

// NumberOf is Number.
func (t *Texts) NumberOf(s []byte) int32 {
	if len(s) == 0 {
		return 0
	}
	if 3*t.Len() > 2*len(t.slots) {
		t.grow()
	}
	slot := t.find(s)
	if *slot == 0 {
		t.bytes = append(t.bytes, s...)
		t.ends = append(t.ends, uint32(len(t.bytes)))
		*slot = int32(len(t.ends))
	}
	return *slot
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
	t.slots = make([]int32, max(16, 4*len(t.slots)))
	for n := int32(1); n < int32(t.Len()); n++ {
		*t.find(t.at(n)) = n
	}
}
