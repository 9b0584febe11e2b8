//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package file

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

// Runs that write at once into one folder leave the set of one of them, and no
// run sweeps away what another is writing.
func TestRunsAtOnceDoNotMix(t *testing.T) {
	dir := t.TempDir()
	names := []string{"a.pdf", "b.xlsx", "c.json"}
	for range 20 {
		var all sync.WaitGroup
		for run := range 4 {
			all.Go(func() {
				var outputs []Output
				for _, name := range names {
					outputs = append(outputs, Output{filepath.Join(dir, name), bytes.Repeat([]byte{byte('0' + run)}, 5_000)})
				}
				if err := Write(context.Background(), outputs, nil); err != nil {
					t.Error(err)
				}
			})
		}
		all.Wait()
		first := read(t, filepath.Join(dir, names[0]))
		for _, name := range names {
			if got := read(t, filepath.Join(dir, name)); got != first || len(got) != 5_000 {
				t.Fatalf("%s is of run %.1s, %s of run %.1s", names[0], first, name, got)
			}
		}
		onlyFiles(t, dir, names...)
	}
}

// A run that waits for its turn can be stopped.
func TestWaitingCanBeStopped(t *testing.T) {
	dir := t.TempDir()
	held, err := takeFolder(context.Background(), dir)
	if err != nil || !held.held() {
		t.Fatalf("%+v, %v", held, err)
	}
	defer held.release()
	ctx, cancel := context.WithTimeout(context.Background(), 3*pause)
	defer cancel()
	start := time.Now()
	err = Write(ctx, []Output{{filepath.Join(dir, "a"), nil}}, nil)
	if !errors.Is(err, context.DeadlineExceeded) || time.Since(start) > patience/2 {
		t.Errorf("%v after %v", err, time.Since(start))
	}
	if _, err := os.Stat(filepath.Join(dir, "a")); err == nil {
		t.Error("the file was written while another run held the folder")
	}
}
