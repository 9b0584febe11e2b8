//go:build unix

package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pourbook/ingest/grid/gridtest"
)

// hostileFiles are made to exhaust memory or patience, by what they do.
func hostileFiles(t *testing.T) map[string]badFile {
	t.Helper()
	files := hostilePackages(t)
	for _, some := range []map[string]badFile{hostileSheets(), hostileTables(), hostileSales()} {
		maps.Copy(files, some)
	}
	return files
}

func hostilePackages(t *testing.T) map[string]badFile {
	t.Helper()
	p := gridtest.Of(t, goodBook(t))
	spaces := strings.Repeat(" ", 40<<20)
	many := slices.Clone(p)
	for i := range 6_000 {
		many = append(many, gridtest.Part{Name: fmt.Sprint("xl/media/", i)})
	}
	return map[string]badFile{
		"a bomb by ratio":          {data: p.Set("xl/media/a.xml", spaces).Zip(), words: "unpack to far more"},
		"a bomb in the sheet":      {data: p.Set(gridtest.Sheet, strings.Replace(p.Text(gridtest.Sheet), "<sheetData>", "<sheetData>"+spaces, 1)).Zip(), words: "unpack to far more"},
		"a bomb in the texts":      {data: p.Set(gridtest.Texts, strings.Replace(p.Text(gridtest.Texts), "<si>", spaces+"<si>", 1)).Zip(), words: "unpack to far more"},
		"a bomb by count":          {data: many.Zip(), words: "more than 5000 parts"},
		"a claim of four gigabyte": {data: claimed(p, 4<<30-1, 1), words: "unpacks to more"},
		"elements within elements": {data: p.Set(gridtest.Sheet, strings.Repeat("<a>", 2_000_000)).Zip(), words: gridtest.Sheet},
		"merged areas without end": {data: p.Change(gridtest.Sheet, "</worksheet>", "<mergeCells>"+strings.Repeat(`<mergeCell ref="A1:B2"/>`, 200_000)+"</mergeCells></worksheet>").Zip(), words: "merge"},
		"texts without end":        {data: manyTexts(t, p, 3_000_000), status: exitBook},
	}
}

func hostileSheets() map[string]badFile {
	return map[string]badFile{
		"ten thousand sheets": {data: sheetsBook(10_000, func(io.Writer, int) {}), words: "more than 5000 parts"},
		"four thousand tables": {data: sheetsBook(4_000, func(w io.Writer, i int) {
			textRow(w, "Materials")
			textRow(w, "Material", "Kind", "Unit", "Density")
			textRow(w, fmt.Sprint("m", i), "wax", "g", 1)
		}), words: "more than 500 tables"},
		"cells in the last column": {data: sheetsBook(1, func(w io.Writer, _ int) {
			textRow(w, "Material", "Kind", "Unit", "Density")
			for i := range 60_000 {
				fmt.Fprintf(w, `<row r="%d"><c r="XFD%[1]d"><v>%d</v></c></row>`, i+2, i)
			}
		}), words: "wider than a spreadsheet"},
		"a table as wide as a sheet": {data: sheetsBook(1, func(w io.Writer, _ int) {
			textRow(w, "Materials")
			io.WriteString(w, `<row><c t="str"><v>Material</v></c><c t="str"><v>Kind</v></c><c t="str"><v>Unit</v></c><c r="XFD2" t="str"><v>Density</v></c></row>`)
			for i := range 3_800 {
				fmt.Fprintf(w, `<row r="%d"><c t="str"><v>m%[1]d</v></c><c r="XFD%[1]d"><v>1</v></c></row>`, i+3)
			}
		}), words: "more than 1000000 cells"},
	}
}

