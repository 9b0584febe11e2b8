package book

import "hash/maphash"

// index finds numbers by the hashes of their texts.
type index struct {
	slots []slot // by hash; a power of two, at most two thirds taken
	taken int
}

// slot is a number and the hash of its text; number 0 is a free slot.
type slot struct {
	number int32
	hash   uint32
}

var seed = maphash.MakeSeed()

func hashOf(s []byte) uint32 { return uint32(maphash.Bytes(seed, s)) }

// find is the slot of a hash and of the text of which is is true; or one that is
// free, which has to be given its number.
func (x *index) find(hash uint32, is func(n int32) bool) *slot {
	if 3*x.taken >= 2*len(x.slots) {
		x.grow()
	}
	at := x.look(hash, is)
	if at.number == 0 {
		at.hash = hash
		x.taken++
	}
	return at
}

// number is that of a hash and of the text of which is is true, 0 if it is not there.
func (x *index) number(hash uint32, is func(n int32) bool) int32 {
	if x.taken == 0 {
		return 0
	}
	return x.look(hash, is).number
}

func (x *index) look(hash uint32, is func(n int32) bool) *slot {
	mask := uint32(len(x.slots) - 1)
	for i := hash & mask; ; i = (i + 1) & mask {
		if at := &x.slots[i]; at.number == 0 || at.hash == hash && is(at.number) {
			return at
		}
	}
}

func (x *index) grow() {
	old := x.slots
	x.slots = make([]slot, max(16, 2*len(old)))
	for _, s := range old {
		if s.number != 0 {
			*x.look(s.hash, func(int32) bool { return false }) = s
		}
	}
}
