package file

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// Fault is a file that cannot be written: Key is the code of its words
// ("file.<Key>" and "file.<Key>.hint"), Args, names and values in turn, fill them.
type Fault struct {
	Path string
	Key  string
	Args []any
	Err  error
}

// Error is a plain line for logs; the words for makers come from templates.
func (f *Fault) Error() string {
	if f.Err != nil {
		return f.Path + ": " + f.Key + ": " + f.Err.Error()
	}
	return f.Path + ": " + f.Key
}

// Unwrap is the cause.
func (f *Fault) Unwrap() error { return f.Err }

// What is refused, whatever the system would allow.
var (
	errIsInput = errors.New("write-input")
	errNotFile = errors.New("write-not-file")
	errBusy    = errors.New("write-busy")
)

// causes are the words for what the system says, the first that fits.
var causes = []struct {
	err error
	key string
}{
	{errIsInput, "write-input"},
	{errNotFile, "write-not-file"},
	{errBusy, "write-busy"},
	{syscall.ENOSPC, "write-full"},
	{syscall.EDQUOT, "write-full"},
	{syscall.EFBIG, "write-full"},
	{syscall.EROFS, "write-denied"},
	{fs.ErrPermission, "write-denied"},
	{syscall.ENAMETOOLONG, "write-long"},
	{syscall.ENOTDIR, "write-no-folder"},
	{fs.ErrExist, "write-no-folder"},
	{syscall.ELOOP, "write-not-file"},
	{syscall.EISDIR, "write-not-file"},
}

// failed says what went wrong with a file; the end of the context is no fault.
func failed(path string, err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	for _, c := range causes {
		if errors.Is(err, c.err) {
			return &Fault{Path: path, Key: c.key, Err: plain(err)}
		}
	}
	return &Fault{Path: path, Key: "write-failed", Args: []any{"what", plain(err)}, Err: plain(err)}
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
