package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"testing"

	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/plan"
	"pourbook/compute/price"
	"pourbook/report/words"
)

// A result is written as the library writes it whole, with the problems as one
// more field.
func TestJSONIsThatOfTheWhole(t *testing.T) {
	problems := []words.Problem{{}}
	var long []int
	for i := range 5*some + 1 {
		long = append(long, i)
	}
	result := &cost.Result{Schema: cost.Schema, Currency: "<&>", Products: []cost.Product{{Product: "a"}}, QuantityEffect: calc.Const(0.1), Use: []cost.Use{}}
	planned, priced := &plan.Result{Pours: []plan.Pour{{Recipe: "r"}, {}}, WhatIf: &plan.WhatIf{}}, &price.Result{Schema: price.Schema}
	for name, x := range map[string]struct{ parts, whole any }{
		"a result": {result, struct {
			*cost.Result
			Problems []words.Problem `json:"problems"`
		}{result, problems}},
		"a plan": {planned, struct {
			*plan.Result
			Problems []words.Problem `json:"problems"`
		}{planned, problems}},
		"prices": {priced, struct {
			*price.Result
			Problems []words.Problem `json:"problems"`
		}{priced, problems}},
		"nothing": {struct{}{}, map[string]any{"problems": problems}},
		"what is empty": {struct {
			List []int `json:"list,omitempty"`
		}{}, map[string]any{"problems": problems}},
		"lists": {&struct {
			Texts  []string `json:"texts,omitempty"`
			Hidden []int    `json:"-"`
			own    []int
			None   []int       `json:"none"`
			Lists  [][]int     `json:"lists"`
			Long   []int       `json:"long"`
			Figure calc.Figure `json:"figure"`
		}{[]string{"a", "<b>"}, []int{1}, []int{2}, nil, [][]int{{1, 2}, {}, nil}, long, *calc.Const(0.5)}, &struct {
			Texts    []string        `json:"texts"`
			None     []int           `json:"none"`
			Lists    [][]int         `json:"lists"`
			Long     []int           `json:"long"`
			Figure   calc.Figure     `json:"figure"`
			Problems []words.Problem `json:"problems"`
		}{[]string{"a", "<b>"}, nil, [][]int{{1, 2}, {}, nil}, long, *calc.Const(0.5), problems}},
	} {
		var got bytes.Buffer
		if err := JSON(&got, x.parts, problems); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		want, err := json.MarshalIndent(x.whole, "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		if got.String() != string(want)+"\n" {
			t.Errorf("%s: %s\nwant %s", name, &got, want)
		}
	}
}

func TestJSONSaysWhatFailed(t *testing.T) {
	if err := JSON(io.Discard, struct{ F func() }{}, nil); err == nil {
		t.Error("a function was encoded")
	}
	var none *cost.Result
	if err := JSON(io.Discard, none, nil); err == nil {
		t.Error("what is no object was encoded")
	}
	full := errors.New("disk full")
	if err := JSON(failing{full}, struct{}{}, nil); !errors.Is(err, full) {
		t.Errorf("writing failed with %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
