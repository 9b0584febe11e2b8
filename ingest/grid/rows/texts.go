package rows

import (
	"fmt"
	"io"
)

// textScan is one pass over a part of shared texts.
type textScan struct {
	scanner
	carry  []byte
	inRoot bool
	closed bool
}

// Texts reads the items of a part of shared texts in order: rich text joined,
// phonetic runs left out, escapes such as _x000D_ as they stand. text is valid
// until give returns. Errors are as those of Sheet.
func Texts(r io.Reader, give func(text []byte) error) error {
	t := &textScan{}
	return run(r, t.block, func(b *block) error {
		for _, s := range b.texts {
			if err := give(b.Text(s)); err != nil {
				return err
			}
		}
		return nil
	})
}

func (t *textScan) block(b *block) (err error) {
	if t.b, t.hi, err = b.join(t.carry); err != nil {
		return fmt.Errorf("%w at offset %d: %w", err, t.base, ErrOutside)
	}
	t.final = b.err != nil
	t.arena = b.arena
	done := t.content(b, 0)
	b.window, b.arena = t.b, t.arena
	if t.err != nil {
		if t.final && b.err != io.EOF {
			return b.err
		}
		return t.err
	}
	t.carry = append(t.carry[:0], t.b[done:t.hi]...)
	t.base += int64(done)
	return nil
}

// content reads as many items as are whole; done is where the last one ends.
func (t *textScan) content(b *block, i int) (done int) {
	if !t.inRoot {
		i, empty := t.root(i, "sst")
		if i < 0 {
			return 0
		}
		t.inRoot, t.closed, done = true, empty, i
	}
	for !t.closed {
		i = t.space(done)
		switch {
		case t.has(i, "</sst>"):
			t.closed, done = true, i+len("</sst>")
			continue
		case t.b[i] == '<' && t.opens(i, "si"):
			var text Span
			if text, i = t.item(i + len("<si")); i >= 0 {
				b.texts = append(b.texts, text)
			}
		case t.b[i] == '<' && t.opens(i, "extLst"):
			i = t.pass(i)
		default:
			i = t.out(i, "element among texts")
		}
		if i < 0 {
			return done
		}
		done = i
	}
	if done = t.space(done); done < t.hi {
		t.final = true
		t.out(done, "content behind the end")
	}
	return done
}

func (t *textScan) item(i int) (text Span, next int) {
	i, empty := t.tag(i)
	if i < 0 || empty {
		return Span{}, i
	}
	return t.rich(i, "</si>")
}
