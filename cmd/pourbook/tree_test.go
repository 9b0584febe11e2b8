package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// root is the folder of the tree, wherever a test goes later.
var root = func() string {
	path, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		panic(err)
	}
	return path
}()

// inTree is the path of a file of the tree, which is named with slashes.
func inTree(name string) string { return filepath.Join(root, filepath.FromSlash(name)) }

// fromTree is what a file of the tree holds.
func fromTree(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(inTree(name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// keeps reports where a file of the tree does not hold a text; with -update it
// is made to.
func keeps(t testing.TB, name, text string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(inTree(name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(fromTree(t, name), text); d != "" {
		t.Errorf("%s is not what the program says (go test ./cmd/pourbook -run %s -update):\n%s", name, t.Name(), d)
	}
}
