package templates

import (
	_ "embed"
	"strings"
)

//go:embed demo/book.txt
var demoBook string

//go:embed demo/starter.txt
var starterBook string

// Sheet is a sheet of the demo book or of the starter book, as text.
type Sheet struct {
	Name  string
	Note  string
	Hints map[string]string   // notes on headings
	Lists map[string][]string // drop-down choices by heading, or one range of cells such as "=Jars!$A$4:$A$99"
	Least []string            // headings that the smallest starter book has; none leaves the sheet out
	Head  []string
	Rows  [][]string
}

// DemoBook is the demo scenario: every sheet with its rows, apart from the rows
// of Sales, Purchases and Stock counts, which the program makes.
func DemoBook() []Sheet { return parseSheets(demoBook) }

// StarterBook is the book to fill in: every table with an example row. The
// rows of Settings are made by the program.
func StarterBook() []Sheet { return parseSheets(starterBook) }

func parseSheets(text string) []Sheet {
	var out []Sheet
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\r\n")
		switch {
		case line == "" || line[0] == '#':
		case line[0] == '[':
			out = append(out, Sheet{Name: strings.Trim(line, "[]"), Hints: map[string]string{}, Lists: map[string][]string{}})
		default:
			out[len(out)-1].add(line)
		}
	}
	return out
}

func (s *Sheet) add(line string) {
	key, text, _ := strings.Cut(line, ": ")
	switch what, name, _ := strings.Cut(key, " "); {
	case key == "note":
		s.Note = text
	case key == "least":
		s.Least = cells(text)
	case what == "hint" && s.Head == nil:
		s.Hints[name] = text
	case what == "list" && s.Head == nil:
		s.Lists[name] = strings.Split(text, ", ")
	case s.Head == nil:
		s.Head = cells(line)
	default:
		s.Rows = append(s.Rows, cells(line))
	}
}

func cells(line string) []string {
	out := strings.Split(line, "|")
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}
