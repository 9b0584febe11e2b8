package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/book/booktest"
	"pourbook/compute/oracle"
	"pourbook/compute/plan"
)

// Plans of books made up by Python, in which materials have to be ordered: the
// change-overs and the end of the best of all ways to pour, which everything has
// to fit where there is one, and that nothing is poured before it is there.
func TestPoursWaitForMaterialsAgainstPython(t *testing.T) {
	oracle.Need(t, oracle.SciPy)
	const books = 60
	script, dir, today := outside(t, "waits.py"), t.TempDir(), booktest.Day("2026-11-05")
	oracle.Run(t, "/usr/bin/python3", script, "make", dir, fmt.Sprint(books))
	asked := wantedUnits(t, filepath.Join(dir, "wanted.tsv"))
	got, all := map[string]float64{}, 0
	for n := 1; n <= books; n++ {
		where := fmt.Sprint(n)
		path, opts := filepath.Join(dir, where), asked[where]
		opts.Today = today
		res, err := plan.Run(bookRead(t, path+".txt", today), opts)
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
		maps.Copy(got, daysOf(where, res))
	}
	out := filepath.Join(dir, "expected.tsv")
	if err := os.WriteFile(out, oracle.Run(t, "/usr/bin/python3", script, "hold", dir, fmt.Sprint(books)), 0o600); err != nil {
		t.Fatal(err)
	}
	want := expected(t, out)
	for key := range want {
		where, what, _ := strings.Cut(key, "/")
		switch {
		case what == "left":
			all++
		case strings.HasPrefix(what, "early/"):
			got[where+"/"+what] = 0
		}
	}
	if all < books/3 || all > books-books/6 {
		t.Errorf("all can be poured in %d of %d books", all, books)
	}
	oracle.Cases(t, hold(t, want, got, 1e-9))
}

// wantedUnits reads "book TAB day TAB product TAB units" lines.
func wantedUnits(t *testing.T, path string) map[string]plan.Options {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]plan.Options{}
	for line := range strings.Lines(string(text)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		n, err := strconv.Atoi(f[len(f)-1])
		if err != nil || len(f) != 4 {
			t.Fatalf("%s: %q", path, line)
		}
		o := out[f[0]]
		if o.Units == nil {
			o.By, o.Units = booktest.Day(f[1]), map[string]int{}
		}
		o.Units[f[2]] = n
		out[f[0]] = o
	}
	return out
}

// daysOf is how many products a plan leaves out, its minutes of change-over, and
// its last day from today.
func daysOf(where string, res *plan.Result) map[string]float64 {
	out := map[string]float64{where + "/left": float64(len(res.LeftOut)), where + "/changeover": 0}
	for _, p := range res.Pours {
		out[where+"/changeover"] += p.Changeover.Or(0)
		out[where+"/finish"] = max(out[where+"/finish"], float64(p.Day-res.Today))
	}
	return out
}
