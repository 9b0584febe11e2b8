package file

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// failing is a disk whose step n fails. A write that fails has written half.
type failing struct {
	realDisk
	n, step int
	err     error
	done    []string // the steps that were asked for
}

func (d *failing) fails(step string) bool {
	d.step++
	d.done = append(d.done, step)
	return d.step == d.n
}

func (d *failing) makeFolder(dir string) error {
	if d.fails("folder") {
		return d.err
	}
	return d.realDisk.makeFolder(dir)
}

func (d *failing) create(dir string) (temporary, error) {
	if d.fails("create") {
		return nil, d.err
	}
	f, err := d.realDisk.create(dir)
	return &failingFile{f, d}, err
}

func (d *failing) rename(from, to string) error {
	if d.fails("rename") {
		return d.err
	}
	return d.realDisk.rename(from, to)
}

type failingFile struct {
	temporary
	disk *failing
}

func (f *failingFile) Write(b []byte) (int, error) {
	if f.disk.fails("write") {
		n, _ := f.temporary.Write(b[:len(b)/2])
		return n, f.disk.err
	}
	return f.temporary.Write(b)
}

func (f *failingFile) Sync() error {
	if f.disk.fails("sync") {
		return f.disk.err
	}
	return f.temporary.Sync()
}

func (f *failingFile) Close() error {
	err := f.temporary.Close()
	if f.disk.fails("close") {
		return f.disk.err
	}
	return err
}

// Wherever writing fails, every file is the old or the complete new one, all
// are old unless a rename failed, and nothing is left beside them.
func TestEveryStepThatFails(t *testing.T) {
	names := []string{"a.pdf", "b.xlsx", "c.json"}
	disk := &failing{err: syscall.EIO}
	steps := 1
	for n := 0; n <= steps; n++ {
		dir := t.TempDir()
		var outputs []Output
		for _, name := range names {
			put(t, filepath.Join(dir, name), "old "+name)
			outputs = append(outputs, Output{filepath.Join(dir, name), []byte("new " + name)})
		}
		disk = &failing{n: n, err: &fs.PathError{Op: "write", Path: filepath.Join(dir, tmpMark+"ABCDEFGHIJKL"), Err: syscall.EIO}}
		err := writeAll(context.Background(), disk, outputs, nil)
		if n == 0 {
			steps = len(disk.done)
		}
		if failed := keyOf(err) == "write-failed" && errors.Is(err, syscall.EIO); failed != (n > 0) {
			t.Errorf("step %d: %v", n, err)
		}
		onlyFiles(t, dir, names...)
		fresh := 0
		for _, name := range names {
			switch got := read(t, filepath.Join(dir, name)); got {
			case "new " + name:
				fresh++
			case "old " + name:
			default:
				t.Errorf("step %d: %s holds %q", n, name, got)
			}
		}
		if last := disk.done[len(disk.done)-1]; n > 0 && last != "rename" && fresh > 0 || n == 0 && fresh != len(names) {
			t.Errorf("step %d, a %s, failed: %d files are new", n, last, fresh)
		}
	}
	if want := 6 * len(names); steps != want {
		t.Errorf("%d steps, want %d: a folder, a new file, a write, a sync, a close and a rename for each", steps, want)
	}
}

// Whenever the run is stopped, the same holds.
func TestStoppedAtEveryStep(t *testing.T) {
	for n := 1; n <= 6; n++ {
		dir := t.TempDir()
		path := filepath.Join(dir, "a.pdf")
		put(t, path, "old")
		ctx, cancel := context.WithCancel(context.Background())
		err := writeAll(ctx, &stopping{n: n, stop: cancel}, []Output{{path, []byte("new")}}, nil)
		want := "old"
		if err == nil {
			want = "new"
		} else if !errors.Is(err, context.Canceled) {
			t.Errorf("stopped at step %d: %v", n, err)
		}
		if got := read(t, path); got != want || n < 3 && err == nil {
			t.Errorf("stopped at step %d: the file holds %q, %v", n, got, err)
		}
		onlyFiles(t, dir, "a.pdf")
		cancel()
	}
}

// stopping is a disk at whose step n the run is stopped.
type stopping struct {
	realDisk
	n, step int
	stop    func()
}

func (d *stopping) at() {
	if d.step++; d.step == d.n {
		d.stop()
	}
}

func (d *stopping) makeFolder(dir string) error { d.at(); return d.realDisk.makeFolder(dir) }

func (d *stopping) rename(from, to string) error { d.at(); return d.realDisk.rename(from, to) }

func (d *stopping) create(dir string) (temporary, error) {
	d.at()
	return d.realDisk.create(dir)
}

func TestFaultsHaveTheirWords(t *testing.T) {
	for key, err := range map[string]error{
		"write-full":      &fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC},
		"write-denied":    &fs.PathError{Op: "open", Path: "x", Err: syscall.EROFS},
		"write-long":      &fs.PathError{Op: "open", Path: "x", Err: syscall.ENAMETOOLONG},
		"write-no-folder": &fs.PathError{Op: "mkdir", Path: "x", Err: syscall.ENOTDIR},
		"write-failed":    &os.LinkError{Op: "rename", Old: "x", New: "y", Err: syscall.EIO},
	} {
		got := failed("a.pdf", err)
		if keyOf(got) != key || got.Error() != fmt.Sprintf("a.pdf: %s: %v", key, errors.Unwrap(err)) {
			t.Errorf("%v is %v, want %s", err, got, key)
		}
	}
	if err := failed("a.pdf", context.Canceled); !errors.Is(err, context.Canceled) || keyOf(err) != "" {
		t.Errorf("a stop is %v", err)
	}
}
