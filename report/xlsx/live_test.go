package xlsx

import (
	"bytes"
	"testing"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
)

// smallLive is a workbook of a few figures that use every operation.
func smallLive() *live {
	in := func(v float64, key string, row int, of ...string) *calc.Figure {
		return calc.In(cell.Num{V: v, State: cell.Typed, At: cell.Ref{Sheet: "It's", Row: row, Col: 2}}, key, of...)
	}
	fill, load, loss := in(198.4, "fill", 1, "Jar"), in(8, "fill", 2, "x"), in(0.02, "setting", 3, "pour loss")
	wax := calc.Div(fill, calc.Add(calc.Const(1), calc.Div(load, calc.Const(100)))).Named("fill", "wax")
	issued := calc.Div(wax, calc.Sub(calc.Const(1), loss)).Named("fill", "issued")
	minus := calc.Sub(load, calc.Sub(loss, fill)).Named("fill", "minus")
	below0 := calc.Floor(calc.Mul(issued, calc.Const(-0.5))).Named("fill", "below0")
	floor := calc.Floor(calc.Div(calc.Const(99), calc.Const(0.99))).Named("fill", "floor")
	logs := calc.Exp(calc.Mul(calc.Ln(fill), calc.Sqrt(load), calc.Min(loss, calc.Max(fill, load)))).Named("fill", "logs")
	return &live{digits: 2, pages: []page{{
		name: "Page", title: "Title", notes: []string{"=1+1"}, head: []column{{"What", plain, 20}, {"A", amount, 12}, {"B", plain, 12}},
		rows: [][]any{{"=SUM(A1)", issued, minus}, {"b", below0, floor}, {"c", logs, calc.Unknown("fill", "none")}, {"d", wax, fill}},
	}}}
}

func TestLiveWorkbookRecalculates(t *testing.T) {
	data, err := smallLive().bytes("Title", "Shop")
	if err != nil {
		t.Fatal(err)
	}
	for name, again := range map[string]func(*testing.T, []byte) []byte{"LibreOffice": office, "Gnumeric": gnumeric} {
		t.Run(name, func(t *testing.T) {
			if n := checkRecalculated(t, data, again); n != 7 {
				t.Errorf("%d formulas compared, want 7", n)
			}
		})
	}
}

func TestLiveWorkbookIsSafeAndTheSame(t *testing.T) {
	a, err := smallLive().bytes("Title", "Shop")
	if err != nil {
		t.Fatal(err)
	}
	b, err := smallLive().bytes("Title", "Shop")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
	f := openBook(t, a)
	if formula, err := f.GetCellFormula("Page", "A5"); err != nil || formula != "" {
		t.Errorf("text of the book became the formula %q", formula)
	}
	if v, err := f.GetCellValue("Page", "C7"); err != nil || v != "-" {
		t.Errorf("an unknown figure is shown as %q", v)
	}
	var names []string
	for _, n := range f.GetDefinedName() {
		if n.Scope == "Workbook" {
			names = append(names, n.Name)
		}
	}
	if len(names) != 1 || names[0] != "setting_pour_loss" {
		t.Errorf("named ranges %v", names)
	}
}
