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

// Tests are skipped where something is missing, which CI does not let pass, or
// where asked to be short, or where root is above permissions; for nothing else.
func TestNothingElseIsSkipped(t *testing.T) {
	skips := 0
	for _, p := range packages(t) {
		tests, _ := filepath.Glob(filepath.Join(p.Dir, "*_test.go"))
		for _, name := range tests {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(string(text), "\n")
			for i, line := range lines {
				if !skip.MatchString(line) {
					continue
				}
				if skips++; !allowed.MatchString(strings.Join(lines[max(0, i-3):i], "\n")) {
					t.Errorf("%s:%d skips a test: %s", name, i+1, strings.TrimSpace(line))
				}
			}
		}
	}
	if skips == 0 {
		t.Error("no skip was found")
	}
}

var (
	skip    = regexp.MustCompile(`\bt\.Skip|\.LookPath\(`)
	allowed = regexp.MustCompile(`testing\.Short\(\)|os\.Geteuid\(\) == 0|os\.Getenv\("CI"\) != ""`)
)
