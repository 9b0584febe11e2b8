package grid

import "strings"

// chunkSize is the length of the pieces in which shared texts are held; the
// longest text of a cell fits.
const chunkSize = 128 << 10

// texts are the shared texts of a book, in little more room than their bytes.
type texts struct {
	chunks []string
	fill   strings.Builder // what the next chunk will be
	spans  [][]span        // in pages, which do not move as they grow more
}

const pageSpans = 1 << 12

// span is where a text stands: its chunk and the place in it.
type span struct {
	at     uint32 // chunk * chunkSize + place
	length uint32 // or isTooLong
}

const isTooLong = ^uint32(0)

// add appends a text, escapes such as _x000D_ as they stand.
func (t *texts) add(text []byte) {
	if hasEscape(text) {
		text = []byte(unescape(string(text)))
	}
	switch {
	case len(text) > maxText && tooLong(string(text)):
		t.put(span{length: isTooLong})
		return
	case t.fill.Len()+len(text) > chunkSize:
		t.seal()
	}
	if t.fill.Cap() == 0 {
		t.fill.Grow(chunkSize)
	}
	t.put(span{uint32(len(t.chunks)*chunkSize + t.fill.Len()), uint32(len(text))})
	t.fill.Write(text)
}

func (t *texts) put(s span) {
	last := len(t.spans) - 1
	if last < 0 || len(t.spans[last]) == pageSpans {
		t.spans, last = append(t.spans, nil), last+1
		if last > 0 {
			t.spans[last] = make([]span, 0, pageSpans)
		}
	}
	t.spans[last] = append(t.spans[last], s)
}

func (t *texts) span(i int) span { return t.spans[i/pageSpans][i%pageSpans] }

// seal ends a chunk; texts of the last chunk can be asked for only then.
func (t *texts) seal() {
	t.chunks = append(t.chunks, t.fill.String())
	t.fill.Reset()
}

func (t *texts) len() int {
	last := len(t.spans) - 1
	if last < 0 {
		return 0
	}
	return last*pageSpans + len(t.spans[last])
}

// tooLong reports whether a text is longer than a cell may hold; it is not kept.
func (t *texts) tooLong(i int) bool { return t.span(i).length == isTooLong }

// text is a text that is not too long. It shares its chunk's memory.
func (t *texts) text(i int) string {
	s := t.span(i)
	from := s.at % chunkSize
	return t.chunks[s.at/chunkSize][from : from+s.length]
}

// sharedTexts is how many shared texts there are, 0 where they cannot be read.
func (s *source) sharedTexts() int {
	t, err := s.strings()
	if err != nil {
		return 0
	}
	return t.len()
}

// sharedText is the shared text of that number, "" where there is none.
func (s *source) sharedText(n int) string {
	t, err := s.strings()
	if err != nil || n < 0 || n >= t.len() || t.tooLong(n) {
		return ""
	}
	return t.text(n)
}
