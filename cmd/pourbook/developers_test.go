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
	text := fromTree(t, "DEVELOPERS.md")
	var code strings.Builder
	for _, p := range packages(t) {
		for _, name := range p.TestGoFiles {
			b, err := os.ReadFile(filepath.Join(p.Dir, name))
			if err != nil {
				t.Fatal(err)
			}
			code.Write(b)
		}
		if path := strings.TrimPrefix(p.ImportPath, "pourbook/"); !strings.Contains(text, "`"+path+"`") {
			t.Errorf("DEVELOPERS.md does not name the package %s", path)
		}
	}
	names := testName.FindAllStringSubmatch(text, -1)
	if len(names) < 15 {
		t.Fatalf("only %d tests are named", len(names))
	}
	_, checked, _ := strings.Cut(text, "\n## What is checked against what\n")
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
// but tests asks or imports what is there for them.
func TestOutsideProgramsAreInstalledAndNamed(t *testing.T) {
	for _, name := range []string{"DEVELOPERS.md", ".ci/run"} {
		text := fromTree(t, name)
		for _, p := range oracle.All {
			for _, pkg := range strings.Fields(p.Packages) {
				if !strings.Contains(text, pkg) {
					t.Errorf("%s does not name %s", name, pkg)
				}
			}
		}
	}
	for _, p := range packages(t) {
		for _, forTests := range []string{"compute/oracle", "compute/book/booktest", "ingest/grid/gridtest"} {
			if slices.Contains(p.Imports, "pourbook/"+forTests) {
				t.Errorf("%s imports %s outside its tests", p.ImportPath, forTests)
			}
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
