package main

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"
	"unicode/utf8"

	"pourbook/compute/book"
	"pourbook/compute/oracle"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest"
	"pourbook/report"
	"pourbook/templates"
)

func TestHelpFitsEightyColumns(t *testing.T) {
	commands := []string{"pourbook help", "pourbook --help"}
	for _, p := range topics() {
		if !p.file {
			commands = append(commands, "pourbook help "+p.name)
		}
	}
	for _, name := range commandNames(newApp(streams{})) {
		commands = append(commands, "pourbook "+name+" --help")
	}
	for _, command := range commands {
		text := output(t, command)
		if strings.Count(text, "\n") < 8 {
			t.Errorf("%s says only: %s", command, text)
		}
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 80 {
				t.Errorf("%s has a line of %d letters: %s", command, n, line)
			}
			for _, lacking := range []string{"[help.", "[cmd.", "[flag.", "{"} {
				if strings.Contains(line, lacking) {
					t.Errorf("%s lacks words: %s", command, line)
				}
			}
		}
	}
}

// Help is the command's wherever it is asked for.
func TestHelpBesideABook(t *testing.T) {
	want := output(t, "pourbook plan --help")
	for _, command := range []string{"pourbook plan none.xlsx --help", "pourbook plan -h none.xlsx", "pourbook plan --market x none.xlsx -help"} {
		if got := output(t, command); got != want {
			t.Errorf("%s says %q", command, got)
		}
	}
}

func TestHelpOfTheProgramFitsAScreen(t *testing.T) {
	if n := strings.Count(output(t, "pourbook --help"), "\n"); n > 24 {
		t.Errorf("%d lines", n)
	}
}

// Every example that a command's help gives works on the demo book.
func TestExamplesOfHelpWork(t *testing.T) {
	inDemoFolder(t)
	n := 0
	for _, c := range newApp(streams{}).Commands {
		given := examples(c)
		if len(given) == 0 {
			t.Errorf("%s has no example", c.Name)
		}
		for _, e := range given {
			n++
			if strings.TrimSpace(output(t, e)) == "" {
				t.Errorf("%s prints nothing", e)
			}
		}
	}
	if n < 12 {
		t.Errorf("only %d examples", n)
	}
}

// The manual page is sound to the typesetter, and has every command and flag.
func TestManualIsSoundAndWhole(t *testing.T) {
	page := output(t, "pourbook help man")
	for _, c := range newApp(streams{}).Commands {
		if !strings.Contains(page, "\n.SS \"pourbook "+c.Name+"\"\n") {
			t.Errorf("no part on %s", c.Name)
		}
		for _, f := range flagTerms(c.Flags, true) {
			if !strings.Contains(page, "\n.B \""+strings.ReplaceAll(f.Name, "-", `\-`)+"\"\n") {
				t.Errorf("no %s of %s", f.Name, c.Name)
			}
		}
	}
	oracle.Need(t, oracle.Groff)
	cmd := exec.Command("groff", "-man", "-ww", "-Tascii")
	cmd.Stdin = strings.NewReader(page)
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil || complaints.Len() > 0 {
		t.Fatalf("groff: %v\n%s", err, complaints.String())
	}
	if !strings.Contains(string(out), "product's list price") {
		t.Error("the page does not show the help of price")
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
	_, rest, _ := strings.Cut(fromTree(t, "README.md"), "\n| figure | how it comes about |\n|---|---|\n")
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
