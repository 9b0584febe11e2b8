package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"testing"

	"pourbook/compute/oracle"
)

// 114,000 lines of supermarket panels, which the R package bayesm carries, as the
// Sales sheet and two CSV files of a maker: the program's sums, seasons, splits
// and customers, what to bring to a market and a new jar's prices against those
// that R makes of the same lines.
func TestSupermarketPanelsAgainstR(t *testing.T) {
	oracle.Need(t, oracle.R)
	dir := t.TempDir()
	script, least := []string{outside(t, "panels.R"), dir}, 100_000
	if oracle.Brief() { // some of the stores
		script, least = append(script, "12"), 10_000
	}
	oracle.Run(t, "Rscript", script...)
	sales := rowsOf(t, filepath.Join(dir, "oj.csv"))
	if len(sales) < least {
		t.Fatalf("%d lines", len(sales))
	}
	var markets [][]string
	for _, row := range sales { // a market on every day on which the fair's store sold
		m := []string{"Fair", row[0], "1", "Stall", "25"}
		if row[7] == "Fair" && row[2] > "0" && !slices.ContainsFunc(markets, func(x []string) bool { return x[1] == m[1] }) {
			markets = append(markets, m)
		}
	}
	book := filepath.Join(dir, "panels.xlsx")
	bookOf(t, book, textOf(t, "panels.txt"), map[string][][]string{
		"Sales": sales, "Purchases": rowsOf(t, filepath.Join(dir, "purchases.csv")), "Markets": markets,
	})
	command := `pourbook %s "` + book + `" --sales "` + filepath.Join(dir, "tuna.csv") + `" --sales "` + filepath.Join(dir, "cheese.csv") +
		`" --json --no-documents `
	got := map[string]float64{}
	for where, job := range map[string][2]string{
		"long":  {"cost", "--today 1998-01-01 --from 1990-06-01 --to 1992-09-30"},
		"month": {"cost", "--today 1998-01-01 --month 1992-08"},
		"plan":  {"plan", "--today 1992-10-05 --market Fair"},
		"price": {"price", "--today 1992-10-05 --jar Medium --capacity 50mL --filled 90% --part jar=0.20 --part wick=0.03"},
	} {
		maps.Copy(got, flat(t, where, output(t, fmt.Sprintf(command, job[0])+job[1])))
	}
	cases := hold(t, expected(t, filepath.Join(dir, "expected.tsv")), got, 1e-8)
	if !oracle.Brief() {
		oracle.Cases(t, cases)
	}
}
