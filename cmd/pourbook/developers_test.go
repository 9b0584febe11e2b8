package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourbook/compute/oracle"
)

var testName = regexp.MustCompile("`(Test[A-Za-z0-9]+)`")

// DEVELOPERS.md names tests and packages that exist.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	var code strings.Builder
	for _, p := range packages(t) {
		for _, name := range p.TestGoFiles {
			b, err := os.ReadFile(filepath.Join(p.Dir, name))
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
	_, checked, _ := strings.Cut(string(text), "\n## What is checked against what\n")
	for _, n := range names {
		_, body, found := strings.Cut(code.String(), "\nfunc "+n[1]+"(")
		body, _, _ = strings.Cut(body, "\n}\n")
		outside := strings.Contains(checked, "`"+n[1]+"`")
		if !found || outside && !strings.Contains(body, "oracle.Cases(t, ") {
			t.Errorf("%s is not there (%v) or does not hold the table to its cases", n[1], found)
		}
	}
}

// CI installs every program that tests ask, DEVELOPERS.md names it, and nothing
// but tests asks.
func TestOutsideProgramsAreInstalledAndNamed(t *testing.T) {
	for _, name := range []string{"DEVELOPERS.md", filepath.Join(".ci", "run")} {
		text, err := os.ReadFile(filepath.Join("..", "..", name))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range oracle.All {
			for _, pkg := range strings.Fields(p.Packages) {
				if !strings.Contains(string(text), pkg) {
					t.Errorf("%s does not name %s", name, pkg)
				}
			}
		}
	}
	for _, p := range packages(t) {
		if slices.Contains(p.Imports, "pourbook/compute/oracle") {
			t.Errorf("%s imports compute/oracle outside its tests", p.ImportPath)
		}
	}
}

// A test is skipped only by compute/oracle, where a program is missing and CI is
// not set.
func TestNothingElseIsSkipped(t *testing.T) {
	skips := 0
	for _, p := range packages(t) {
		for _, name := range slices.Concat(p.GoFiles, p.TestGoFiles) {
			text, err := os.ReadFile(filepath.Join(p.Dir, name))
			if err != nil {
				t.Fatal(err)
			}
			for i, line := range strings.Split(string(text), "\n") {
				if !skip.MatchString(line) {
					continue
				}
				if skips++; p.ImportPath != "pourbook/compute/oracle" {
					t.Errorf("%s/%s:%d skips a test: %s", p.ImportPath, name, i+1, strings.TrimSpace(line))
				}
			}
		}
	}
	if skips != 2 {
		t.Errorf("%d places skip a test or look for a program, not the two of compute/oracle", skips)
	}
}

var skip = regexp.MustCompile(`\.(Skip|SkipNow|Skipf|LookPath)\(`)
