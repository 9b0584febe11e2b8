package file

import (
	"context"
	"os"
	"time"
)

// lock is a folder that is held for one run; without f it is not held, because
// its file system has no locks.
type lock struct{ f *os.File }

func (l *lock) held() bool { return l.f != nil }

// release gives the folder free; the system does so too when a run dies.
func (l *lock) release() {
	if l.f != nil {
		l.f.Close()
	}
}

// A run writes for well below a second; one that is held up longer than
// patience is not waited for.
const (
	patience = 10 * time.Second
	pause    = 10 * time.Millisecond
)

// takeFolder waits until no other run writes into a folder.
func takeFolder(ctx context.Context, dir string) (*lock, error) {
	f, err := os.Open(dir)
	if err != nil {
		return &lock{}, nil // a folder may be writable but not readable
	}
	for end := time.Now().Add(patience); ; {
		taken, err := tryLock(f)
		switch {
		case err != nil:
			f.Close()
			return &lock{}, nil
		case taken:
			return &lock{f}, nil
		case time.Now().After(end):
			f.Close()
			return nil, errBusy
		}
		select {
		case <-ctx.Done():
			f.Close()
			return nil, ctx.Err()
		case <-time.After(pause):
		}
	}
}
