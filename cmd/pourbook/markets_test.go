package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"testing"

	"pourbook/compute/oracle"
)

// Markets and their sales made up by R, as whole books: the total that the next
// market is expected to sell, by each of the ways to it, and the spread of demand.
func TestExpectedTotalsAgainstR(t *testing.T) {
	oracle.Need(t, oracle.R)
	dir := t.TempDir()
	const books = 40
	oracle.Run(t, "Rscript", outside(t, "markets.R"), dir, fmt.Sprint(books))
	got := map[string]float64{}
	for b := 1; b <= books; b++ {
		where := fmt.Sprint(b)
		markets := rowsOf(t, filepath.Join(dir, where+"-markets.csv"))
		path := filepath.Join(dir, where+".xlsx")
		bookOf(t, path, textOf(t, "markets.txt"), map[string][][]string{"Markets": markets, "Sales": rowsOf(t, filepath.Join(dir, where+"-sales.csv"))})
		maps.Copy(got, flat(t, where, output(t, `pourbook plan "`+path+`" --today 2026-05-20 --json --no-documents --market `+markets[len(markets)-1][0])))
	}
	oracle.Cases(t, hold(t, expected(t, filepath.Join(dir, "expected.tsv")), got, 1e-9))
}
