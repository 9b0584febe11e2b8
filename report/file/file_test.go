package file

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// keyOf is the code of a fault's words.
func keyOf(err error) string {
	var f *Fault
	if errors.As(err, &f) {
		return f.Key
	}
	return ""
}

func onlyFiles(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if !slices.Equal(got, want) {
		t.Errorf("the folder holds %q, want %q", got, want)
	}
}

func TestWriteCreatesFoldersAndReplaces(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "new", "a.pdf")
	for _, text := range []string{"one", "two"} {
		if err := Write(context.Background(), []Output{{path, []byte(text)}}, nil); err != nil {
			t.Fatal(err)
		}
		if got := read(t, path); got != text {
			t.Errorf("file holds %q, want %q", got, text)
		}
	}
	onlyFiles(t, filepath.Dir(path), "a.pdf")
}

func TestWriteRefusesTheBook(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "book.xlsx")
	put(t, book, "book")
	hard, soft := filepath.Join(dir, "hard.pdf"), filepath.Join(dir, "soft.pdf")
	if err := errors.Join(os.Link(book, hard), os.Symlink(book, soft)); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{book, hard, soft} {
		err := Write(context.Background(), []Output{{path, []byte("report")}}, []string{book})
		if keyOf(err) != "write-input" {
			t.Errorf("writing to %s: %v", filepath.Base(path), err)
		}
	}
	if got := read(t, book); got != "book" {
		t.Errorf("the book now holds %q", got)
	}
	onlyFiles(t, dir, "book.xlsx", "hard.pdf", "soft.pdf")
}

func TestWriteRefusesFoldersAndDanglingLinks(t *testing.T) {
	dir := t.TempDir()
	dangling := filepath.Join(dir, "dangling.pdf")
	if err := os.Symlink(filepath.Join(dir, "nowhere"), dangling); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{dir, dangling} {
		if err := Write(context.Background(), []Output{{path, []byte("x")}}, nil); keyOf(err) != "write-not-file" {
			t.Errorf("writing to %s: %v", path, err)
		}
	}
}

func TestWriteKeepsALink(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.pdf"), filepath.Join(dir, "link.pdf")
	put(t, real, "old")
	if err := os.Symlink(real, link); err != nil {
		t.Fatal(err)
	}
	if err := Write(context.Background(), []Output{{link, []byte("new")}}, nil); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&os.ModeSymlink == 0 || read(t, real) != "new" {
		t.Errorf("the link is %v, the file holds %q", info.Mode(), read(t, real))
	}
}

func TestWriteStopsWhenCancelled(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.pdf")
	put(t, path, "old")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := Write(ctx, []Output{{path, []byte("new")}}, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled write: %v", err)
	}
	if got := read(t, path); got != "old" {
		t.Errorf("file holds %q", got)
	}
}

func TestWriteKeepsTheModeOfAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.pdf")
	put(t, path, "old")
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := Write(context.Background(), []Output{{path, []byte("new")}}, nil); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
}
