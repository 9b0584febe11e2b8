package report

import (
	"fmt"
	"io"
	"strings"
)

// Manual is a manual page of section 1.
type Manual struct {
	Name, Version, Usage string
	Sections             []Section
}

// Section is a part of a manual page: paragraphs, then command lines as they
// are typed, then terms with their explanations, then its own parts.
type Section struct {
	Title      string
	Paragraphs []string
	Commands   []string
	Terms      []Term
	Parts      []Section
}

// Roff writes a manual page as man reads it.
func (m Manual) Roff(w io.Writer) {
	fmt.Fprintf(w, ".TH %s 1 \"\" %s\n.nh\n.ad l\n", quoted(strings.ToUpper(m.Name)), quoted(m.Name+" "+m.Version))
	fmt.Fprintf(w, ".SH NAME\n%s \\- %s\n", roff(m.Name), roff(m.Usage))
	for _, s := range m.Sections {
		s.roff(w, ".SH")
	}
}

func (s Section) roff(w io.Writer, macro string) {
	fmt.Fprintf(w, "%s %s\n", macro, quoted(s.Title))
	for i, p := range s.Paragraphs {
		if i > 0 {
			fmt.Fprintln(w, ".PP")
		}
		prose(w, p)
	}
	if len(s.Commands) > 0 {
		fmt.Fprintln(w, ".PP\n.nf")
		for _, c := range s.Commands {
			fmt.Fprintln(w, roff(c))
		}
		fmt.Fprintln(w, ".fi")
	}
	for _, t := range s.Terms {
		fmt.Fprintf(w, ".TP\n.B %s\n", quoted(t.Name))
		prose(w, t.Text)
	}
	for _, p := range s.Parts {
		p.roff(w, ".SS")
	}
}

func prose(w io.Writer, text string) {
	for _, line := range wrap(text, helpWidth-8) {
		fmt.Fprintln(w, roff(line))
	}
}

// roff is text in which nothing commands the typesetter.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "~", `\(ti`, "^", `\(ha`).Replace(text)
	if strings.HasPrefix(text, ".") {
		text = `\&` + text
	}
	return text
}

// quoted is text as one argument of a macro.
func quoted(text string) string { return `"` + strings.ReplaceAll(roff(text), `"`, `\(dq`) + `"` }
