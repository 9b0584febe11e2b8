//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package file

import (
	"errors"
	"os"
)

func tryLock(*os.File) (bool, error) { return false, errors.ErrUnsupported }
