package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"pourbook/compute/oracle"
)

// mounted is a small file system of its own. Only root may mount one.
func mounted(t *testing.T, options string) string {
	t.Helper()
	oracle.Need(t, oracle.Tmpfs)
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, options); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

// On a disk of any size the earlier documents stay as they were, or all are new.
func TestFullDisk(t *testing.T) {
	book := bookIn(t, t.TempDir())
	all := wholeEditions(t, book)
	tally := map[string]int{}
	step := 32
	if oracle.Brief() {
		step = 128
	}
	for size := 64; size <= 512; size += step {
		out := mounted(t, fmt.Sprintf("size=%dk", size))
		for i, paper := range papersInTurn {
			before := contents(t, out)
			r := finish(t, start(t, "", costOf(book, out, "--quiet", "--paper", paper)...))
			want := all[i]
			if r.status != exitDone {
				want = before
				r.one(t, exitFile, out, "disk is full")
			}
			if got := contents(t, out); !maps.Equal(got, want) {
				t.Errorf("%d KB, run %d, exit status %d: %d files that are not as they should be", size, i, r.status, len(got))
			}
			tally[fmt.Sprint("run ", i, " ended ", r.status)]++
		}
	}
	if len(tally) != 4 {
		t.Errorf("only %v came up", tally)
	}
}

// A file system without a free file is full too.
func TestNoFileLeftOnTheDisk(t *testing.T) {
	out := mounted(t, "size=4m,nr_inodes=2") // the folder and one file
	r := finish(t, start(t, "", costOf(bookIn(t, t.TempDir()), out)...))
	r.one(t, exitFile, out, "disk is full")
	if got := contents(t, out); len(got) > 0 {
		t.Errorf("%d files are left", len(got))
	}
}

func TestReadOnlyDisk(t *testing.T) {
	out := mounted(t, "size=4m")
	if err := syscall.Mount("", out, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	book := bookIn(t, t.TempDir())
	finish(t, start(t, "", costOf(book, out)...)).one(t, exitFile, out, "may not be written")
	finish(t, start(t, "", costOf(book, filepath.Join(out, "new"))...)).one(t, exitFile, out, "may not be written")
	layout := filepath.Join(out, "layout.yaml")
	finish(t, start(t, "", "fit", book, "--layout", layout)).one(t, exitFile, layout, "say --layout and a file")
	finish(t, start(t, "", "starter", filepath.Join(out, "new.xlsx"))).one(t, exitFile, out, "say the path of a file")
}

// Documents that are links to another file system are replaced there.
func TestDocumentsOnAnotherDisk(t *testing.T) {
	far, out := mounted(t, "size=4m"), t.TempDir()
	book := bookIn(t, t.TempDir())
	all := wholeEditions(t, book)
	for name := range all[0] {
		if err := os.WriteFile(filepath.Join(far, name), []byte("old"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(filepath.Join(far, name), filepath.Join(out, name)); err != nil {
			t.Fatal(err)
		}
	}
	if r := finish(t, start(t, "", costOf(book, out, "--quiet", "--paper", papersInTurn[0])...)); r.status != exitDone {
		t.Fatal(r.err)
	}
	for name := range all[0] {
		if info, err := os.Lstat(filepath.Join(out, name)); err != nil || info.Mode()&os.ModeSymlink == 0 {
			t.Errorf("%s is no link any more: %v", name, err)
		}
	}
	if !maps.Equal(contents(t, far), all[0]) || !maps.Equal(contents(t, out), all[0]) {
		t.Error("the documents are not the new ones")
	}
}
