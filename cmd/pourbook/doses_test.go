package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"testing"

	"pourbook/compute/book/booktest"
	"pourbook/compute/oracle"
)

// The pours of plans for markets of many sizes, weighed out anew by Python from
// the jars that they fill. A figure that is not to be there has to be missing.
func TestDosesAgainstFractions(t *testing.T) {
	oracle.Need(t, oracle.SciPy)
	dir := t.TempDir()
	book := filepath.Join(dir, "doses.xlsx")
	var markets [][]string
	sizes := []int{5, 13, 22, 34, 47, 60, 81, 104}
	for _, n := range sizes {
		markets = append(markets, []string{fmt.Sprint("Fair ", n), "2026-12-05", "Stall", fmt.Sprint(n)})
	}
	bookOf(t, book, textOf(t, "doses.txt"), map[string][][]string{"Markets": markets})
	args := []string{outside(t, "doses.py")}
	got := map[string]float64{}
	for i, n := range sizes {
		plan := output(t, fmt.Sprintf(`pourbook plan "%s" --today 2026-10-01 --json --no-documents --market "Fair %d"`, book, n))
		path := filepath.Join(dir, fmt.Sprint(n, ".json"))
		if err := os.WriteFile(path, []byte(plan), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
		maps.Copy(got, flatPours(t, fmt.Sprint(i), plan))
	}
	out := filepath.Join(dir, "expected.tsv")
	if err := os.WriteFile(out, oracle.Run(t, "/usr/bin/python3", args...), 0o600); err != nil {
		t.Fatal(err)
	}
	want := expected(t, out)
	cases := len(want)
	missing(t, want, got)
	hold(t, want, got, 1e-9)
	oracle.Cases(t, cases)
}

// missing takes off what is wanted to be unknown, and fails where it is known.
func missing(t *testing.T, want, got map[string]float64) {
	t.Helper()
	for key, v := range want {
		if !math.IsNaN(v) {
			continue
		}
		delete(want, key)
		if g, known := got[key]; known {
			t.Errorf("%s: %v, nobody can know", key, g)
		}
	}
}

// flatPours is every number of a plan's pours, which go by their place, and of what
// is pulled and bought; days are counted from the first of October.
func flatPours(t *testing.T, where, plan string) map[string]float64 {
	t.Helper()
	var tree struct {
		Pours, Buy []map[string]any
		Pull       []any
	}
	if err := json.Unmarshal([]byte(plan), &tree); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	days := func(row map[string]any, key, at string) {
		if text, ok := row[key].(string); ok {
			out[at] = float64(booktest.Day(text) - booktest.Day("2026-10-01"))
		}
	}
	for i, p := range tree.Pours {
		at := fmt.Sprintf("%s/pours/%d", where, i)
		flatten(out, at, p)
		days(p, "due", at+"/due")
	}
	for _, b := range tree.Buy {
		at := fmt.Sprintf("%s/buy/%s", where, b["material"])
		flatten(out, at, b)
		days(b, "order_by", at+"/order_by")
	}
	flatten(out, where+"/pull", tree.Pull)
	return out
}
