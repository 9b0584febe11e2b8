package file

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// notOurs are names that only look like those of our temporary files.
var notOurs = []string{
	".pourbook-", ".pourbook-1", ".pourbook-ABCDEFGHIJK", ".pourbook-ABCDEFGHIJKLM", ".pourbook-abcdefghijkl", ".pourbook-ABCDEFGHIJK1",
	"x.pourbook-ABCDEFGHIJKL", ".pourbook-notes.txt",
}

func TestWriteSweepsOnlyItsOwnFiles(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, tmpMark+"ABCDEFGHIJK2")
	put(t, left, "half")
	for _, name := range notOurs {
		put(t, filepath.Join(dir, name), "theirs")
	}
	folder, link := tmpMark+"FOLDERFOLDER", tmpMark+"LINKLINKLINK"
	if err := os.Mkdir(filepath.Join(dir, folder), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(left, filepath.Join(dir, link)); err != nil {
		t.Fatal(err)
	}
	if err := Write(context.Background(), []Output{{filepath.Join(dir, "a"), nil}}, nil); err != nil {
		t.Fatal(err)
	}
	for _, name := range append(notOurs, folder, link, "a") {
		if _, err := os.Lstat(filepath.Join(dir, name)); err != nil {
			t.Errorf("%s is gone", name)
		}
	}
	if _, err := os.Lstat(left); err == nil {
		t.Error("what a killed run left is still there")
	}
}

// Where no lock tells whether its run is at work, a file's age has to.
func TestSweepWithoutALock(t *testing.T) {
	dir := t.TempDir()
	old, fresh := filepath.Join(dir, tmpMark+"AAAAAAAAAAAA"), filepath.Join(dir, tmpMark+"BBBBBBBBBBBB")
	put(t, old, "")
	put(t, fresh, "")
	past := time.Now().Add(-2 * stale)
	if err := os.Chtimes(old, past, past); err != nil {
		t.Fatal(err)
	}
	sweep(dir, false)
	onlyFiles(t, dir, filepath.Base(fresh))
}

func TestTemporaryNamesAreKnown(t *testing.T) {
	f, err := realDisk{}.create(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	if name := filepath.Base(f.Name()); !isTemporary(name) {
		t.Errorf("%s is not taken for ours", name)
	}
	for _, name := range notOurs {
		if isTemporary(name) {
			t.Errorf("%s is taken for ours", name)
		}
	}
}
