package costdoc

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/sales"
	"pourbook/compute/unitcost"
	"pourbook/report/show"
)

func cents(t testing.TB, s string) float64 {
	t.Helper()
	if s == show.Nil {
		return 0
	}
	x, err := strconv.ParseFloat(strings.NewReplacer(",", "", show.Minus, "-").Replace(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// fillAny gives every field of a result any value: figures that are unknown,
// nothing, negative or enormous, nil pointers and empty lists.
func fillAny(t *rapid.T, x reflect.Value, depth int) {
	switch at := x.Addr().Interface().(type) {
	case **calc.Figure:
		if rapid.Bool().Draw(t, "known") {
			*at = calc.Const(rapid.SampledFrom([]float64{0, 1, -1, 0.004, 12.345, -250.5, 1e9, 33}).Draw(t, "value"))
		}
		return
	case *map[string]*calc.Figure:
		*at = map[string]*calc.Figure{"share": calc.Const(0.2), "margin": nil}
		return
	case **book.Book, **book.Product, **book.Material:
		return
	case *day.Date:
		*at = day.Of(2026, rapid.IntRange(1, 12).Draw(t, "month"), rapid.SampledFrom([]int{1, 15, 28}).Draw(t, "day"))
		return
	case *book.Finish:
		*at = rapid.SampledFrom([]book.Finish{book.Natural, book.Colored}).Draw(t, "finish")
		return
	case *book.Kind:
		*at = rapid.SampledFrom([]book.Kind{book.Dye, book.Fragrance}).Draw(t, "kind")
		return
	case *cost.Basis:
		*at = cost.Basis{
			Use:        rapid.SampledFrom([]string{"", "sales", "pours"}).Draw(t, "use"),
			CostMethod: rapid.SampledFrom([]string{"", "latest", "average", "fifo"}).Draw(t, "method"),
		}
		return
	}
	switch x.Kind() {
	case reflect.String:
		x.SetString(rapid.SampledFrom([]string{"", "g", "Autumn", "A", "B"}).Draw(t, "text"))
	case reflect.Int:
		x.SetInt(int64(rapid.IntRange(2024, 2026).Draw(t, "int")))
	case reflect.Struct:
		if x.Type().PkgPath() != reflect.TypeFor[cost.Result]().PkgPath() && x.Type() != reflect.TypeFor[unitcost.Cost]() {
			return
		}
		for i := range x.NumField() {
			if x.Type().Field(i).IsExported() {
				fillAny(t, x.Field(i), depth+1)
			}
		}
	case reflect.Pointer:
		if rapid.Bool().Draw(t, "there") {
			x.Set(reflect.New(x.Type().Elem()))
			fillAny(t, x.Elem(), depth+1)
		}
	case reflect.Slice:
		n := rapid.IntRange(0, 3).Draw(t, "n")
		x.Set(reflect.MakeSlice(x.Type(), n, n))
		for i := range n {
			fillAny(t, x.Index(i), depth+1)
		}
	}
}

// texts visits every text and number of a document.
func texts(x reflect.Value, visit func(string), number func(float64)) {
	switch x.Kind() {
	case reflect.String:
		visit(x.String())
	case reflect.Float64:
		number(x.Float())
	case reflect.Pointer:
		if !x.IsNil() {
			texts(x.Elem(), visit, number)
		}
	case reflect.Struct:
		for i := range x.NumField() {
			texts(x.Field(i), visit, number)
		}
	case reflect.Slice:
		for i := range x.Len() {
			texts(x.Index(i), visit, number)
		}
	}
}

func TestAnyResultHasWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := &cost.Result{}
		fillAny(t, reflect.ValueOf(r).Elem(), 0)
		r.Currency = "USD"
		if rapid.Bool().Draw(t, "one month") {
			r.Period = october()
		}
		if rapid.Bool().Draw(t, "a book") {
			r.Source = seasons()
			r.Seasons = sales.New(r.Source, r.Period.To).Seasons
		}
		d := Of(r)
		texts(reflect.ValueOf(d), func(s string) {
			for _, bad := range []string{"[cost.", "[decision.", "[found.", "{", "NaN", "Inf", "%!"} {
				if strings.Contains(s, bad) {
					t.Fatalf("%q", s)
				}
			}
		}, func(x float64) {
			if math.IsInf(x, 0) {
				t.Fatal("an infinite number in a chart")
			}
		})
		for _, h := range []*Head{&d.Month.Head, &d.Costs.Head, &d.Notes.Head} {
			if h.Finding == "" || h.Title == "" {
				t.Fatalf("a page without a title or a finding: %+v", h)
			}
		}
	})
}

func TestEmptyResult(t *testing.T) {
	d := Of(&cost.Result{})
	if d.Change != nil || d.Use != nil || d.Split != nil || d.Stock != nil {
		t.Errorf("an empty result has %+v", d)
	}
	if len(d.Notes.Lacks) < 4 {
		t.Errorf("what is missing is not said: %q", d.Notes.Lacks)
	}
}
