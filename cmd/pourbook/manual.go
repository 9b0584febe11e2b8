package main

import (
	"io"

	"github.com/urfave/cli/v2"

	"pourbook/report"
	"pourbook/templates"
)

// manual writes the manual page from the texts that --help prints.
func manual(w io.Writer, app *cli.App) {
	commands := report.Section{Title: templates.Text("man.commands")}
	for _, c := range app.Commands {
		commands.Parts = append(commands.Parts, report.Section{
			Title:      app.Name + " " + c.Name,
			Paragraphs: []string{templates.Text("help.usage", "usage", c.UsageText), c.Description, templates.Text("help.examples")},
			Commands:   examples(c),
			Terms:      flagTerms(c.Flags, true),
		})
	}
	report.Manual{Name: app.Name, Version: version, Usage: app.Usage, Sections: []report.Section{
		{Title: templates.Text("man.synopsis"), Paragraphs: []string{templates.Text("man.line")}},
		{Title: templates.Text("man.description"), Paragraphs: []string{app.Description}},
		commands,
		{Title: templates.Text("man.topics"), Terms: topicTerms()},
		{Title: templates.Text("man.exit"), Paragraphs: []string{templates.Text("cli.exit")}},
		{Title: templates.Text("man.environment"), Terms: []report.Term{{Name: "NO_COLOR", Text: templates.Text("man.no-color")}}},
		{Title: templates.Text("man.cautions"), Paragraphs: cautions()},
	}}.Roff(w)
}

// cautions are those that stand in every document.
func cautions() []string {
	var out []string
	for _, c := range []string{"doc.caution.heat.text", "doc.caution.test.text", "doc.caution.law.text"} {
		out = append(out, templates.Text(c))
	}
	return out
}
