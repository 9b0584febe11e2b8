package file

import (
	"crypto/rand"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// disk is what writing asks of the file system.
type disk interface {
	makeFolder(dir string) error
	create(dir string) (temporary, error)
	rename(from, to string) error
}

// temporary is a file that is being written.
type temporary interface {
	io.WriteCloser
	Name() string
	Chmod(mode fs.FileMode) error
	Sync() error
}

type realDisk struct{}

func (realDisk) makeFolder(dir string) error  { return os.MkdirAll(dir, 0o755) }
func (realDisk) rename(from, to string) error { return os.Rename(from, to) }

// create makes a new temporary file, with the mode that a new document has.
func (realDisk) create(dir string) (temporary, error) {
	for try := 0; ; try++ {
		f, err := os.OpenFile(filepath.Join(dir, tmpMark+rand.Text()[:tmpLetters]), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		switch {
		case err == nil:
			return f, nil
		case try == 9 || !errors.Is(err, fs.ErrExist):
			return nil, err
		}
	}
}

// The name of every temporary file of ours is tmpMark and letters and digits.
const (
	tmpMark    = ".pourbook-"
	tmpLetters = 12
)

func isTemporary(name string) bool {
	rest, ok := strings.CutPrefix(name, tmpMark)
	return ok && len(rest) == tmpLetters && strings.Trim(rest, "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567") == ""
}

// stale is the age from which a temporary file of ours was left by a run that
// was killed, where no lock tells.
const stale = time.Hour

// sweep removes temporary files that killed runs left behind: of any age when
// the folder is locked, so that no other run is at work in it.
func sweep(dir string, locked bool) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !isTemporary(e.Name()) || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && (locked || time.Since(info.ModTime()) > stale) {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}
