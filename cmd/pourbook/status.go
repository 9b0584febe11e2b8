package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"pourbook/ingest/grid"
	"pourbook/report/file"
	"pourbook/report/words"
	"pourbook/templates"
)

// unwritten is a file that could not be written, and what it was if no document
// of a job: layout, starter or demo.
type unwritten struct {
	error
	what string
}

func (u unwritten) Unwrap() error { return u.error }

// status tells the user what went wrong, and returns the exit status for it.
func (s streams) status(ctx context.Context, err error) int {
	var (
		fault *grid.Fault
		write *file.Fault
		end   stopped
		u     usage
		st    stop
	)
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, syscall.EPIPE):
		return exitFile
	case ctx.Err() != nil || errors.Is(err, context.Canceled):
		fmt.Fprintln(s.err, templates.Text("cli.stopped"))
		if errors.As(context.Cause(ctx), &end) {
			return end.status()
		}
		return exitStopped
	case errors.As(err, &fault):
		fmt.Fprintln(s.err, words.Plain(words.Fault(fault.Path, fault.Key, fault.Args)))
		return exitFile
	case errors.As(err, &write):
		elsewhere := "file.write.elsewhere"
		if w := (unwritten{}); errors.As(err, &w) {
			elsewhere += "." + w.what
		}
		args := append([]any{"elsewhere", templates.Text(elsewhere)}, write.Args...)
		fmt.Fprintln(s.err, words.Plain(words.Fault(write.Path, write.Key, args)))
		return exitFile
	case errors.As(err, &st):
		if st.error != nil {
			fmt.Fprintln(s.err, words.Plain(st.Error()))
		}
		return exitBook
	case errors.As(err, &u):
		fmt.Fprintln(s.err, words.Plain(templates.Text("cli.usage-error", "what", u.Error())))
		return exitUsage
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = errors.New(path.Path + ": " + path.Err.Error())
	}
	fmt.Fprintln(s.err, words.Plain(err.Error()))
	return exitFile
}
