package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"strings"
	"testing"

	"pourbook/compute/oracle"
)

// Ten months of purchases, sales, pours and counts made up by R, as whole books:
// stock, its cost by each method, what it is worth, and the variances of every
// month, of all of them and of a period within months, against R's own shelf of
// lots. Figures that R says nobody can know have to be missing.
func TestStockOverMonthsAgainstR(t *testing.T) {
	oracle.Need(t, oracle.R)
	dir := t.TempDir()
	books := 4
	if oracle.Brief() {
		books = 2
	}
	oracle.Run(t, "Rscript", outside(t, "roll.R"), dir, fmt.Sprint(books))
	periods := map[string]string{"year": "--from 2026-01-01 --to 2026-10-31", "part": "--from 2026-04-11 --to 2026-09-17"}
	for m := range 10 {
		name := fmt.Sprintf("2026-%02d", m+1)
		periods[name] = "--month " + name
	}
	got := map[string]float64{}
	for b := 1; b <= books; b++ {
		rows := map[string][][]string{}
		for sheet, file := range map[string]string{"Sales": "sales", "Purchases": "purchases", "Stock counts": "counts", "Pours": "pours"} {
			if file != "pours" || b%2 == 0 {
				rows[sheet] = rowsOf(t, filepath.Join(dir, fmt.Sprintf("%d-%s.csv", b, file)))
			}
		}
		for _, method := range []string{"latest", "average", "fifo"} {
			path := filepath.Join(dir, fmt.Sprintf("%d-%s.xlsx", b, method))
			bookOf(t, path, strings.Replace(textOf(t, "roll.txt"), "currency |", "cost method | "+method+"\ncurrency |", 1), rows)
			for name, flags := range periods {
				where := fmt.Sprintf("%d/%s/%s", b, method, name)
				maps.Copy(got, flat(t, where, output(t, `pourbook cost "`+path+`" --today 2027-01-05 --json --no-documents `+flags)))
			}
		}
	}
	want := expected(t, filepath.Join(dir, "expected.tsv"))
	cases := len(want)
	missing(t, want, got)
	hold(t, want, got, 1e-9)
	if !oracle.Brief() {
		oracle.Cases(t, cases)
	}
}
