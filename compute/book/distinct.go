package book

import "pourbook/compute/together"

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

// distinct reports whether no text is twice in a part.
func (t *Texts) distinct(all []slot, ends []int) bool {
	var x index
	for i := range len(ends) - 1 {
		clear(x.slots)
		x.taken = 0
		for _, s := range all[ends[i]:ends[i+1]] {
			at := x.find(s.hash, func(n int32) bool {
				var room [10]byte
				return t.Is(n, t.at(s.number, room[:0]))
			})
			if at.number != 0 {
				return false
			}
			at.number = s.number
		}
	}
	return true
}
