package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var testName = regexp.MustCompile("`(Test[A-Za-z]+)`")

// DEVELOPERS.md names tests and packages that exist.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	var code strings.Builder
	for _, p := range packages(t) {
		tests, _ := filepath.Glob(filepath.Join(p.Dir, "*_test.go"))
		for _, name := range tests {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			code.Write(b)
		}
		if path := strings.TrimPrefix(p.ImportPath, "pourbook/"); !strings.Contains(string(text), "`"+path+"`") {
			t.Errorf("DEVELOPERS.md does not name the package %s", path)
		}
	}
	names := testName.FindAllStringSubmatch(string(text), -1)
	if len(names) < 15 {
		t.Fatalf("only %d tests are named", len(names))
	}
	for _, n := range names {
		if !strings.Contains(code.String(), "func "+n[1]+"(") {
			t.Errorf("there is no %s", n[1])
		}
	}
}
