package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/urfave/cli/v2"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/problem"
	"pourbook/ingest"
	"pourbook/report"
	"pourbook/report/file"
	"pourbook/report/words"
	"pourbook/templates"
)

// Flag names that several commands share.
const (
	flagOut    = "out"
	flagJSON   = "json"
	flagNoDocs = "no-documents"
	flagQuiet  = "quiet"
	flagLayout = "layout"
	flagToday  = "today"
	flagSales  = "sales"
	flagPaper  = "paper"
)

func str(name string) cli.Flag {
	return &cli.StringFlag{Name: name, Usage: templates.Text("flag." + name)}
}

func list(name string) cli.Flag {
	return &cli.StringSliceFlag{Name: name, Usage: templates.Text("flag." + name)}
}

func yes(name string) cli.Flag {
	return &cli.BoolFlag{Name: name, Usage: templates.Text("flag." + name)}
}

// readFlags are those of every command that reads a book.
func readFlags() []cli.Flag {
	return []cli.Flag{str(flagToday), list(flagSales), str(flagLayout), yes(flagJSON), yes(flagQuiet)}
}

// documentFlags are those of every command that writes documents.
func documentFlags() []cli.Flag {
	return append([]cli.Flag{str(flagOut), str(flagPaper), yes(flagNoDocs)}, readFlags()...)
}

// command makes a command from the words under "cmd.<name>".
func command(name string, flags []cli.Flag, run func(*cli.Context) error) *cli.Command {
	return &cli.Command{
		Name: name, Flags: flags, Action: run, OnUsageError: usageError, HideHelpCommand: true,
		Usage:       templates.Text("cmd." + name),
		UsageText:   templates.Text("cmd." + name + ".usage"),
		Description: templates.Text("cmd." + name + ".about"),
	}
}

// job is a command at work on a book.
type job struct {
	std   streams
	c     *cli.Context
	book  *book.Book
	today day.Date
	dir   string // where documents go
	paper string
}

// open reads the book that the command line names.
func open(c *cli.Context, std streams, args int) (*job, error) {
	if err := wantArgs(c, args); err != nil {
		return nil, err
	}
	today, err := dateFlag(c, flagToday, day.FromTime(time.Now()))
	if err != nil {
		return nil, err
	}
	path := c.Args().First()
	o := ingest.Options{Sales: c.StringSlice(flagSales), Layout: c.String(flagLayout), Today: today}
	if !c.Bool(flagQuiet) {
		o.Progress = std.bar.start()
	}
	b, err := ingest.Read(c.Context, path, o)
	if err != nil {
		return nil, err
	}
	j := &job{std: std, c: c, book: b, today: today, dir: filepath.Dir(path)}
	if dir := c.String(flagOut); dir != "" {
		j.dir = dir
	}
	return j, j.setPaper()
}

func wantArgs(c *cli.Context, n int) error {
	switch {
	case c.NArg() == 0:
		return usagef("cli.no-book", "usage", c.Command.UsageText)
	case c.NArg() < n:
		return usagef("cli.too-few", "usage", c.Command.UsageText)
	case c.NArg() > n:
		return usagef("cli.too-many", "what", c.Args().Get(n), "usage", c.Command.UsageText)
	}
	return nil
}

// papers are the sizes that documents can have.
var papers = []string{"Letter", "A4"}

func (j *job) setPaper() error {
	asked := j.c.String(flagPaper)
	if asked == "" {
		asked = j.book.Settings.Text(book.Paper).V
	}
	for _, p := range papers {
		if cell.Fold(p) == cell.Fold(asked) {
			j.paper = p
			return nil
		}
	}
	if j.c.String(flagPaper) == "" {
		j.paper = papers[0]
		return nil
	}
	return usagef("cli.paper", "paper", asked)
}

func dateFlag(c *cli.Context, name string, other day.Date) (day.Date, error) {
	s := c.String(name)
	if s == "" {
		return other, nil
	}
	d, err := day.Parse(s)
	if err != nil {
		return day.None, usagef("cli.bad-date", "flag", name, "read", s)
	}
	return d, nil
}

// options are those of the documents.
func (j *job) options() report.Options {
	return report.Options{Paper: j.paper, Today: j.today, Shop: j.book.Settings.Text(book.ShopName).V}
}

// finish writes documents and results: JSON or a summary on standard output.
// Building the documents may add problems, of texts that cannot be printed.
func (j *job) finish(result any, problems *problem.List, build func() ([]file.Output, error), say func(io.Writer)) error {
	var written []string
	if !j.c.Bool(flagNoDocs) {
		docs, err := build()
		if err != nil {
			return err
		}
		for i := range docs {
			docs[i].Path = filepath.Join(j.dir, docs[i].Path)
			written = append(written, docs[i].Path)
		}
		if err := file.Write(j.c.Context, docs, append(j.c.StringSlice(flagSales), j.book.Path)); err != nil {
			return err
		}
		j.std.wrote()
	}
	if j.c.Bool(flagJSON) {
		return j.json(result, *problems)
	}
	if j.c.Bool(flagQuiet) {
		j.std.bar.stop()
		if report.Wrong(*problems) {
			report.Found(j.std.err, j.book, *problems, len(written) > 0, j.named())
		}
		return nil
	}
	return j.print(func(w io.Writer) {
		report.Read(w, j.book, j.c.Args().First())
		say(w)
		report.Found(w, j.book, *problems, len(written) > 0, j.named())
		report.Files(w, written)
	})
}

// named is the book as a command line names it.
func (j *job) named() string { return quoteAll([]string{j.c.Args().First()}) }

// json writes a result with its problems in words.
func (j *job) json(result any, problems problem.List) error {
	j.std.results()
	var failed error
	err := j.print(func(w io.Writer) { failed = report.JSON(w, result, words.All(problems)) })
	return cmp.Or(err, failed)
}

// print collects what say writes, and reports a failure to write it.
func (j *job) print(say func(io.Writer)) error {
	j.std.bar.stop()
	w := &sticky{w: j.std.out}
	say(w)
	return w.err
}

// sticky keeps the first error, so that a sequence of prints is checked once.
type sticky struct {
	w     io.Writer
	err   error
	used  bool
	files bool // files have been written
	only  bool // what is printed is in none of them
}

// unseen reports whether nobody may see what was printed, and it is all there is.
func (s *sticky) unseen() bool { return s.used && (s.only || !s.files) && s.err == nil && nowhere(s.w) }

func (s *sticky) Write(p []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	s.used = true
	var n int
	n, s.err = s.w.Write(p)
	return n, s.err
}

// cannot is the answer where the job cannot be done: what stops it, and where
// to see all that is wrong with the book.
func (j *job) cannot(err error, problems problem.List) error {
	problems = suggest(j.book, problems)
	if j.c.Bool(flagJSON) {
		if err := j.json(struct{}{}, problems); err != nil {
			return err
		}
		return stop{err}
	}
	j.std.bar.stop()
	book := map[string]bool{}
	for _, p := range words.All(j.book.Problems) {
		book[report.Line(p)] = true
	}
	for _, p := range words.All(problems) {
		if line := report.Line(p); p.Severity == problem.Error && (!book[line] || p.Code == problem.MissingTable) {
			fmt.Fprintln(j.std.err, line)
		}
	}
	if j.book.Problems.HasErrors() {
		return stop{errors.New(templates.Text("cli.see-check", "book", j.named()))}
	}
	return stop{nil}
}
