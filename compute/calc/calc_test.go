package calc

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/cell"
)

func input(v float64, name string, row int) *Figure {
	return In(cell.Num{V: v, Raw: name, State: cell.Typed, At: cell.Ref{Sheet: "S", Row: row, Col: 1}}, name)
}

func TestOneTreeGivesValueFormulaAndSources(t *testing.T) {
	fill, load, loss := input(200, "fill", 1), input(8, "load", 2), input(0.02, "loss", 3)
	wax := Div(fill, Add(Const(1), Div(load, Const(100)))).Named("wax", "A")
	issued := Div(wax, Sub(Const(1), loss))
	if v, _ := issued.Value(); math.Abs(v-200/1.08/0.98) > 1e-12 {
		t.Errorf("value %v", v)
	}
	at := map[string]string{"fill": "B1", "load": "B2", "loss": "B3", "wax": "C1"}
	place := func(f *Figure) string { return at[f.Name().Key] }
	if got := issued.Formula(place); got != "C1/(1-B3)" {
		t.Errorf("formula %q", got)
	}
	if got := wax.Formula(place); got != "B1/(1+B2/100)" {
		t.Errorf("formula of the step %q", got)
	}
	delete(at, "wax")
	if got := issued.Formula(place); got != "B1/(1+B2/100)/(1-B3)" {
		t.Errorf("formula without a cell for the step %q", got)
	}
	var cells []string
	for _, s := range issued.Sources() {
		cells = append(cells, s.From().At.String())
	}
	if d := cmp.Diff([]string{"S!A1", "S!A2", "S!A3"}, cells); d != "" {
		t.Error(d)
	}
}

func TestFormulasKeepThePrecedence(t *testing.T) {
	a, b, c := input(7, "a", 1), input(3, "b", 2), input(2, "c", 3)
	place := func(f *Figure) string { return f.Name().Key }
	for _, x := range []struct {
		f    *Figure
		text string
		v    float64
	}{
		{Sub(a, Sub(b, c)), "a-(b-c)", 6},
		{Sub(Sub(a, b), c), "a-b-c", 2},
		{Div(a, Mul(b, c)), "a/(b*c)", 7.0 / 6},
		{Mul(Add(a, b), c), "(a+b)*c", 20},
		{Mul(Const(-2), b), "(-2)*b", -6},
		{Max(Const(0), Sub(b, a)), "MAX(0,b-a)", 0},
		{Floor(Div(Const(99), Const(0.99))), "INT(99/0.99+ABS(99/0.99)*1E-9)", 100},
	} {
		if got := x.f.Formula(place); got != x.text {
			t.Errorf("formula %q, want %q", got, x.text)
		}
		if v, ok := x.f.Value(); !ok || math.Abs(v-x.v) > 1e-12 {
			t.Errorf("%s = %v, want %v", x.text, v, x.v)
		}
	}
}

func TestUnknownSpreads(t *testing.T) {
	bad := In(cell.Num{State: cell.Bad, Raw: "n/a"}, "price")
	for name, f := range map[string]*Figure{
		"sum": Add(Const(1), bad), "named": Mul(bad, Const(0)).Named("x"), "division by 0": Div(Const(1), Zero), "nil": Add(Const(1), nil),
		"log of 0": Ln(Zero), "too large": Exp(Const(1e6)),
	} {
		if f.Known() {
			t.Errorf("%s is known: %v", name, f.Or(0))
		}
	}
	type row struct {
		A *Figure `json:"a,omitzero"`
		B *Figure `json:"b,omitzero"`
		C *Figure `json:"c,omitzero"`
	}
	b, err := json.Marshal(row{A: bad, B: Mul(Const(-1), Zero)})
	if err != nil || string(b) != `{"b":0}` {
		t.Errorf("JSON %s, %v", b, err)
	}
}

func TestFloorAndCeilAllowASlack(t *testing.T) {
	for v, want := range map[float64][2]float64{
		99 / 0.99: {100, 100}, 3: {3, 3}, 2.5: {2, 3}, 3.0000000001: {3, 3}, 2.9999999999: {3, 3}, -0.5: {-1, 0},
	} {
		if f, c := FloorOf(v), CeilOf(v); f != want[0] || c != want[1] {
			t.Errorf("floor and ceil of %v = %v, %v", v, f, c)
		}
	}
}