func hostileTables() map[string]badFile {
	return map[string]badFile{
		"materials without end": {data: sheetsBook(1, func(w io.Writer, _ int) {
			r := rand.New(rand.NewPCG(1, 1))
			textRow(w, "Materials")
			textRow(w, "Material", "Kind", "Unit", "Density", "Supplier")
			for range 300_000 {
				textRow(w, loose(r), "wx", "gg", "1,2,3", "-")
			}
		}), words: "more than 1000000 cells"},
		"numbers without end": {data: sheetsBook(1, func(w io.Writer, _ int) {
			r := rand.New(rand.NewPCG(1, 1))
			for range 100_000 {
				textRow(w, r.Int64(), r.Int64(), r.Int64(), r.Int64(), r.Int64(), r.Int64(), r.Int64(), r.Int64(), r.Int64(), r.Int64())
			}
		}), status: exitBook},
		"names that are nearly others": {data: sheetsBook(2, func(w io.Writer, sheet int) {
			r := rand.New(rand.NewPCG(1, 1))
			if sheet == 0 {
				textRow(w, "Product", "Recipe", "Jar", "Finish")
				for range 10_000 {
					textRow(w, "lavender candle "+loose(r), "r", "j", "colored")
				}
				return
			}
			textRow(w, "Date", "Product", "Quantity", "Unit price")
			for range 30_000 {
				textRow(w, "2026-10-01", "lavender candl "+loose(r), 1, 2)
			}
		}), status: exitBook},
		"headings without end": {data: sheetsBook(1, func(w io.Writer, _ int) {
			r := rand.New(rand.NewPCG(1, 1))
			textRow(w, "Materials")
			for range 150_000 {
				textRow(w, "Material", "Kind", "Unit", "Density", loose(r))
			}
		}), status: exitBook},
	}
}

func hostileSales() map[string]badFile {
	lines := func(n int, line func(r *rand.Rand, i int) string) []byte {
		r := rand.New(rand.NewPCG(1, 1))
		var b bytes.Buffer
		b.WriteString("Date,Product,Quantity,Unit price\n")
		for i := range n {
			b.WriteString(line(r, i))
		}
		return b.Bytes()
	}
	return map[string]badFile{
		"sales that nothing can be read of": {name: "sales.csv", data: lines(400_000, func(r *rand.Rand, i int) string {
			return "31/31/2026," + fmt.Sprint("P", i%99) + "," + loose(r) + ",p\n"
		}), words: "could not be made sense of"},
		"sales of a product each": {name: "sales.csv", data: lines(200_000, func(r *rand.Rand, i int) string {
			return "2026-10-01," + loose(r) + ",1,2\n"
		}), words: "more than 50000 different"},
		"two million lines": {name: "sales.csv", data: lines(2_000_000, func(_ *rand.Rand, i int) string {
			return "2026-10-01,A,1,2\n"
		}), words: "more than 1048576 lines"},
	}
}

// manyTexts has so many texts that one cell refers to.
func manyTexts(t *testing.T, p gridtest.Parts, n int) []byte {
	r := rand.New(rand.NewPCG(1, 1))
	var b strings.Builder
	b.WriteString(`<sst xmlns="` + gridtest.MainSpace + `">`)
	for range n {
		b.WriteString("<si><t>" + loose(r) + "</t></si>")
	}
	b.WriteString("</sst>")
	return p.Set(gridtest.Texts, b.String()).Zip()
}

// A hostile file costs at most ten seconds of processor and 500 MB, whatever
// it claims; it is refused with a line, or read as what it is.
func TestHostileFiles(t *testing.T) {
	for what, f := range hostileFiles(t) {
		t.Run(what, func(t *testing.T) {
			dir := t.TempDir()
			if f.name == "" {
				f.name = "book.xlsx"
			}
			if err := os.WriteFile(filepath.Join(dir, f.name), f.data, 0o600); err != nil {
				t.Fatal(err)
			}
			r := finish(t, start(t, dir, "check", "--quiet", f.name))
			if f.status == exitBook {
				if r.status != exitBook {
					t.Errorf("exit status %d: %s", r.status, r.err)
				}
			} else {
				r.one(t, exitFile, f.name, f.words)
				plainWords(t, r.err)
			}
			r.cheap(t)
			t.Log(r.cost())
		})
	}
}
