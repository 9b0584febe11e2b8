// Package file writes documents so that a reader ever sees the old file or the
// complete new one: beside the target, then renamed into place.
package file

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Output is a document to write.
type Output struct {
	Path string
	Data []byte
}

// tmpMark is in the name of every temporary file of ours.
const tmpMark = ".pourbook-"

// stale is the age from which a temporary file of ours was left by a run that
// was killed.
const stale = time.Hour

// Write writes all outputs. It refuses to write over any of the inputs, by
// whatever name. On an error the outputs written before it stay, the one it
// concerns is as it was.
func Write(ctx context.Context, outputs []Output, inputs []string) error {
	for _, o := range outputs {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := write(ctx, o, inputs); err != nil {
			return fmt.Errorf("%s: %w", o.Path, plain(err))
		}
	}
	return nil
}

// ErrIsInput is the refusal to write over a file that was read.
var ErrIsInput = errors.New("this is the book itself, which is never written to")

// ErrNotFile is the refusal to write over a folder or a device.
var ErrNotFile = errors.New("this is not a file that can be replaced")

func write(ctx context.Context, o Output, inputs []string) error {
	target, mode, err := resolve(o.Path, inputs)
	if err != nil {
		return err
	}
	dir := filepath.Dir(target)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	sweep(dir)
	tmp, err := os.CreateTemp(dir, tmpMark+"*")
	if err != nil {
		return err
	}
	if err := fill(tmp, o.Data, mode); err != nil {
		return errors.Join(err, os.Remove(tmp.Name()))
	}
	if err := ctx.Err(); err != nil {
		return errors.Join(err, os.Remove(tmp.Name()))
	}
	if err := os.Rename(tmp.Name(), target); err != nil {
		return errors.Join(err, os.Remove(tmp.Name()))
	}
	syncDir(dir)
	return nil
}

func fill(tmp *os.File, data []byte, mode fs.FileMode) error {
	_, err := tmp.Write(data)
	if err == nil {
		err = tmp.Chmod(mode)
	}
	if err == nil {
		err = tmp.Sync()
	}
	return errors.Join(err, tmp.Close())
}

// resolve follows a link to the file that will be replaced, and checks that it may be.
func resolve(path string, inputs []string) (string, fs.FileMode, error) {
	target := path
	if link, err := filepath.EvalSymlinks(path); err == nil {
		target = link
	} else if _, lerr := os.Lstat(path); lerr == nil {
		return "", 0, ErrNotFile
	}
	info, err := os.Stat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return target, 0o644, nil
	}
	if err != nil {
		return "", 0, err
	}
	if !info.Mode().IsRegular() {
		return "", 0, ErrNotFile
	}
	for _, in := range inputs {
		if i, err := os.Stat(in); err == nil && os.SameFile(i, info) {
			return "", 0, ErrIsInput
		}
	}
	return target, info.Mode().Perm(), nil
}

// sweep removes temporary files that a killed run left behind.
func sweep(dir string) {
	names, _ := filepath.Glob(filepath.Join(dir, tmpMark+"*"))
	for _, name := range names {
		if info, err := os.Lstat(name); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > stale {
			os.Remove(name)
		}
	}
}

// syncDir makes the rename last; file systems that cannot are let be.
func syncDir(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()
		d.Close()
	}
}

// plain takes the temporary name out of an error's text.
func plain(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// Name is text as part of a file name: letters, digits, "-" and "_" stay, all
// else becomes "-"; at most 60 runes.
func Name(s string) string {
	var b strings.Builder
	n := 0
	for _, r := range strings.TrimSpace(s) {
		if n++; n > 60 {
			break
		}
		switch {
		case r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r > 0xbf:
			b.WriteRune(r)
		default:
			b.WriteByte('-')
		}
	}
	out := strings.Trim(b.String(), "-")
	for strings.Contains(out, "--") {
		out = strings.ReplaceAll(out, "--", "-")
	}
	if out == "" {
		return "unnamed"
	}
	return out
}
