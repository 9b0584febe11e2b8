package main

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// What a command prints about the demo book is one screen of 24 lines and 80
// columns, of plain signs in rows that a screen reader reads from left to right.
func TestSummariesFitAScreen(t *testing.T) {
	inDemoFolder(t)
	for _, command := range []string{
		"pourbook --help",
		"pourbook check demo.xlsx",
		"pourbook fit demo.xlsx",
		"pourbook cost demo.xlsx --today 2026-11-05",
		"pourbook cost demo.xlsx --from 2026-06-01 --to 2026-08-31 --today 2026-11-05",
		"pourbook plan demo.xlsx --today 2026-11-05",
		"pourbook plan demo.xlsx --by 2026-12-05 --units QC9-C=24,QC9-N=12 --today 2026-11-05",
		`pourbook plan demo.xlsx --today 2026-11-05 --what-if "expected units=150"`,
		"pourbook price demo.xlsx --all --today 2026-11-05",
		`pourbook price demo.xlsx --jar "Tin 4 oz" --today 2026-11-05`,
		`pourbook price demo.xlsx --compare "Tin 4 oz,Tumbler 14 oz" --today 2026-11-05`,
		"pourbook starter mine.xlsx",
	} {
		text := output(t, command)
		if n := strings.Count(text, "\n"); n > 24 || n == 0 {
			t.Errorf("%s prints %d lines:\n%s", command, n, text)
		}
		for line := range strings.Lines(text) {
			line = strings.TrimSuffix(line, "\n")
			if n := utf8.RuneCountInString(line); n > 80 {
				t.Errorf("%s prints a line of %d columns: %s", command, n, line)
			}
			if strings.ContainsAny(line, "\t\x1b") || strings.ContainsFunc(line, func(r rune) bool { return r >= 0x2500 && r < 0x2800 }) {
				t.Errorf("%s prints tabs, colors or drawn lines: %q", command, line)
			}
		}
	}
}
