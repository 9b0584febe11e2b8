package words

import (
	"fmt"
	"testing"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"a\x1b[31mb": "a [31mb", "a\u202eb": "a b", "line\nbreak": "line break", "bad \xff": "bad \ufffd", "Crème": "Crème",
	} {
		if got := Plain(in); got != want {
			t.Errorf("Plain(%q) = %q, want %q", in, got, want)
		}
	}
}

func at(row, col int, code problem.Code, args ...any) problem.Problem {
	return problem.Problem{
		Severity: problem.Error, Code: code, At: cell.Ref{Sheet: "Sales", Row: row, Col: col}, Args: args, Amount: 10, HasAmount: true,
	}
}

// Problems that repeat in a column stand behind the first of them with their
// money; each unknown name is a group of its own.
func TestGrouped(t *testing.T) {
	var l problem.List
	for row := range 3 {
		l.Add(at(row+2, 4, problem.BadNumber, "read", row))
		l.Add(at(row+2, 2, problem.UnknownProduct, "name", []string{"A", "B", "A"}[row]))
	}
	groups := Grouped(l)
	if len(groups) != 3 {
		t.Fatalf("%d groups", len(groups))
	}
	for i, want := range []struct {
		place string
		more  int
		money float64
	}{{"Sales!B2", 1, 20}, {"Sales!D2", 2, 30}, {"Sales!B3", 0, 10}} {
		if g := groups[i]; g.Place() != want.place || g.More != want.more || g.Money != want.money {
			t.Errorf("group %d: %s and %d more, %v", i, g.Place(), g.More, g.Money)
		}
	}
}

// What goes when another problem is mended stands behind the others of its severity.
func TestConsequencesComeLast(t *testing.T) {
	var l problem.List
	for _, p := range []struct {
		of  problem.Severity
		say string
	}{{problem.Note, "from-above"}, {problem.Warning, "left-out-row"}, {problem.Error, "left-out"}, {problem.Warning, "no-channel"}, {problem.Error, "near"}, {problem.Error, "unit-cost"}} {
		code := problem.MissingField
		if p.say == "left-out" || p.say == "near" {
			code = problem.UnknownMaterial
		}
		l.Add(problem.Problem{Severity: p.of, Code: code, Say: p.say, At: cell.Ref{Sheet: "Sales", Row: len(l.Sorted()) + 2, Col: 1}})
	}
	var got []string
	for _, g := range BySeverity(Grouped(l)) {
		got = append(got, g.Place())
	}
	if want := "[Sales!A6 Sales!A4 Sales!A7 Sales!A5 Sales!A3 Sales!A2]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %s", got, want)
	}
}

func TestWhatCostsMostIsPressing(t *testing.T) {
	groups := []Group{
		{Problem: Problem{Severity: problem.Warning, Message: "d"}, Money: 50},
		{Problem: Problem{Severity: problem.Error, Message: "b"}},
		{Problem: Problem{Severity: problem.Error, Message: "a"}, Money: 5},
		{Problem: Problem{Severity: problem.Error, Message: "c"}, Money: 90, Follows: true},
	}
	var got []string
	for _, g := range Pressing(groups) {
		got = append(got, g.Message)
	}
	if fmt.Sprint(got) != "[a b c d]" {
		t.Errorf("%v", got)
	}
}

func TestFaultSaysWhatToDo(t *testing.T) {
	if got := Fault("a.xlsx", "empty", nil); got == "" || got == "a.xlsx: [file.empty]" {
		t.Errorf("Fault = %q", got)
	}
}
