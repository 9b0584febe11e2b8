//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package file

import (
	"errors"
	"os"
	"syscall"
)

// tryLock takes a lock that other runs respect; an error means that there are
// no locks here.
func tryLock(f *os.File) (taken bool, err error) {
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, syscall.EWOULDBLOCK):
			return false, nil
		case !errors.Is(err, syscall.EINTR):
			return false, err
		}
	}
}
