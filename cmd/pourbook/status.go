package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"pourbook/ingest/grid"
	"pourbook/report/words"
	"pourbook/templates"
)

// status tells the user what went wrong, and returns the exit status for it.
func (s streams) status(ctx context.Context, err error) int {
	var (
		fault *grid.Fault
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
		return exitStopped
	case errors.As(err, &fault):
		fmt.Fprintln(s.err, words.Fault(fault.Path, fault.Key, fault.Args))
		return exitFile
	case errors.As(err, &st):
		if st.error != nil {
			fmt.Fprintln(s.err, words.Plain(st.Error()))
		}
		return exitBook
	case errors.As(err, &u):
		fmt.Fprintln(s.err, templates.Text("cli.usage-error", "what", u.Error()))
		return exitUsage
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		fmt.Fprintln(s.err, path.Path+": "+path.Err.Error())
	} else {
		fmt.Fprintln(s.err, err)
	}
	return exitFile
}
