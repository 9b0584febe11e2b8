package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// helpWidth is what a line of help holds; longestTerm is the widest term that
// has its explanation beside it.
const (
	helpWidth   = 80
	longestTerm = 26
)

// Term is something that help explains.
type Term struct{ Name, Text string }

// Paragraph prints text in lines of 80 columns.
func Paragraph(w io.Writer, text string) {
	for _, line := range wrap(text, helpWidth) {
		fmt.Fprintln(w, line)
	}
}

// Terms prints terms with their explanations beside them, in lines of 80
// columns. A term that is too long for its column has the explanation below.
func Terms(w io.Writer, terms []Term) {
	column := 0
	for _, t := range terms {
		column = max(column, min(utf8.RuneCountInString(t.Name), longestTerm))
	}
	indent := strings.Repeat(" ", column+4)
	for _, t := range terms {
		start := "  " + t.Name + strings.Repeat(" ", max(0, column-utf8.RuneCountInString(t.Name))) + "  "
		if utf8.RuneCountInString(t.Name) > column {
			fmt.Fprintln(w, "  "+t.Name)
			start = indent
		}
		for _, line := range wrap(t.Text, helpWidth-len(indent)) {
			fmt.Fprintln(w, start+line)
			start = indent
		}
	}
}

// wrap cuts text at spaces into lines of at most width letters; a longer word
// has a line of its own.
func wrap(text string, width int) []string {
	var out []string
	line, n := "", 0
	for _, word := range strings.Fields(text) {
		k := utf8.RuneCountInString(word)
		if n > 0 && n+1+k > width {
			out, line, n = append(out, line), "", 0
		}
		if n > 0 {
			line, n = line+" ", n+1
		}
		line, n = line+word, n+k
	}
	return append(out, line)
}

// Continued prints a command line; one that is wider than 80 columns goes on in
// further lines, as a shell reads them.
func Continued(w io.Writer, command string) {
	lead := command[:len(command)-len(strings.TrimLeft(command, " "))]
	lines := wrap(command, helpWidth-len(lead)-4)
	for i, line := range lines {
		if i > 0 {
			line = "  " + line
		}
		if i < len(lines)-1 {
			line += ` \`
		}
		fmt.Fprintln(w, lead+line)
	}
}
