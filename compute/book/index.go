package book

import (
	"hash/maphash"

	"pourbook/compute/together"
)

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

// parts are so many that the index of each of a million texts' fits the cache.
const parts = 1 << 8

// Distinct reports whether no text is there twice.
func (t *Texts) Distinct() bool {
	if !t.added {
		return true
	}
	all, ends := t.byHash()
	var low, high bool
	together.Run(
		func() { low = t.distinct(all, ends[:parts/2+1]) },
		func() { high = t.distinct(all, ends[parts/2:]) })
	return low && high
}

// byHash is the texts' numbers in parts by their hashes, and where parts begin and end.
func (t *Texts) byHash() (all []slot, ends [parts + 1]int) {
	hashes := make([]uint32, t.Len())
	for n := range hashes[1:] {
		var room [10]byte
		h := hashOf(t.at(int32(n+1), room[:0]))
		hashes[n+1] = h
		ends[h%parts+1]++
	}
	for i := range parts {
		ends[i+1] += ends[i]
	}
	all, next := make([]slot, t.Len()-1), ends
	for n, h := range hashes[1:] {
		at := &next[h%parts]
		all[*at] = slot{int32(n + 1), h / parts}
		*at++
	}
	return all, ends
}

func (t *Texts) distinct(all []slot, ends []int) bool {
	var x index
	for i := range len(ends) - 1 {
		clear(x.slots)
		x.taken = 0
		for _, s := range all[ends[i]:ends[i+1]] {
			at := x.find(s.hash, func(n int32) bool { return t.same(n, s.number) })
			if at.number != 0 {
				return false
			}
			at.number = s.number
		}
	}
	return true
}

func (t *Texts) same(n, m int32) bool {
	var room [10]byte
	return t.Is(n, t.at(m, room[:0]))
}
