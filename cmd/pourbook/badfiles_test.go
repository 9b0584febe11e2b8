//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pourbook/ingest/grid/gridtest"
)

// badFile is a file that is no sound book: as bytes, or made by put. The
// program says words of it; status is exitFile where nothing else is said.
type badFile struct {
	name   string // of the file; book.xlsx where nothing is said
	data   []byte
	put    func(path string) error
	words  string
	status int
}

// badFiles is the catalogue, by what is wrong.
func badFiles(t *testing.T) map[string]badFile {
	t.Helper()
	good := goodBook(t)
	p := gridtest.Of(t, good)
	files := map[string]badFile{}
	for _, some := range []map[string]badFile{
		notThere(good), otherKinds(t, good, p), cutFiles(t, good, p), badParts(p), badRows(p), badRelations(p), partsAmiss(p), oddBooks(good, p),
	} {
		for what, f := range some {
			if _, twice := files[what]; twice {
				t.Errorf("%s is there twice", what)
			}
			files[what] = f
		}
	}
	return files
}

// Every file of the catalogue gets one clear line and its exit status, costs
// little, and stays as it was; nothing is written.
func TestCatalogueOfBadFiles(t *testing.T) {
	files := badFiles(t)
	if len(files) < 80 {
		t.Errorf("only %d files", len(files))
	}
	for what, f := range files {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			if f.name == "" {
				f.name = "book.xlsx"
			}
			path := filepath.Join(dir, f.name)
			if f.put == nil {
				f.put = func(path string) error { return os.WriteFile(path, f.data, 0o600) }
			}
			if err := f.put(path); err != nil {
				t.Fatal(err)
			}
			r := finish(t, start(t, dir, "check", f.name))
			if f.status == exitBook {
				if r.status != exitBook && r.status != exitDone || strings.Contains(r.err+r.out, "goroutine") {
					t.Errorf("exit status %d: %s", r.status, r.err)
				}
			} else {
				r.one(t, exitFile, f.name, f.words)
				plainWords(t, r.err)
			}
			r.cheap(t)
			if f.data != nil {
				if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, f.data) {
					t.Errorf("the file has changed: %v", err)
				}
			}
			if entries, err := os.ReadDir(dir); err != nil || len(entries) > 1 {
				t.Errorf("%d files stand in the folder, %v", len(entries), err)
			}
		})
	}
}

// plainWords fails where a line says what only a programmer understands.
func plainWords(t *testing.T, line string) {
	t.Helper()
	for _, w := range []string{"XML syntax", "EOF", "zip:", "flate", "0x", "nil", "unmarshal", "[file.", "{", "runtime", "grid"} {
		if strings.Contains(line, w) {
			t.Errorf("%q says %q", line, w)
		}
	}
}

// What a hostile file may cost.
const (
	mostTime   = 10 * time.Second // of processor; the machine may have other work
	mostMemory = 500 << 20
)

// cheap fails where a run cost more than a hostile file may.
func (e ended) cheap(t *testing.T) {
	t.Helper()
	if e.used > mostTime || e.memory > mostMemory {
		t.Errorf("it cost %v and %d MB", e.used, e.memory>>20)
	}
}

func (e ended) cost() string {
	return fmt.Sprintf("%v, %d MB, %q", e.used, e.memory>>20, e.err)
}
