package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"pourbook/report/words"
)

const (
	// hang is how far the further lines of a step are set in beyond its first:
	// more than what it rests on.
	hang = 6
	// leastLine is the room that a line has at any depth.
	leastLine = 40
)

// step prints the parts of a step at its depth in lines of the width. Where it
// stands too deep to be set in as far, it begins with its depth.
func step(w io.Writer, parts []string, depth, width int) {
	room := max(0, width-leastLine) / 2
	lead := strings.Repeat("  ", min(depth, room))
	if depth > room {
		lead += strconv.Itoa(depth) + ": "
	}
	for _, line := range fold(parts, width-len(lead), max(width-len(lead)-hang, 8)) {
		fmt.Fprintln(w, lead+line)
		lead = strings.Repeat(" ", min(depth, room)*2+hang)
	}
}

// folder cuts text into lines: the first of at most width letters, the others of
// rest.
type folder struct {
	lines       []string
	line        string
	width, rest int
}

// fold cuts parts into lines of at most first, then rest letters. A part that a
// line can hold is kept whole; else it is cut at spaces, a longer word behind a
// mark of arithmetic or anywhere.
func fold(parts []string, first, rest int) []string {
	f := folder{width: first, rest: rest}
	for _, p := range parts {
		gap, p := "  ", words.Plain(p)
		if k := utf8.RuneCountInString(p); k > f.left(gap) && k <= rest {
			f.end()
		}
		for _, word := range strings.Fields(p) {
			f.put(gap, word)
			gap = " "
		}
	}
	f.end()
	return f.lines
}

// left is the room behind a gap, which a line does not begin with.
func (f *folder) left(gap string) int {
	if f.line == "" {
		return f.width
	}
	return f.width - utf8.RuneCountInString(f.line) - len(gap)
}

func (f *folder) end() {
	if f.line != "" {
		f.lines, f.line, f.width = append(f.lines, f.line), "", f.rest
	}
}

func (f *folder) put(gap, word string) {
	if k := utf8.RuneCountInString(word); k > f.left(gap) && k <= f.rest {
		f.end()
	}
	for {
		left := f.left(gap)
		head, all := start(word, left)
		switch {
		case head != "" && (all || f.line == "" || left > f.rest/2):
			if f.line != "" {
				f.line += gap
			}
			f.line += head
			if word = word[len(head):]; word == "" {
				return
			}
		case f.line == "":
			f.line = word
			return
		}
		f.end()
	}
}

// start is the longest start of a word of at most n letters that ends behind a
// mark of arithmetic, or anywhere where none is; all tells that it is the word.
func start(word string, n int) (head string, all bool) {
	end, cut, k := 0, 0, 0
	for i, r := range word {
		if k++; k > n {
			if end == 0 {
				end = cut
			}
			return word[:end], false
		}
		cut = i + utf8.RuneLen(r)
		if strings.ContainsRune("+-*/,", r) {
			end = cut
		}
	}
	return word, true
}
