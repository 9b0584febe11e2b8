package main

import (
	"path/filepath"
	"strings"
	"testing"

	"pourbook/compute/oracle"
)

// Every PDF that the program writes is sound: of the demo and of a book
// of six products, on both papers.
func TestEveryPDFIsSound(t *testing.T) {
	oracle.Need(t, oracle.QPDF, oracle.Poppler)
	everyday := bookPath("everyday.xlsx")
	inDemoFolder(t)
	demo := []string{
		"cost BOOK --month 2026-10", "cost BOOK --from 2025-11-01 --to 2026-10-31", "plan BOOK",
		"plan BOOK --market \"Harbor Lights Fair\" --what-if \"table capacity=60\"",
		"price BOOK --jar \"Tin 4 oz\"", "price BOOK --jar Bowl --fill 16oz --part jar=4.10 --part wick=0.36",
		"price BOOK --all", "price BOOK --compare \"Tin 4 oz,Tumbler 14 oz\"",
	}
	other := []string{"cost BOOK --month 2026-10", "plan BOOK", "price BOOK --all"}
	documents := 0
	for book, commands := range map[string][]string{"demo.xlsx": demo, everyday: other} {
		for _, paper := range []string{"Letter", "A4"} {
			for _, c := range commands {
				dir := t.TempDir()
				output(t, "pourbook "+strings.ReplaceAll(c, "BOOK", `"`+book+`"`)+` --today 2026-11-05 --paper `+paper+` --out "`+dir+`"`)
				files, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
				if err != nil || len(files) == 0 {
					t.Errorf("%s wrote no PDF: %v", c, err)
				}
				for _, path := range files {
					oracle.SoundPDF(t, path, paper)
					documents++
				}
			}
		}
	}
	oracle.Cases(t, documents)
}
