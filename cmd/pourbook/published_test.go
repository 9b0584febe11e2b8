package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/oracle"
)

// Published figures as whole books: each file of testdata/outside/published adds
// rows to the tables of base.txt, after "[only]" to a Products table without
// base's; it names its source and says what a job has to find, as
// "path | value | within".
func TestPublishedFiguresAsBooks(t *testing.T) {
	folder := outside(t, "published")
	files, err := filepath.Glob(filepath.Join(folder, "*.txt"))
	if err != nil || len(files) < 15 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	base := readTables(t, filepath.Join(folder, "base.txt"))
	cases := 0
	for _, path := range files {
		if name := strings.TrimSuffix(filepath.Base(path), ".txt"); name != "base" {
			t.Run(name, func(t *testing.T) { cases += checkPublished(t, base, readTables(t, path)) })
		}
	}
	oracle.Cases(t, cases)
}

// part is a table of such a file, or what is expected of a job.
type part struct {
	name string
	rows []string
}

func readTables(t *testing.T, path string) []part {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var out []part
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		name, heading := strings.CutPrefix(line, "[")
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case heading:
			out = append(out, part{name: strings.TrimSuffix(name, "]")})
		default:
			out[len(out)-1].rows = append(out[len(out)-1].rows, repeated(line)...)
		}
	}
	return out
}

// repeated is the row "3 x ROW" three times.
func repeated(line string) []string {
	count, row, found := strings.Cut(line, " x ")
	if n, err := strconv.Atoi(count); found && err == nil {
		return slices.Repeat([]string{row}, n)
	}
	return []string{line}
}

// checkPublished returns how many figures it compared.
func checkPublished(t *testing.T, base, own []part) int {
	t.Helper()
	var text strings.Builder
	for _, p := range base {
		rows := slices.Clone(p.rows)
		for _, o := range own {
			switch {
			case o.name == p.name:
				rows = append(rows, o.rows...)
			case o.name == "only" && p.name == "Products":
				rows = rows[:1]
			}
		}
		fmt.Fprintf(&text, "[%s]\n%s\n\n", p.name, strings.Join(rows, "\n"))
	}
	book := filepath.Join(t.TempDir(), "book.xlsx")
	bookOf(t, book, text.String(), nil)
	cases := 0
	for _, p := range own {
		command, expect := strings.CutPrefix(p.name, "expect ")
		if !expect {
			continue
		}
		job, flags, _ := strings.Cut(command, " ")
		got := flat(t, "", output(t, "pourbook "+job+` "`+book+`" `+flags+" --json --no-documents"))
		for _, row := range p.rows {
			cases++
			checkRow(t, got, row)
		}
	}
	if cases == 0 {
		t.Error("nothing is expected")
	}
	return cases
}

func checkRow(t *testing.T, got map[string]float64, row string) {
	t.Helper()
	f := strings.Split(row, " | ")
	if len(f) != 3 {
		t.Fatal(row)
	}
	want, err1 := strconv.ParseFloat(f[1], 64)
	within, err2 := strconv.ParseFloat(f[2], 64)
	if err1 != nil || err2 != nil {
		t.Fatal(row)
	}
	if v, known := got["/"+f[0]]; !known || !(math.Abs(v-want) <= within) {
		t.Errorf("%s: %v (known %v), published %v", f[0], v, known, want)
	}
}
