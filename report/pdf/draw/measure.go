package draw

import (
	"math"
	"strings"
)

// run is a stretch of a cleaned text in one face. A thin gap is a run without text.
type run struct {
	face  Face
	text  string
	width float64 // mm
}

const thinGap = 0.17 // em

// runs splits a cleaned text by glyph coverage.
func runs(s string, st Style) []run {
	var out []run
	eachRun(s, st, func(r run) { out = append(out, r) })
	return out
}

func eachRun(s string, st Style, visit func(run)) {
	main, other := typefaces[st.Face%faceCount](), typefaces[fallback]()
	em := st.size() * mmPerPt
	start, width, face := 0, 0.0, st.Face
	flush := func(end int) {
		if end > start {
			visit(run{face, s[start:end], width})
		}
		start, width = end, 0
	}
	for i, r := range s {
		f, t := st.Face, main
		if !main.has(r) && r != thin {
			f, t = fallback, other
		}
		if r == thin {
			flush(i)
			visit(run{st.Face, "", thinGap * em})
			start = i + len(string(r))
			continue
		}
		if f != face {
			flush(i)
			face = f
		}
		width += advance(t, r)*em + st.Track*mmPerPt
	}
	flush(len(s))
}

// advance is the width of a rune in ems.
func advance(t *typeface, r rune) float64 {
	if !t.has(r) {
		return 0
	}
	return float64(t.advance(r)) / 1000
}

// width is the width of a cleaned text in mm, without the space after its last letter.
func width(s string, st Style) float64 {
	w := 0.0
	eachRun(s, st, func(r run) { w += r.width })
	if s != "" {
		w -= st.Track * mmPerPt
	}
	return max(w, 0)
}

// fit makes a cleaned text no wider than w: first smaller, down to least
// points, then cut with "…".
func fit(s string, st Style, w, least float64) (string, Style) {
	have := width(s, st)
	if have <= w+0.01 {
		return s, st
	}
	if !(w > 0) {
		return "", st
	}
	st.Size = max(min(least, st.size()), math.Floor(st.size()*w/have*10)/10)
	return cut(s, st, w), st
}

// cut ends a cleaned text with "…" where it would be wider than w.
func cut(s string, st Style, w float64) string {
	if width(s, st) <= w+0.01 {
		return s
	}
	room := w - width(ellipsis, st)
	at := prefix(s, st, room)
	if at == 0 && room < 0 {
		return ""
	}
	return strings.TrimRight(s[:at], " ,.;:\u00a0\u2009") + ellipsis
}

// prefix is the length in bytes of the longest start of s that is no wider than w.
func prefix(s string, st Style, w float64) int {
	main, other := typefaces[st.Face%faceCount](), typefaces[fallback]()
	em := st.size() * mmPerPt
	sum := 0.0
	for i, r := range s {
		a := thinGap
		switch {
		case r == thin:
		case main.has(r):
			a = advance(main, r)
		default:
			a = advance(other, r)
		}
		if sum += a * em; sum > w+0.01 {
			return i
		}
		sum += st.Track * mmPerPt
	}
	return len(s)
}

// wrap breaks a cleaned text into lines no wider than w, at spaces, inside a
// word only when the word alone is too wide. With most > 0 the last of most
// lines is cut with "…".
func wrap(s string, st Style, w float64, most int) []string {
	if !(w > 0) {
		return nil
	}
	var lines []string
	line := ""
	for _, word := range strings.Fields(strings.ReplaceAll(s, string(noBreak), "\x00")) {
		word = strings.ReplaceAll(word, "\x00", string(noBreak))
		if joined := strings.TrimLeft(line+" "+word, " "); width(joined, st) <= w {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for width(word, st) > w {
			at := max(prefix(word, st, w), firstRune(word))
			if at == len(word) {
				break
			}
			lines = append(lines, word[:at])
			word = word[at:]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	if most > 0 && len(lines) > most {
		last := cut(strings.Join(lines[most-1:], " "), st, w)
		lines = append(lines[:most-1:most-1], last)
	}
	return lines
}

// firstRune is the length in bytes of the first rune.
func firstRune(s string) int {
	for i := range s {
		if i > 0 {
			return i
		}
	}
	return len(s)
}
