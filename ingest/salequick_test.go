package ingest

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/ingest/grid"
	"pourbook/ingest/grid/gridtest"
)

// cellsOf are what stands in the columns of a Sales table, good and odd.
var cellsOf = [][]string{
	{"2026-10-01", "2026-10-02", "2026-10-02", "2026-10-31", "'2026-10-05", "10/6/2026", "46300.5", "", "Total", "Example 2026-10-01", "pct:0.5", "TBD", "err:#REF!"},
	{"LAV-8-C", "LAV-8-N", "lavender 8 natural", "LAV-8-C ", "Lavnder", "", "Total", "'12", "12", "bool:1", "=none"},
	{"1", "2", "3", "12", "-1", "0", "0.5", "'2", "two", "", "pct:0.02", "123456789", "1 dozen"},
	{"22", "21.5", "22.125", "0", "-22", "$22", "'21.00", "", "12.3456789", "0.0000001", "1234567890123"},
	{"", "", "", "44", "-21.5", "'44.00", "=none"},
	{"", "", "1", "0.5", "'1", "n/a"},
	{"Website", "website", "Shops", "Market stall", "", "7"},
	{"1001", "'1001", "A-7", "a-7", "W 8", "", "1001.0", "Example order", "007", "10000000000000000"},
	{"Ann", "ann", "Bea", "", "élodie", " "},
	{"", "", "Fall Fair", "fall fair"},
	{"", "gift", "'42", "42", "2026-10-09", "12.5"},
}

const saleHeads = "date|product|quantity|unit price|line total|discount|channel|order|customer|market|scribbles"

// Rows that are taken as the file gives them are what the same rows are when
// they are made in full.
func TestQuickRowsAreFullRows(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rows := []string{saleHeads}
		for range rapid.IntRange(1, 30).Draw(rt, "rows") {
			odd := rapid.IntRange(0, 3).Draw(rt, "odd") == 0
			var cells []string
			for _, of := range cellsOf {
				if !odd {
					of = of[:min(3, len(of))]
				}
				cells = append(cells, rapid.SampledFrom(of).Draw(rt, "cell"))
			}
			rows = append(rows, strings.Join(cells, "|"))
		}
		path := writeBook(t, with("Sales", sheet{name: "Sales", rows: strings.Join(rows, "\n"), shared: rapid.Bool().Draw(rt, "shared")})...)
		quick, full := saidOf(t, context.Background(), path), saidOf(t, grid.WalkOnly(context.Background()), path)
		for i := range max(len(quick), len(full)) {
			if i >= len(quick) || i >= len(full) || quick[i] != full[i] {
				rt.Fatalf("%s\nquick: %q\nfull:  %q", strings.Join(rows, "\n"), quick[min(i, len(quick)):], full[min(i, len(full)):])
			}
		}
	})
}

// saidOf is a book in words, with its problems and the rows of its tables.
func saidOf(t *testing.T, ctx context.Context, path string) []string {
	t.Helper()
	b, err := Read(ctx, path, Options{Today: day.Of(2026, 11, 25)})
	if err != nil {
		t.Fatal(err)
	}
	out := strings.Split(plain(b), "\n")
	for _, p := range b.Problems.Sorted() {
		out = append(out, fmt.Sprintf("%+v", p))
	}
	i := slices.IndexFunc(b.Tables, func(x book.Table) bool { return x.Table == book.TSales })
	return append(out, fmt.Sprintf("%+v", b.Tables[i]))
}

// A text that the file holds twice is one order or customer.
func TestSharedTextIsThereTwice(t *testing.T) {
	rows := saleHeads + "\n2026-10-01|LAV-8-C|1|22||||first|Ann Lee||\n2026-10-02|LAV-8-N|1|22||||second|Bea||\n2026-10-03|LAV-8-N|2|22||||third|Ann Lee||"
	path := writeBook(t, with("Sales", sheet{name: "Sales", rows: rows, shared: true})...)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	twice := gridtest.Of(t, data).Change(gridtest.Texts, ">second<", ">first<").Change(gridtest.Texts, ">Bea<", ">Ann Lee<")
	if err := os.WriteFile(path, twice.Zip(), 0o600); err != nil {
		t.Fatal(err)
	}
	b := readFile(t, path)
	if x, y := b.Sales.At(0), b.Sales.At(1); b.Orders != 2 || b.Customers != 1 || x.Order != y.Order || x.Customer != y.Customer {
		t.Errorf("%d orders, %d customers: %+v, %+v", b.Orders, b.Customers, x, y)
	}
}

// Plain rows of a book take no memory of their own but their lines'.
func TestPlainRowsAreTakenQuickly(t *testing.T) {
	rows := []string{strings.TrimSuffix(saleHeads, "|scribbles")}
	const n = 20_000
	for i := range n {
		rows = append(rows, fmt.Sprintf("2026-10-%02d|LAV-8-%c|%d|%v|||Website|%d|Customer %d|", i%28+1, "CN"[i%2], i%3+1, 20+float64(i%9)/4, 1000+i/2, i%50))
	}
	path := writeBook(t, with("Sales", sheet{name: "Sales", rows: strings.Join(rows, "\n")})...)
	if perRow := testing.AllocsPerRun(1, func() { readFile(t, path) }) / n; perRow > 1 {
		t.Errorf("%.2f allocations a row", perRow)
	}
	if b := readFile(t, path); b.Sales.Len() != n || b.Orders != n/2 || b.Customers != 50 {
		t.Errorf("%d sales, %d orders, %d customers", b.Sales.Len(), b.Orders, b.Customers)
	}
}
