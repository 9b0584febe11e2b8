// Package templates holds the words of the program: sentences, column heads,
// problem texts and hints, cautions and accepted headings, in one folder per
// language. Code has codes; a reader has words.
package templates

import (
	"embed"
	"fmt"
	"io/fs"
	"iter"
	"maps"
	"sort"
	"strings"
	"sync"
)

//go:embed en/*.txt
var files embed.FS

// language is the folder that words come from.
const language = "en"

// words are read file by file, and only until the key that is asked for is
// found: a short command needs the first file alone.
var words = sync.OnceValue(func() *lexicon {
	names, _ := fs.Glob(files, language+"/*.txt")
	return &lexicon{unread: names, texts: make(map[string]string, 256)}
})

type lexicon struct {
	mu     sync.Mutex
	unread []string
	texts  map[string]string
}

// find is the text of a key.
func (l *lexicon) find(key string) (string, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for {
		if text, ok := l.texts[key]; ok || len(l.unread) == 0 {
			return text, ok
		}
		l.readNext()
	}
}

func (l *lexicon) readNext() {
	text, _ := files.ReadFile(l.unread[0])
	l.unread = l.unread[1:]
	parse(string(text), l.texts)
}

// keys are all that there are.
func (l *lexicon) keys() iter.Seq[string] {
	l.mu.Lock()
	defer l.mu.Unlock()
	for len(l.unread) > 0 {
		l.readNext()
	}
	return maps.Keys(l.texts)
}

// parse reads lines of "key: text". A line that starts with "#" is a comment; a
// line that starts with a space goes on with the text before it.
func parse(text string, m map[string]string) {
	last := ""
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\r\n")
		switch key, value, ok := strings.Cut(line, ":"); {
		case line == "" || line[0] == '#':
		case line[0] == ' ':
			m[last] += " " + strings.TrimSpace(line)
		case ok:
			last = key
			m[last] = strings.TrimSpace(value)
		default:
			panic("templates: no key in " + line)
		}
	}
}

// Has reports whether there are words for a key.
func Has(key string) bool { _, ok := words().find(key); return ok }

// Keys lists every key that starts with prefix, sorted.
func Keys(prefix string) []string {
	var out []string
	for k := range words().keys() {
		if strings.HasPrefix(k, prefix) {
			out = append(out, k)
		}
	}
	sort.Strings(out)
	return out
}

// Text is the words of a key, with {name} replaced by the values given as
// names and values in turn. {name|one|many} chooses by whether the value
// prints as "1". A key without words is shown as "[key]", so that it is seen.
func Text(key string, args ...any) string {
	s, ok := words().find(key)
	if !ok {
		return "[" + key + "]"
	}
	return fill(s, args)
}

// List is the words of a key that holds several, parted by " | ".
func List(key string) []string {
	var out []string
	text, _ := words().find(key)
	for part := range strings.SplitSeq(text, " | ") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

func fill(s string, args []any) string {
	if !strings.Contains(s, "{") {
		return s
	}
	var b strings.Builder
	b.Grow(2 * len(s))
	for {
		before, rest, ok := strings.Cut(s, "{")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		inner, after, closed := strings.Cut(rest, "}")
		if !closed {
			b.WriteString("{" + rest)
			return b.String()
		}
		b.WriteString(value(inner, args))
		s = after
	}
}

func value(inner string, args []any) string {
	name, forms, choose := strings.Cut(inner, "|")
	for i := 0; i+1 < len(args); i += 2 {
		if n, ok := args[i].(string); !ok || n != name {
			continue
		}
		v, ok := args[i+1].(string)
		if !ok {
			v = fmt.Sprint(args[i+1])
		}
		if !choose {
			return v
		}
		one, many, _ := strings.Cut(forms, "|")
		if v == "1" {
			return one
		}
		return many
	}
	return "{" + inner + "}"
}
