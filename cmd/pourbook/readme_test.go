package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourbook/compute/problem"
	"pourbook/compute/unit"
	"pourbook/ingest"
	"pourbook/report"
)

var consoleBlock = regexp.MustCompile("(?s)```console\n(.*?)```")

// Every example of the README is run on the demo book and prints what the
// README says.
func TestReadmeExamples(t *testing.T) {
	text := fromTree(t, "README.md")
	inDemoFolder(t)
	examples := 0
	got := consoleBlock.ReplaceAllStringFunc(text, func(block string) string {
		var out strings.Builder
		for line := range strings.Lines(consoleBlock.FindStringSubmatch(block)[1]) {
			if command, ok := strings.CutPrefix(line, "$ "); ok {
				examples++
				out.WriteString(line + output(t, strings.TrimSpace(command)))
			}
		}
		return "```console\n" + out.String() + "```"
	})
	if examples < 3 {
		t.Fatalf("the README has %d examples", examples)
	}
	keeps(t, "README.md", got)
}

// The README's table of tables is that of the program.
func TestReadmeTables(t *testing.T) {
	text := fromTree(t, "README.md")
	const top = "| table | a row needs | is read too |\n|---|---|---|\n"
	before, rest, ok := strings.Cut(text, top)
	if !ok {
		t.Fatal("the README has no table of tables")
	}
	_, after, _ := strings.Cut(rest, "\n## ")
	var rows strings.Builder
	for _, table := range ingest.AcceptedTables() {
		var needs, either, more []string
		for _, f := range table.Fields {
			switch {
			case f.Needed:
				needs = append(needs, f.Name)
			case f.Either:
				either = append(either, f.Name)
			default:
				more = append(more, f.Name)
			}
		}
		if len(either) > 0 {
			needs = append(needs, strings.Join(either, " or "))
		}
		fmt.Fprintf(&rows, "| %s | %s | %s |\n", table.Table, strings.Join(needs, ", "), strings.Join(more, ", "))
	}
	keeps(t, "README.md", before+top+rows.String()+"\n## "+after)
}

// The README shows every picture that is kept, and no other.
func TestReadmeShowsThePictures(t *testing.T) {
	text := fromTree(t, "README.md")
	var shown []string
	for _, m := range regexp.MustCompile(`src="testdata/pictures/([^"]+)"`).FindAllStringSubmatch(text, -1) {
		shown = append(shown, m[1])
	}
	var want []string
	for _, p := range pictures {
		want = append(want, p.name)
	}
	if !slices.Equal(shown, want) {
		t.Errorf("the README shows %v, want %v", shown, want)
	}
}

// inDemoFolder goes to a folder that holds the demo book.
func inDemoFolder(t *testing.T) {
	t.Helper()
	data, err := report.DemoBook()
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("demo.xlsx", data, 0o644); err != nil {
		t.Fatal(err)
	}
}

var argument = regexp.MustCompile(`"[^"]*"|\S+`)

// output is what a command prints.
func output(t *testing.T, command string) string {
	t.Helper()
	args := argument.FindAllString(command, -1)
	for i := range args {
		args[i] = strings.Trim(args[i], `"`)
	}
	var out, errs bytes.Buffer
	if code := run(context.Background(), args, streams{in: strings.NewReader(""), out: &out, err: &errs}); code != 0 || errs.Len() > 0 {
		t.Fatalf("%s: exit status %d\n%s", command, code, errs.String())
	}
	return out.String()
}

// The README's lists are those of the program.
func TestReadmeLists(t *testing.T) {
	text := fromTree(t, "README.md")
	var codes []string
	for _, c := range problem.Codes {
		codes = append(codes, string(c))
	}
	for what, names := range map[string][]string{"problem code": codes, "unit": unit.Names(), "recipe unit": unit.RateNames()} {
		for _, name := range names {
			if !slices.Contains([]string{"drops", "min", "h"}, name) && !strings.Contains(text, name) {
				t.Errorf("the README does not name the %s %s", what, name)
			}
		}
	}
	if !strings.Contains(text, "go test ./...") {
		t.Error("the README does not give the test command")
	}
}
