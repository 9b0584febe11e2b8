package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"

	"pourbook/ingest"
	"pourbook/report"
	"pourbook/report/file"
	"pourbook/report/words"
	"pourbook/templates"
)

func fitCommand(std streams) *cli.Command {
	return command("fit", []cli.Flag{str(flagLayout), list(flagSales)}, func(c *cli.Context) error {
		if err := wantArgs(c, 1); err != nil {
			return err
		}
		return fit(c, std)
	})
}

// fit shows what was recognised, asks what is open, and saves the layout. An
// answer may open further questions, so it asks until none is left, or none was
// answered.
func fit(c *cli.Context, std streams) error {
	path := c.Args().First()
	o := ingest.Options{Layout: c.String(flagLayout), Sales: c.StringSlice(flagSales)}
	in := bufio.NewReader(std.in)
	a := asker{in: in, out: std.out, ask: interactive(std.in), said: map[string]bool{}}
	for shown := false; ; shown = true {
		o.Progress = std.bar.start()
		f, err := ingest.Fit(c.Context, path, o)
		std.bar.stop()
		if err != nil {
			return err
		}
		if !shown {
			report.FitSummary(std.out, f.Tables)
			stale(std.out, f)
		}
		answered, open := a.all(f)
		if err := file.Write(c.Context, []file.Output{{Path: f.Path, Data: f.Text()}}, []string{path}); err != nil {
			return unwritten{err, "layout"}
		}
		std.wrote()
		if answered > 0 && open == 0 {
			continue
		}
		saved(std.out, f, open)
		return nil
	}
}

// stale shows what the layout file names and the book does not have.
func stale(w io.Writer, f *ingest.Fitting) {
	if len(f.Stale) > 0 {
		fmt.Fprintln(w)
	}
	for _, p := range f.Stale {
		fmt.Fprintln(w, report.Line(words.Of(p)))
	}
}

// saved shows what is not read, and that the layout is saved with so many open
// questions.
func saved(w io.Writer, f *ingest.Fitting, open int) {
	for i, line := range f.Unread() {
		if i == 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintln(w, words.Plain(line))
	}
	key := "fit.saved"
	if open > 0 {
		key = "fit.saved.open"
	}
	fmt.Fprintln(w, words.Plain(templates.Text(key, "path", f.Path, "open", open)))
}

// interactive reports whether somebody can answer.
func interactive(in io.Reader) bool {
	f, ok := in.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// asker puts questions to a person; where nobody can answer it only shows them.
type asker struct {
	in  *bufio.Reader
	out io.Writer
	ask bool
	// said are the questions that were answered; what "none" leaves open is not
	// asked again.
	said map[string]bool
}

// all puts every question, and returns how many were answered, and how many are
// open.
func (a asker) all(f *ingest.Fitting) (answered, open int) {
	for i := range f.Questions {
		q := &f.Questions[i]
		text := q.At.String() + ": " + templates.Text("ask."+q.Key, q.Args...)
		if q.Closed() || a.said[text] {
			continue
		}
		fmt.Fprintln(a.out, words.Plain("\n"+text))
		for k, choice := range q.Choices {
			fmt.Fprintln(a.out, words.Plain(fmt.Sprintf("  %d  %s", k+1, choice)))
		}
		if !a.ask {
			open++
			continue
		}
		if k, ok := a.choice(len(q.Choices)); ok {
			f.Answer(i, k)
			a.said[text] = true
			answered++
		} else {
			open++
		}
	}
	return answered, open
}

// choice reads a number from 1 to n; an empty line leaves the question open.
func (a asker) choice(n int) (int, bool) {
	for {
		fmt.Fprint(a.out, templates.Text("fit.prompt", "n", n)+" ")
		line, err := a.in.ReadString('\n')
		line = strings.TrimSpace(line)
		if k, bad := strconv.Atoi(line); bad == nil && k >= 1 && k <= n {
			return k - 1, true
		}
		if line == "" || err != nil {
			return 0, false
		}
	}
}
