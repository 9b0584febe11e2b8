package main

import (
	"maps"
	"path/filepath"
	"slices"
	"testing"

	"pourbook/compute/oracle"
)

// 114,000 lines of supermarket panels, which the R package bayesm carries, as the
// Sales sheet and two CSV files of a maker: the program's sums, seasons, splits
// and customers against those that R makes of the same lines.
func TestSupermarketPanelsAgainstR(t *testing.T) {
	oracle.Need(t, oracle.R)
	dir := t.TempDir()
	oracle.Run(t, "Rscript", outside(t, "panels.R"), dir)
	sales := rowsOf(t, filepath.Join(dir, "oj.csv"))
	if len(sales) < 100_000 {
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
	command := `pourbook cost "` + book + `" --sales "` + filepath.Join(dir, "tuna.csv") + `" --sales "` + filepath.Join(dir, "cheese.csv") +
		`" --today 1998-01-01 --json --no-documents `
	got := flat(t, "long", output(t, command+"--from 1990-06-01 --to 1992-09-30"))
	maps.Copy(got, flat(t, "month", output(t, command+"--month 1992-08")))
	oracle.Cases(t, hold(t, expected(t, filepath.Join(dir, "expected.tsv")), got, 1e-8))
}
