package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"testing"

	"pourbook/compute/book/booktest"
	"pourbook/compute/calc"
	"pourbook/compute/oracle"
	"pourbook/compute/plan"
)

// Plans of books made up by Python, for one market or two and mostly with too
// little time: what each contributes, from the books' own rows and the candles
// that it pours. No other product may be left out.
func TestContributionOfPlansAgainstSciPy(t *testing.T) {
	oracle.Need(t, oracle.SciPy)
	const books = 24
	script, dir, today := outside(t, "worth.py"), t.TempDir(), booktest.Day("2026-11-05")
	oracle.Run(t, "/usr/bin/python3", script, "make", dir, fmt.Sprint(books))
	got, short := map[string]float64{}, 0
	for n := 1; n <= books; n++ {
		path := filepath.Join(dir, fmt.Sprint(n))
		markets := []string{"Fair", "Yule"}[:2-n%2]
		res, err := plan.Run(bookRead(t, path+".txt", today), plan.Options{Markets: markets, Today: today})
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(res)
		if err == nil {
			err = os.WriteFile(path+".json", text, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
		short += min(1, len(res.LeftOut))
		maps.Copy(got, worthOf(t, fmt.Sprint(n), res))
	}
	if short < books/3 || short > books-3 {
		t.Errorf("%d of %d plans leave something out", short, books)
	}
	out := filepath.Join(dir, "expected.tsv")
	if err := os.WriteFile(out, oracle.Run(t, "/usr/bin/python3", script, "hold", dir, fmt.Sprint(books)), 0o600); err != nil {
		t.Fatal(err)
	}
	want := expected(t, out)
	missing(t, want, got)
	exactly(t, want, got)
	oracle.Cases(t, len(want))
}

// worthOf is what a plan says of its worth, by the names of the outside; its
// bound where everything fits, else held to be no less than what it contributes.
func worthOf(t *testing.T, where string, res *plan.Result) map[string]float64 {
	t.Helper()
	figures := map[string]*calc.Figure{where + "/contribution": res.Contribution}
	if len(res.LeftOut) == 0 {
		figures[where+"/bound_of_all"] = res.Bound
	} else if res.Bound.Or(0) < res.Contribution.Or(0) {
		t.Errorf("%s: a bound of %v, and %v contributed", where, res.Bound.Or(0), res.Contribution.Or(0))
	}
	for _, l := range res.LeftOut {
		at := where + "/left/" + l.Product
		figures[at+"/units"], figures[at+"/contribution"] = calc.Const(float64(l.Units)), l.Contribution
	}
	add := func(market string, demand []plan.Demand) {
		for _, d := range demand {
			at := fmt.Sprintf("%s/%s/%s/", where, market, d.Product)
			figures[at+"mean"], figures[at+"expected_sold"], figures[at+"expected_contribution"] = d.Mean, d.ExpectedSold, d.Contribution
			for field, n := range map[string]int{"bring": d.Bring, "need": d.Need, "pour": d.Pour} {
				figures[at+field] = calc.Const(float64(n))
			}
		}
	}
	add(res.Market.Market, res.Demand)
	for _, o := range res.Also {
		add(o.Market.Market, o.Demand)
	}
	return known(figures)
}
