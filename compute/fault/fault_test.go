package fault

import (
	"testing"

	"pourbook/compute/cell"
)

// Of things in hand one within the other, the inner one is told.
func TestTheNearestIsTold(t *testing.T) {
	defer func() {
		want := Fault{"Lavender", cell.Ref{Sheet: "Recipes", Row: 4, Col: 1}, "spilled"}
		got, _ := recover().(Fault)
		if got != want {
			t.Errorf("%+v", got)
		}
		if s := got.String(); s != "Lavender, Recipes!A4: spilled" {
			t.Error(s)
		}
	}()
	defer In(cell.Ref{Sheet: "Products", Row: 9, Col: 1}, "L8C")
	func() {
		defer In(cell.Ref{Sheet: "Recipes", Row: 4, Col: 1}, "Lavender")
		func() {
			defer In(cell.Ref{}, "all went well")
		}()
		panic("spilled")
	}()
}
