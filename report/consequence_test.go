package report

import (
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

func TestCheckTellsCausesBeforeConsequences(t *testing.T) {
	b := &book.Book{Name: "mine", Tables: []book.Table{
		{Table: book.TProducts, Rows: 2, LeftOut: 2}, {Table: book.TSales, Rows: 3, LeftOut: 3}, {Table: book.TJars, Rows: 1},
	}}
	var l problem.List
	add := func(of problem.Severity, code problem.Code, sheet string, row int, args ...any) {
		l.Add(problem.Problem{Severity: of, Code: code, At: cell.Ref{Sheet: sheet, Row: row, Col: 3}, Args: args, Amount: 10})
	}
	add(problem.Note, problem.UnreadSheet, "Aside", 1, "sheet", "Aside")
	for row := range 3 {
		add(problem.Error, problem.UnknownProduct, "Sold", row+2, "name", strings.Repeat("A", row+1))
	}
	add(problem.Error, problem.UnknownJar, "Sold", 9, "name", "no such jar")
	var plain, inked strings.Builder
	CheckSummary(&plain, b, l, false)
	CheckSummary(&inked, b, l, true)
	jar, follows, note := strings.Index(plain.String(), "no such jar"), strings.Index(plain.String(), "3 names"), strings.Index(plain.String(), "note ")
	if jar < 0 || follows < jar || note < follows || strings.Contains(plain.String(), `"AA"`) || strings.Contains(plain.String(), "\x1b") {
		t.Errorf("said:\n%s", plain.String())
	}
	if !strings.Contains(plain.String(), "30.00") {
		t.Errorf("the money of the rows is not said:\n%s", plain.String())
	}
	bare := strings.NewReplacer("\x1b[1;31m", "", "\x1b[0m", "").Replace(inked.String())
	if bare != plain.String() || bare == inked.String() {
		t.Errorf("color is not only a second signal:\n%s", inked.String())
	}
}
