package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"pourbook/compute/fault"
	"pourbook/ingest"
	"pourbook/report/words"
	"pourbook/templates"
)

// Exit statuses.
const (
	exitDone    = 0
	exitBook    = 1 // the book has problems that stop the job
	exitUsage   = 2 // the command line is wrong
	exitFile    = 3 // a file could not be read or written
	exitFault   = 70
	exitStopped = 130
)

// version is that of the next release; build information completes it.
const version = "0.1.0"

// streams are the program's connections to the outside.
type streams struct {
	in       io.Reader
	out, err io.Writer
	bar      *progress // on err
}

// wrote is for a command that has written files: what it prints is not all there is.
func (s streams) wrote() {
	if out, ok := s.out.(*sticky); ok {
		out.files = true
	}
}

// results is for a command that prints results which stand in no file.
func (s streams) results() {
	if out, ok := s.out.(*sticky); ok {
		out.only = true
	}
}

// run is the whole program: it returns the exit status.
func run(ctx context.Context, args []string, std streams) (code int) {
	std.bar = newProgress(std.err)
	out := &sticky{w: std.out}
	std.out = out
	defer func() {
		std.bar.stop()
		if p := recover(); p != nil {
			fmt.Fprintln(std.err, words.Plain(brokenLine(p, out.files)))
			if os.Getenv("POURBOOK_DEBUG") != "" {
				fmt.Fprintf(std.err, "%s\n", debug.Stack())
			}
			code = exitFault
		}
	}()
	app := newApp(std)
	if last := len(args) - 1; args[last] == completeWord {
		complete(std.out, app, args[1:last])
		return exitDone
	}
	err := app.RunContext(ctx, flagsFirst(app, args))
	if out.err != nil {
		err = out.err // whatever came of it: help that cannot be printed is no usage error
	}
	std.bar.stop()
	if out.unseen() {
		fmt.Fprintln(std.err, templates.Text("cli.nowhere"))
	}
	return std.status(ctx, err)
}

// brokenLine says that the program is at fault, what it had in hand, and
// whether files were written before.
func brokenLine(p any, files bool) string {
	left := templates.Text("cli.fault.nothing")
	if files {
		left = templates.Text("cli.fault.files")
	}
	say := func(key string, args ...any) string { return templates.Text(key, append(args, "left", left)...) }
	switch p := p.(type) {
	case ingest.Broken:
		if p.At.None() {
			return say("cli.fault.file", "what", p.What, "path", p.Path)
		}
		return say("cli.fault.row", "what", p.What, "path", p.Path, "sheet", p.At.Sheet, "row", p.At.Row)
	case fault.Fault:
		if p.At.None() {
			return say("cli.fault.work", "what", p.What, "name", p.Name)
		}
		return say("cli.fault.cell", "what", p.What, "name", p.Name, "place", p.At)
	}
	return say("cli.fault", "what", p)
}

func newApp(std streams) *cli.App {
	cli.HelpPrinter = printUsage
	return &cli.App{
		Name:                      "pourbook",
		Usage:                     templates.Text("cli.usage"),
		Description:               templates.Text("cli.description"),
		Version:                   buildVersion(),
		Reader:                    std.in,
		Writer:                    std.out,
		ErrWriter:                 std.err,
		Flags:                     []cli.Flag{cli.HelpFlag},
		HideHelpCommand:           true,
		Suggest:                   true,
		DisableSliceFlagSeparator: true,
		ExitErrHandler:            func(*cli.Context, error) {},
		OnUsageError:              usageError,
		Action:                    noCommand,
		Commands: []*cli.Command{
			costCommand(std), planCommand(std), priceCommand(std), checkCommand(std), fitCommand(std), whyCommand(std), starterCommand(std),
			demoCommand(std), helpCommand(std),
		},
	}
}

// buildVersion is the version with what the build is known by: the commit and
// its day where there is one, and the compiler.
func buildVersion() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return version
	}
	known := map[string]string{}
	for _, s := range info.Settings {
		known[s.Key] = s.Value
	}
	var about []string
	if commit := known["vcs.revision"]; len(commit) >= 12 {
		day, _, _ := strings.Cut(known["vcs.time"], "T")
		about = append(about, templates.Text("cli.commit", "commit", commit[:12], "day", day))
	}
	if known["vcs.modified"] == "true" {
		about = append(about, templates.Text("cli.modified"))
	}
	about = append(about, info.GoVersion, known["GOOS"]+"/"+known["GOARCH"])
	return version + " (" + strings.Join(about, ", ") + ")"
}

// usage is an error of the command line.
type usage struct{ error }

// stop is a job that cannot be done for the book's problems, which are listed already.
type stop struct{ error }

func usagef(key string, args ...any) error { return usage{errors.New(templates.Text(key, args...))} }

// undefined begins the flag library's words for a flag that it does not know.
const undefined = "flag provided but not defined: -"

// usageError says what is wrong with the flags; a misspelled one gets the
// nearest that there is.
func usageError(c *cli.Context, err error, _ bool) error {
	name, ok := strings.CutPrefix(err.Error(), undefined)
	if !ok {
		return usage{err}
	}
	name = strings.TrimLeft(name, "-")
	var known []string
	for _, f := range c.Command.Flags {
		known = append(known, f.Names()...)
	}
	if near := ingest.Nearest(name, known); near != "" {
		return usagef("cli.no-flag.near", "name", name, "near", near)
	}
	return usagef("cli.no-flag", "name", name)
}

func noCommand(c *cli.Context) error {
	if c.Args().Present() {
		name := c.Args().First()
		near := ingest.Nearest(name, commandNames(c.App))
		switch {
		case isBook(name):
			return usagef("cli.no-command.book", "name", name, "book", quoteAll([]string{name}))
		case near == "":
			return usagef("cli.no-command", "name", name)
		}
		return usagef("cli.no-command.near", "name", name, "near", near)
	}
	return cli.ShowAppHelp(c)
}

func commandNames(app *cli.App) []string {
	var out []string
	for _, c := range app.Commands {
		out = append(out, c.Name)
	}
	return out
}

// flagsFirst moves flags that stand behind a file name before it, where the
// flag library looks for them. Help is asked of the command, whatever else stands
// on the line.
func flagsFirst(app *cli.App, args []string) []string {
	if len(args) < 3 {
		return args
	}
	cmd := app.Command(args[1])
	if cmd == nil {
		return args
	}
	var flags, names []string
	for rest := args[2:]; len(rest) > 0; rest = rest[1:] {
		arg := rest[0]
		switch {
		case arg == "--":
			names = append(names, rest[1:]...)
			rest = rest[:1]
		case len(arg) < 2 || arg[0] != '-':
			names = append(names, arg)
		case slices.Contains(cli.HelpFlag.Names(), strings.TrimLeft(arg, "-")):
			return append(args[:2:2], arg)
		default:
			flags = append(flags, arg)
			if takesValue(cmd, arg) && len(rest) > 1 {
				flags = append(flags, rest[1])
				rest = rest[1:]
			}
		}
	}
	return append(append(append(args[:2:2], flags...), "--"), names...)
}

func takesValue(cmd *cli.Command, arg string) bool {
	name := strings.TrimLeft(arg, "-")
	if strings.Contains(name, "=") {
		return false
	}
	for _, f := range cmd.Flags {
		for _, n := range f.Names() {
			if n == name {
				_, isBool := f.(*cli.BoolFlag)
				return !isBool
			}
		}
	}
	return false
}
