package ingest

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/problem"
)

// Blank rows, further columns and sheets, another order of rows and columns,
// and other names of sheets change nothing.
func TestFormChangesNothing(t *testing.T) {
	want := sorted(plain(readBook(t, cleanBook()...)))
	rapid.Check(t, func(rt *rapid.T) {
		var sheets []sheet
		for i, s := range cleanBook() {
			s.rows = disguise(rt, s)
			s.name = rapid.SampledFrom([]string{s.name, fmt.Sprintf("Sheet%d", i+1), fmt.Sprintf("%s %d", s.name, 2000+i), "Tab " + string(rune('a'+i))}).Draw(rt, "name")
			sheets = append(sheets, s)
		}
		for i := range rapid.IntRange(0, 2).Draw(rt, "more sheets") {
			sheets = append(sheets, sheet{name: fmt.Sprintf("Scratch %d", i), rows: "call the printer|555\nlids?|maybe\n\n7|8|9"})
		}
		sheets = rapid.Permutation(sheets).Draw(rt, "order")
		b := readBook(t, sheets...)
		for _, p := range b.Problems.Sorted() {
			if p.Severity == problem.Error || p.Severity == problem.Warning && p.Code != problem.UnknownChannel {
				rt.Errorf("%s %s %s %s %v", p.Severity, p.At, p.Code, p.Say, p.Args)
			}
		}
		if got := sorted(plain(b)); !slices.Equal(got, want) {
			for i := range got {
				if i < len(want) && got[i] != want[i] {
					rt.Errorf("got %q, want %q", got[i], want[i])
				}
			}
		}
	})
}

func sorted(text string) []string {
	lines := strings.Split(text, "\n")
	slices.Sort(lines)
	return lines
}

// disguise shuffles a sheet's rows and columns, and puts blank rows, further
// columns and a title in.
func disguise(rt *rapid.T, s sheet) string {
	lines := strings.Split(strings.Trim(s.rows, "\n"), "\n")
	width := 0
	var table [][]string
	for _, l := range lines {
		table = append(table, strings.Split(l, "|"))
		width = max(width, len(table[len(table)-1]))
	}
	order := make([]int, width)
	for i := range order {
		order[i] = i
	}
	order = rapid.Permutation(order).Draw(rt, "columns")
	body := rapid.Permutation(table[1:]).Draw(rt, "rows")
	extra := rapid.IntRange(-1, width).Draw(rt, "extra column")
	var out []string
	if rapid.Bool().Draw(rt, "title") {
		out = append(out, "|This and that", "")
	}
	for i, row := range append([][]string{table[0]}, body...) {
		var cells []string
		for j, k := range order {
			if j == extra {
				cells = append(cells, []string{"Zodiac", "Leo", "", "Ram"}[min(i, 3)])
			}
			if k < len(row) {
				cells = append(cells, row[k])
			} else {
				cells = append(cells, "")
			}
		}
		out = append(out, strings.Join(cells, "|"))
		if rapid.IntRange(0, 4).Draw(rt, "blank") == 0 {
			out = append(out, "", "")
		}
	}
	return strings.Join(out, "\n")
}
