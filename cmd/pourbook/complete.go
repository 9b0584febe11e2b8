package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"pourbook/report"
)

// completeWord ends a command line whose last word a shell wants completed.
const completeWord = "--complete-word"

// complete prints what the last of words can become, each with a tab and what
// it is for; nothing where the shell knows better, as for file names.
func complete(w io.Writer, app *cli.App, words []string) {
	if len(words) == 0 {
		return
	}
	last := words[len(words)-1]
	for _, t := range candidates(app, words[:len(words)-1], strings.HasPrefix(last, "-")) {
		if strings.HasPrefix(t.Name, last) {
			fmt.Fprintf(w, "%s\t%s\n", t.Name, t.Text)
		}
	}
}

// candidates are what can follow the words of a command line: a flag, or none.
func candidates(app *cli.App, before []string, flag bool) []report.Term {
	if len(before) == 0 {
		if flag {
			return flagTerms(app.Flags, false)
		}
		return commandTerms(app)
	}
	cmd := app.Command(before[0])
	switch last := before[len(before)-1]; {
	case cmd == nil:
		return nil
	case takesValue(cmd, last) && strings.TrimLeft(last, "-") == flagPaper:
		return plainTerms(papers)
	case takesValue(cmd, last):
		return nil
	case flag:
		return flagTerms(append(cmd.Flags, cli.HelpFlag), false)
	case cmd.Name == "help" && len(before) == 1:
		return append(plainTerms(topicNames()), commandTerms(app)...)
	}
	return nil
}

func plainTerms(names []string) []report.Term {
	var out []report.Term
	for _, n := range names {
		out = append(out, report.Term{Name: n})
	}
	return out
}
