package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"pourbook/compute/book"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest"
	"pourbook/report"
	"pourbook/templates"
)

func TestHelpFitsEightyColumns(t *testing.T) {
	names := []string{""}
	for _, p := range topics {
		names = append(names, p.name)
	}
	for _, name := range names {
		text := output(t, strings.TrimSpace("pourbook help "+name))
		if strings.Count(text, "\n") < 8 {
			t.Errorf("help %s says only: %s", name, text)
		}
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 80 {
				t.Errorf("help %s has a line of %d letters: %s", name, n, line)
			}
			if strings.Contains(line, "[help.") || strings.Contains(line, "{") {
				t.Errorf("help %s lacks words: %s", name, line)
			}
		}
	}
}

func TestHelpExplainsEverySettingProblemAndUnit(t *testing.T) {
	for _, d := range book.Defs {
		if !templates.Has("help.setting." + string(d.Name)) {
			t.Errorf("no help on setting %s", d.Name)
		}
		if report.DefaultOf(d) == "" {
			t.Errorf("help says no default of %s", d.Name)
		}
	}
	for _, c := range problem.Codes {
		if !templates.Has("help.problem." + string(c)) {
			t.Errorf("no help on problem %s", c)
		}
	}
	for _, name := range unit.RateNames() {
		if !templates.Has("help.rate." + name) {
			t.Errorf("no help on recipe unit %s", name)
		}
	}
}

// Every spelling that help gives is read as the unit that it stands beside.
func TestHelpGivesSpellingsThatAreRead(t *testing.T) {
	for _, name := range unit.Names() {
		if len(unit.Spellings(name)) == 0 {
			t.Errorf("no other spelling of %s", name)
		}
		for _, s := range unit.Spellings(name) {
			if u, ok := unit.Find(s); !ok || u.Name != name {
				t.Errorf("%s is read as %q, not as %s", s, u.Name, name)
			}
		}
	}
}

func TestHelpKnowsEveryTableAndHeading(t *testing.T) {
	shown := map[string]bool{}
	for _, table := range ingest.AcceptedTables() {
		for _, f := range table.Fields {
			shown[string(table.Table)+"."+f.Name] = true
		}
	}
	for _, prefix := range []string{"heading.", "weak."} {
		for _, key := range templates.Keys(prefix) {
			if !shown[strings.TrimPrefix(key, prefix)] {
				t.Errorf("help does not show %s", key)
			}
		}
	}
}

// The README has the same formulas, word for word.
func TestHelpAndReadmeHaveTheSameFormulas(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(readme), "\n| figure | how it comes about |\n|---|---|\n")
	table, _, _ := strings.Cut(rest, "\n\n")
	var want []string
	for _, f := range formulas {
		name, text, _ := strings.Cut(templates.Text("help.formula."+f), " = ")
		want = append(want, "| "+name+" | "+text+" |")
	}
	if got := strings.Join(want, "\n"); got != table {
		t.Errorf("help has\n%s\nthe README has\n%s", got, table)
	}
}

// Every row of the starter book is marked as an example, apart from those of
// Settings and Seasons, which hold the defaults.
func TestStarterRowsAreExamples(t *testing.T) {
	for _, s := range templates.StarterBook() {
		if s.Name == string(book.TSettings) || s.Name == string(book.TSeasons) {
			continue
		}
		if len(s.Rows) != 1 || !strings.Contains(strings.Join(s.Rows[0], "|"), "Example ") || len(s.Rows[0]) != len(s.Head) {
			t.Errorf("%s: %q under %q", s.Name, s.Rows, s.Head)
		}
		for name := range s.Hints {
			if !strings.Contains("|"+strings.Join(s.Head, "|")+"|", "|"+name+"|") {
				t.Errorf("%s has a hint on %s, which is no heading", s.Name, name)
			}
		}
	}
}
