package plan

import (
	"encoding/json"
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/book"
)

// changedBook is plainBook with a pitcher of its own and twice the expected units.
func changedBook(b *book.Book, pitcher, expected float64) *book.Book {
	c := *b
	c.Settings = b.Settings.Clone()
	set(&c, book.Pitcher, pitcher)
	c.Markets = slices.Clone(b.Markets)
	for _, row := range Rows(b, options()) {
		m := *b.Markets[row]
		m.Expected = num(expected)
		c.Markets[row] = &m
	}
	return &c
}

func encoded(t *testing.T, v any) string {
	t.Helper()
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func TestWhatIfStandsBesideTheBooksOwnPlan(t *testing.T) {
	b := plainBook()
	c := changedBook(b, 700, 90)
	changes := []Change{{Name: "pitcher capacity", Value: "700 g"}, {Name: "expected units", Value: "90"}}
	before := mustRun(t, b, options())
	after := mustRun(t, c, options())
	tried, err := Try(b, c, options(), changes)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(encoded(t, before), encoded(t, mustRun(t, b, options()))); d != "" {
		t.Errorf("the book was changed: %s", d)
	}
	w := tried.WhatIf
	if d := cmp.Diff(encoded(t, *before.totals()), encoded(t, *w.Before)); d != "" {
		t.Errorf("before: %s", d)
	}
	if d := cmp.Diff(encoded(t, *after.totals()), encoded(t, *w.After)); d != "" {
		t.Errorf("after: %s", d)
	}
	near(t, "expected total after", w.After.ExpectedTotal, 90)
	units := 0
	for _, p := range w.After.Products {
		units += p.Pour
	}
	if units != w.After.Units || w.After.Pours != len(after.Pours) || w.After.Pours <= w.Before.Pours {
		t.Errorf("units %d of %d, pours %d before and %d after", units, w.After.Units, w.Before.Pours, w.After.Pours)
	}
	if len(w.Differ()) == 0 {
		t.Error("no product differs")
	}
	for _, x := range w.Differ() {
		if x.Before.Bring == x.After.Bring && x.Before.Pour == x.After.Pour {
			t.Errorf("%s does not differ", x.After.Product)
		}
	}
	tried.WhatIf = nil
	if d := cmp.Diff(encoded(t, after), encoded(t, tried)); d != "" {
		t.Errorf("the plan itself: %s", d)
	}
}

// A change may make a plan possible, and may not move a market into the past.
func TestWhatIfWhereOnePlanIsImpossible(t *testing.T) {
	b := plainBook()
	set(b, book.Pitcher, 0)
	tried, err := Try(b, changedBook(b, 1800, 60), options(), nil)
	if err != nil || tried.WhatIf.Before != nil || tried.WhatIf.After == nil {
		t.Errorf("only the changed book allows a plan: %v, %+v", err, tried.WhatIf)
	}
	b = plainBook()
	c := changedBook(b, 1800, 60)
	c.Markets[Rows(b, options())[0]].Day = date(today) - 1
	if res, err := Try(b, c, options(), nil); !errors.Is(err, ErrMarket) || !res.Problems.HasErrors() {
		t.Errorf("a market in the past: %v", err)
	}
}
