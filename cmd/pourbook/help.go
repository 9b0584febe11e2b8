package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"pourbook/compute/book"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest"
	"pourbook/report"
	"pourbook/templates"
)

// topic is something that "pourbook help" explains from the program's own data,
// or a file that it writes for man or a shell: without a word of its own.
type topic struct {
	name  string
	print func(io.Writer, *cli.App)
	file  bool
}

func topics() []topic {
	return []topic{
		{"headings", headingsHelp, false},
		{"units", unitsHelp, false},
		{"settings", settingsHelp, false},
		{"problems", problemsHelp, false},
		{"formulas", formulasHelp, false},
		{"man", manual, true},
		{"bash", shellHelp("bash"), true},
		{"zsh", shellHelp("zsh"), true},
		{"fish", shellHelp("fish"), true},
	}
}

func topicNames() []string {
	var out []string
	for _, t := range topics() {
		out = append(out, t.name)
	}
	return out
}

func shellHelp(shell string) func(io.Writer, *cli.App) {
	return func(w io.Writer, _ *cli.App) { fmt.Fprint(w, templates.Completion(shell)) }
}

// formulas are the figures that help explains, in the README's order.
var formulas = []string{
	"wax", "issued", "labor-minutes", "overhead", "material", "net-sales", "gross-margin", "contribution", "ratio", "target-price",
}

func helpCommand(std streams) *cli.Command {
	return command("help", nil, func(c *cli.Context) error {
		j := &job{std: std, c: c}
		switch c.NArg() {
		case 0:
			return j.print(func(w io.Writer) { appUsage(w, c.App) })
		case 1:
			return j.explain(c.Args().First())
		}
		return usagef("cli.too-many", "what", c.Args().Get(1), "usage", c.Command.UsageText)
	})
}

// explain prints a topic, or the help of a command.
func (j *job) explain(name string) error {
	for _, t := range topics() {
		if t.name == strings.ToLower(name) {
			return j.print(func(w io.Writer) {
				if !t.file {
					report.Paragraph(w, templates.Text("help.topic."+t.name+".about"))
				}
				t.print(w, j.c.App)
			})
		}
	}
	if j.c.App.Command(name) != nil {
		return cli.ShowCommandHelp(j.c, name)
	}
	if near := ingest.Nearest(name, append(topicNames(), commandNames(j.c.App)...)); near != "" {
		return usagef("help.no-topic.near", "name", name, "near", near)
	}
	return usagef("help.no-topic", "name", name)
}

func headingsHelp(w io.Writer, _ *cli.App) {
	for _, t := range ingest.AcceptedTables() {
		fmt.Fprintf(w, "\n%s\n", t.Table)
		var terms []report.Term
		for _, f := range t.Fields {
			name := f.Name
			switch {
			case f.Needed:
				name += " *"
			case f.Either:
				name += " +"
			}
			text := strings.Join(f.Headings, ", ")
			if len(f.Weak) > 0 {
				text = strings.TrimPrefix(text+"; ", "; ") + templates.Text("help.weak", "headings", strings.Join(f.Weak, ", "))
			}
			terms = append(terms, report.Term{Name: name, Text: text})
		}
		report.Terms(w, terms)
	}
}

func unitsHelp(w io.Writer, _ *cli.App) {
	var units, rates []report.Term
	for _, name := range unit.Names() {
		u, _ := unit.Find(name)
		text := strings.Join(unit.Spellings(name), ", ")
		if u.Size != 1 {
			text = strconv.FormatFloat(u.Size, 'f', -1, 64) + " " + u.Dim.String() + "; " + text
		}
		units = append(units, report.Term{Name: name, Text: text})
	}
	for _, name := range unit.RateNames() {
		rates = append(rates, report.Term{Name: name, Text: templates.Text("help.rate." + name)})
	}
	fmt.Fprintln(w)
	report.Terms(w, units)
	fmt.Fprintln(w)
	report.Paragraph(w, templates.Text("help.rates"))
	fmt.Fprintln(w)
	report.Terms(w, rates)
}

func settingsHelp(w io.Writer, _ *cli.App) {
	var terms []report.Term
	for _, d := range book.Defs {
		text := templates.Text("help.setting", "what", templates.Text("help.setting."+string(d.Name)), "default", report.DefaultOf(d))
		if names := templates.List("setting." + string(d.Name)); len(names) > 0 {
			text += " " + templates.Text("help.setting.names", "names", strings.Join(names, ", "))
		}
		terms = append(terms, report.Term{Name: string(d.Name), Text: text})
	}
	fmt.Fprintln(w)
	report.Terms(w, terms)
}

func problemsHelp(w io.Writer, _ *cli.App) {
	var terms []report.Term
	for _, c := range problem.Codes {
		terms = append(terms, report.Term{Name: string(c), Text: templates.Text("help.problem." + string(c))})
	}
	fmt.Fprintln(w)
	report.Terms(w, terms)
}

func formulasHelp(w io.Writer, _ *cli.App) {
	var terms []report.Term
	for _, f := range formulas {
		name, text, _ := strings.Cut(templates.Text("help.formula."+f), " = ")
		terms = append(terms, report.Term{Name: name, Text: text})
	}
	fmt.Fprintln(w)
	report.Terms(w, terms)
}
