package main

import (
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"pourbook/report"
	"pourbook/templates"
)

// printUsage is the help of the program or of a command, in place of the flag
// library's own.
func printUsage(w io.Writer, _ string, of any) {
	switch of := of.(type) {
	case *cli.App:
		appUsage(w, of)
	case *cli.Command:
		commandUsage(w, of)
	}
}

// appUsage fits a screen of 24 lines.
func appUsage(w io.Writer, app *cli.App) {
	fmt.Fprintln(w, app.Name+": "+app.Usage)
	report.Paragraph(w, app.Description+" "+templates.Text("cli.more"))
	fmt.Fprintln(w, "\n"+templates.Text("help.commands"))
	report.Terms(w, commandTerms(app))
	fmt.Fprintln(w, "\n"+templates.Text("help.topics"))
	report.Terms(w, topicTerms())
}

func commandUsage(w io.Writer, c *cli.Command) {
	report.Paragraph(w, "pourbook "+c.Name+": "+c.Usage)
	report.Paragraph(w, templates.Text("help.usage", "usage", c.UsageText))
	fmt.Fprintln(w)
	report.Paragraph(w, c.Description)
	fmt.Fprintln(w, "\n"+templates.Text("help.examples"))
	for _, e := range examples(c) {
		report.Continued(w, "  "+e)
	}
	if terms := flagTerms(c.Flags, true); len(terms) > 0 {
		fmt.Fprintln(w, "\n"+templates.Text("help.flags"))
		report.Terms(w, terms)
	}
}

// examples are command lines that work on the demo book.
func examples(c *cli.Command) []string { return templates.List("cmd." + c.Name + ".examples") }

func commandTerms(app *cli.App) []report.Term {
	var out []report.Term
	for _, c := range app.Commands {
		out = append(out, report.Term{Name: c.Name, Text: c.Usage})
	}
	return out
}

// topicTerms are the topics of help; those for shells stand in one line.
func topicTerms() []report.Term {
	var out []report.Term
	for _, t := range topics() {
		if key := "help.topic." + t.name; templates.Has(key) {
			out = append(out, report.Term{Name: t.name, Text: templates.Text(key)})
		}
	}
	return append(out, report.Term{Name: templates.Text("help.shells"), Text: templates.Text("help.shells.text")})
}

// flagTerms are flags with what they are for; with values also what each takes.
// The one that asks for help needs no word.
func flagTerms(flags []cli.Flag, values bool) []report.Term {
	var out []report.Term
	for _, f := range flags {
		name := f.Names()[0]
		t := report.Term{Name: "--" + name, Text: f.(cli.DocGenerationFlag).GetUsage()}
		if name == "help" && values {
			continue
		}
		if _, isBool := f.(*cli.BoolFlag); values && !isBool {
			t.Name += " " + templates.Text("flag."+name+".value")
		}
		out = append(out, t)
	}
	return out
}
