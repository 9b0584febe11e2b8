package grid

// chunkSize is the length of the pieces in which shared texts are held; the
// longest text of a cell fits.
const chunkSize = 128 << 10

// texts are the shared texts of a book, in little more room than their bytes.
type texts struct {
	chunks []string
	fill   []byte // what the next chunk will be
	spans  []span
}

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
		t.spans = append(t.spans, span{length: isTooLong})
		return
	case len(t.fill)+len(text) > chunkSize:
		t.seal()
	}
	if t.fill == nil {
		t.fill = make([]byte, 0, chunkSize)
	}
	t.spans = append(t.spans, span{uint32(len(t.chunks)*chunkSize + len(t.fill)), uint32(len(text))})
	t.fill = append(t.fill, text...)
}

// seal ends a chunk; texts of the last chunk can be asked for only then.
func (t *texts) seal() {
	t.chunks = append(t.chunks, string(t.fill))
	t.fill = t.fill[:0]
}

func (t *texts) len() int { return len(t.spans) }

// tooLong reports whether a text is longer than a cell may hold; it is not kept.
func (t *texts) tooLong(i int) bool { return t.spans[i].length == isTooLong }

// text is a text that is not too long. It shares its chunk's memory.
func (t *texts) text(i int) string {
	s := t.spans[i]
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
