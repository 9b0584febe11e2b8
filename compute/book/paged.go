package book

import "slices"

const pageLen = 4096

// Paged is a list that grows without being copied, in pieces that find room
// between others. The zero value is empty.
type Paged[T any] struct{ pages [][]T }

// PagedOf is a list of n times a value.
func PagedOf[T any](n int, x T) (p Paged[T]) {
	for left := n; left > 0; left -= pageLen {
		p.pages = append(p.pages, slices.Repeat([]T{x}, min(left, pageLen)))
	}
	return p
}

// Add adds a value.
func (p *Paged[T]) Add(x T) {
	last := len(p.pages) - 1
	if last < 0 || len(p.pages[last]) == pageLen {
		// Short lists stay small.
		p.pages = append(p.pages, make([]T, 0, min(pageLen, 16+pageLen*len(p.pages))))
		last++
	}
	p.pages[last] = append(p.pages[last], x)
}

// At is the value of an index, which holds until one is added.
func (p *Paged[T]) At(i int) *T { return &p.pages[i/pageLen][i%pageLen] }

// Len is the number of values.
func (p *Paged[T]) Len() int {
	if len(p.pages) == 0 {
		return 0
	}
	last := len(p.pages) - 1
	return last*pageLen + len(p.pages[last])
}
