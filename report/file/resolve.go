package file

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// resolve follows a link to the file that will be replaced, and checks that it may be.
func resolve(path string, inputs []string) (place, error) {
	target := path
	if link, err := filepath.EvalSymlinks(path); err == nil {
		target = link
	} else if _, lerr := os.Lstat(path); lerr == nil {
		return place{}, errNotFile
	}
	info, err := os.Stat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return place{target: target}, nil
	}
	if err != nil {
		return place{}, err
	}
	if !info.Mode().IsRegular() {
		return place{}, errNotFile
	}
	for _, in := range inputs {
		if i, err := os.Stat(in); err == nil && os.SameFile(i, info) {
			return place{}, errIsInput
		}
	}
	return place{target: target, mode: info.Mode().Perm(), exists: true}, nil
}
