package ingest

// become is what values of a sink become in the book, by their numbers, which
// the lines keep.
type become[T comparable] struct {
	list  []T
	known []bool // of lines on which nothing was found
	own   map[T]int32
	add   func(T) int32 // gives a number that no line has
}

func (b *become[T]) set(n int32, x T) {
	for len(b.list) <= int(n) {
		var none T
		b.list, b.known = append(b.list, none), append(b.known, false)
	}
	b.list[n] = x
}

// number is that of what a line becomes on which something was found.
func (b *become[T]) number(x T) int32 {
	n, ok := b.own[x]
	if !ok {
		if b.own == nil {
			b.own = map[T]int32{}
		}
		n = b.add(x)
		b.own[x] = n
		b.set(n, x)
	}
	return n
}

func (b *become[T]) knows(n int32) bool { return int(n) < len(b.known) && b.known[n] }

func (b *become[T]) knowsAll(numbers []int32) bool {
	for _, n := range numbers {
		if !b.knows(n) {
			return false
		}
	}
	return true
}
