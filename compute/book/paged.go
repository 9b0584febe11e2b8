package book

const pageLen = 4096

// paged is a list that grows without being copied.
type paged[T any] struct{ pages [][]T }

func (p *paged[T]) add(x T) {
	last := len(p.pages) - 1
	if last < 0 || len(p.pages[last]) == pageLen {
		// Short lists stay small.
		p.pages = append(p.pages, make([]T, 0, min(pageLen, 16+pageLen*len(p.pages))))
		last++
	}
	p.pages[last] = append(p.pages[last], x)
}

func (p *paged[T]) at(i int) T { return p.pages[i/pageLen][i%pageLen] }

func (p *paged[T]) len() int {
	if len(p.pages) == 0 {
		return 0
	}
	last := len(p.pages) - 1
	return last*pageLen + len(p.pages[last])
}
