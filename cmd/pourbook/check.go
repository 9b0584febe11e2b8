package main

import (
	"errors"
	"io"
	"os"
	"slices"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"

	"pourbook/compute/check"
	"pourbook/compute/problem"
	"pourbook/report"
	"pourbook/templates"
)

func checkCommand(std streams) *cli.Command {
	return command("check", append(readFlags(), yes("strict")), func(c *cli.Context) error {
		j, err := open(c, std, 1)
		if err != nil {
			return err
		}
		problems := j.book.Problems
		problems.Join(check.Domain(j.book, j.today))
		if err := j.printCheck(problems); err != nil {
			return err
		}
		for _, p := range problems.Sorted() {
			if p.Severity == problem.Error || c.Bool("strict") && p.Severity == problem.Warning {
				return stop{errors.New(templates.Text("check.found"))}
			}
		}
		return nil
	})
}

func (j *job) printCheck(problems problem.List) error {
	switch {
	case j.c.Bool(flagJSON):
		return j.json(report.Check(j.book), problems)
	case j.c.Bool(flagQuiet):
		if !report.Wrong(problems) {
			return nil
		}
		return j.print(func(w io.Writer) { report.Problems(w, j.book, problems, colored(j.std.out)) })
	}
	return j.print(func(w io.Writer) { report.CheckSummary(w, j.book, problems, colored(j.std.out)) })
}

// colored reports whether out is a terminal that shows color, and nobody asked
// for none.
func colored(out io.Writer) report.Ink {
	f, ok := bare(out).(*os.File)
	plain := os.Getenv("NO_COLOR") != "" || slices.Contains([]string{"", "dumb"}, os.Getenv("TERM"))
	return report.Ink(ok && !plain && term.IsTerminal(int(f.Fd())))
}
