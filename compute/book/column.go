package book

import "math/bits"

// A column is of 1<<chunkBits numbers, chunkLines.
const (
	chunkBits  = 12
	chunkLines = 1 << chunkBits
)

// column is chunkLines numbers, as what each is above a straight line: in 1, 2, 4, 8,
// 16 or 32 bits, or none where all are on it.
type column struct {
	least int32
	rise  int64 // number i of the line is least + rise*i>>chunkBits
	log   uint8 // the bits are 1<<log
	words []uint64
}

func columnOf(v *[chunkLines]int32) column {
	least, most := v[0], v[0]
	for _, x := range v {
		least, most = min(least, x), max(most, x)
	}
	c, span := column{least: least}, uint64(int64(most)-int64(least))
	// A line that rises by less than half the span halves it at best: it is not tried.
	if last := int64(v[chunkLines-1]) - int64(v[0]); span > 1 && 2*max(last, -last) >= int64(span) {
		if rising, less := along(v, last<<chunkBits/(chunkLines-1)); wordsFor(less) < wordsFor(span) {
			c, span = rising, less
		}
	}
	if span > 0 {
		c.pack(v, span)
	}
	return c
}

// along is the column of a rise, and how far above its line the farthest number is.
func along(v *[chunkLines]int32, rise int64) (c column, span uint64) {
	least, most, at := int64(v[0]), int64(v[0]), int64(0)
	for _, x := range v {
		over := int64(x) - at>>chunkBits
		least, most = min(least, over), max(most, over)
		at += rise
	}
	return column{least: int32(least), rise: rise}, uint64(most - least)
}

// logOf is the log of the bits for numbers up to span, more than 0.
func logOf(span uint64) uint8 { return uint8(bits.Len(uint(bits.Len64(span) - 1))) }

func wordsFor(span uint64) int {
	if span == 0 {
		return 0
	}
	return chunkLines / 64 << logOf(span)
}

func (c *column) pack(v *[chunkLines]int32, span uint64) {
	c.log, c.words = logOf(span), make([]uint64, wordsFor(span))
	width, at, left := uint(1)<<c.log&63, int64(0), v[:]
	for k := range c.words {
		var w uint64
		part, used := left[:64>>c.log], uint(0)
		for _, x := range part {
			w |= uint64(uint32(x-c.least-int32(at>>chunkBits))) << (used & 63)
			used += width
			at += c.rise
		}
		c.words[k], left = w, left[len(part):]
	}
}

func (c *column) at(i int) int32 {
	n := c.least + int32(c.rise*int64(i)>>chunkBits)
	if c.words == nil {
		return n
	}
	w := c.words[i<<c.log>>6] >> (i << c.log & 63)
	return n + int32(w&(1<<(1<<c.log)-1))
}

func (c *column) all(v *[chunkLines]int32) {
	if c.words == nil {
		for i := range v {
			v[i] = c.least
		}
	}
	width, left, least := uint(1)<<c.log&63, v[:], c.least
	mask := uint64(1)<<width - 1
	for _, w := range c.words {
		part := left[:64>>c.log]
		for i := range part {
			part[i] = least + int32(w&mask)
			w >>= width
		}
		left = left[len(part):]
	}
	if c.rise != 0 {
		at := int64(0)
		for i := range v {
			v[i] += int32(at >> chunkBits)
			at += c.rise
		}
	}
}

// numbers is a list of numbers that grows, packed. The zero value is empty.
type numbers struct {
	full []column
	open []int32 // behind the full ones, less than a column
}

func (l *numbers) len() int { return len(l.full)*chunkLines + len(l.open) }

func (l *numbers) add(x int32) {
	l.open = append(l.open, x)
	if len(l.open) == chunkLines {
		l.full = append(l.full, columnOf((*[chunkLines]int32)(l.open)))
		l.open = l.open[:0]
	}
}

func (l *numbers) at(i int) int32 {
	if c := i / chunkLines; c < len(l.full) {
		return l.full[c].at(i % chunkLines)
	}
	return l.open[i%chunkLines]
}
