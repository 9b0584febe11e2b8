package ingest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/day"
	"pourbook/compute/problem"
)

// beside writes a file into the folder of a book.
func beside(t *testing.T, path, name, text string) string {
	t.Helper()
	out := filepath.Join(filepath.Dir(path), name)
	if err := os.WriteFile(out, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return out
}

func TestFurtherSales(t *testing.T) {
	path := writeBook(t, cleanBook()...)
	more := beside(t, path, "shop.csv", "Order ID;Sale date;SKU;Qty;Price each;Line total;Buyer\n"+
		"1001;2026-10-01;LAV-8-C;2;22;43;Ann\n"+ // the same sale by its amount, 2 x 22 - 1
		"2001;13/10/2026;LAV-8-N;2;1.234,50;;Zoe\n"+
		"2001;13/10/2026;LAV-8-N;2;1.234,50;;Zoe\n"+ // twice in one file are two
		"2002;02/10/2026;LAV-8-N;1;21,00;;Zoe\n")
	again := beside(t, path, "again.csv", "Order ID,Sale date,SKU,Qty,Price each\n2001,2026-10-13,LAV-8-N,2,1234.50\n2003,2026-10-14,LAV-8-N,1,21\n")
	b := readFile(t, path, more, again)
	only(t, b, "unknown-channel Sales!G6", "number-style shop.csv", "number-style again.csv", "duplicate shop.csv!A2", "duplicate again.csv!A2")
	if b.Sales.Len() != 9 {
		t.Fatalf("%d sales", b.Sales.Len())
	}
	x := b.Sales.At(5)
	if x.Price.String() != "1234.5" || x.Day != day.Of(2026, 10, 13) || b.SaleSheets[x.Sheet] != "shop.csv" || x.Row != 3 {
		t.Errorf("line: %+v", x)
	}
	if b.Sales.At(7).Day != day.Of(2026, 10, 2) {
		t.Errorf("the column's order was not used: %s", b.Sales.At(7).Day)
	}
	for _, p := range b.Problems.Sorted() {
		if p.Code == problem.Duplicate && p.At.Sheet == "shop.csv" && (p.Other.String() != "Sales!A2" || p.Amount != 43) {
			t.Errorf("duplicate: %+v", p)
		}
	}
}

func TestFileWithoutSales(t *testing.T) {
	path := writeBook(t, cleanBook()...)
	more := beside(t, path, "jars.csv", "jar,fill weight\nA,6 oz\n")
	b := readFile(t, path, more)
	only(t, b, "unknown-channel Sales!G6", "number-style jars.csv", "missing-table jars.csv")
	if len(b.Jars) != 2 {
		t.Errorf("%d jars", len(b.Jars))
	}
}

// A column shows how its numbers and dates are written, wherever it does.
func TestColumnDecides(t *testing.T) {
	rows := "date|product|quantity|unit price\n'03/04/2026|LAV-8-C|1|'1,250\n'04/04/2026|LAV-8-C|1|'12,50\n'25/04/2026|LAV-8-C|1|'9,90"
	b := readBook(t, with("Sales", sheet{name: "Sales", rows: rows})...)
	only(t, b)
	if b.Sales.Len() != 3 || b.Sales.At(0).Price.String() != "1.25" || b.Sales.At(0).Day != day.Of(2026, 4, 3) {
		t.Errorf("sales: %+v", b.Sales)
	}
}

// The money on a line that is left out is its total, or quantity x price - discount.
func TestMoneyOnLinesLeftOut(t *testing.T) {
	rows := "date|product|quantity|unit price|line total|discount\n" +
		"2026-10-01|Nothing|2|22||4\n" + // 40
		"2026-10-02|LAV-8-C|two||18\n" + // 18
		"|Nothing else|1|7\n" // 7, once
	b := readBook(t, with("Sales", sheet{name: "Sales", rows: rows})...)
	only(t, b, "unknown-product Sales!B2", "bad-number Sales!C3", "missing-field Sales!A4", "unknown-product Sales!B4")
	sum, n := 0.0, 0
	for _, p := range b.Problems.Sorted() {
		if p.HasAmount {
			sum, n = sum+p.Amount, n+1
		}
	}
	if sum != 65 || n != 3 || b.Sales.Len() != 0 {
		t.Errorf("%v on %d rows, %d sales", sum, n, b.Sales.Len())
	}
	if x := b.Tables[8]; x.Table != book.TSales && x.LeftOut != 3 {
		t.Errorf("table: %+v", x)
	}
}

func TestBadOptionalAmount(t *testing.T) {
	rows := "date|product|quantity|unit price|line total|discount|channel\n" +
		"2026-10-01|LAV-8-C|1|20||x|Website\n" + // discount
		"2026-10-01|LAV-8-C|1|20|x||Website\n" + // total
		"2026-10-01|LAV-8-C|1|x|20||Website\n" + // the total counts anyway
		"2026-10-01|LAV-8-C|1|20|||err:#N/A\n" // fees
	b := readBook(t, with("Sales", sheet{name: "Sales", rows: rows})...)
	only(t, b, "bad-number Sales!F2", "bad-number Sales!E3", "bad-number Sales!D4", "cell-error Sales!G5")
	for i, bad := range []bool{true, true, false, true} {
		if got := b.Sales.At(i).Has&book.BadMoney != 0; got != bad {
			t.Errorf("line %d: bad money %v", i, got)
		}
	}
}

func TestMergedCells(t *testing.T) {
	sheets := cleanBook()
	for i := range sheets {
		switch sheets[i].name {
		case "Recipes":
			sheets[i].rows = "recipe|material|amount|per\nLavender|Soy wax|1|parts\n|Lavender oil|8|% of wax\n|Red dye|6 drops/lb"
			sheets[i].merged = []string{"A2:A4"}
		case "Sales":
			sheets[i].rows = "date|product|quantity|unit price\n2026-10-01|LAV-8-C|2|22\n|LAV-8-N||21"
			sheets[i].merged = []string{"A2:A3", "C2:C3"}
		}
	}
	b := readBook(t, sheets...)
	only(t, b, "missing-field Sales!C3") // an amount counts once
	if len(b.Recipes) != 1 || len(b.Recipes[0].Ingredients) != 3 || b.Sales.Len() != 1 {
		t.Errorf("recipes %+v, sales %+v", b.Recipes, b.Sales)
	}
}

// The merged areas of a large sheet are found late, and the book is read again.
func TestMergedCellsOfALargeSheet(t *testing.T) {
	var rows strings.Builder
	rows.WriteString("date|product|quantity|unit price|remark\n2026-10-01|LAV-8-C|2|22\n|LAV-8-N|1|21\n")
	for i := range 320 {
		rows.WriteString("2026-10-02|LAV-8-C|1|22|")
		for j := range 3_000 {
			fmt.Fprintf(&rows, "%d ", i*j*7919+100_000_000)
		}
		rows.WriteString("\n")
	}
	b := readBook(t, with("Sales", sheet{name: "Sales", rows: rows.String(), merged: []string{"A2:A3"}})...)
	if b.Sales.Len() != 322 || b.Sales.At(1).Day != b.Sales.At(0).Day {
		t.Errorf("%d sales, the second on %s", b.Sales.Len(), b.Sales.At(1).Day)
	}
}

func TestManyLinesStayCompact(t *testing.T) {
	path := writeBook(t, with("Sales", sheet{name: "Sales", rows: "date|product|quantity|unit price"})...)
	var text strings.Builder
	text.WriteString("date,product,quantity,unit price,channel,order,customer\n")
	const n = 60_000
	for i := range n {
		fmt.Fprintf(&text, "2026-0%d-1%d,LAV-8-%c,%d,2%d.50,Website,A%d,Customer %d\n", i%9+1, i%10, "CN"[i%2], i%3+1, i%10, i/2, i%500)
	}
	more := beside(t, path, "many.csv", text.String())
	allocs := testing.AllocsPerRun(1, func() { readFile(t, path, more) })
	if perRow := allocs / n; perRow > 4 {
		t.Errorf("%.1f allocations a row", perRow)
	}
	if b := readFile(t, path, more); b.Sales.Len() != n || b.Customers != 500 || b.Orders != n/2 {
		t.Errorf("%d sales, %d customers, %d orders", b.Sales.Len(), b.Customers, b.Orders)
	}
}

// The blanks of a row are one problem; a line of sales without its date says
// what stands on every line of an order.
func TestBlanksOfARow(t *testing.T) {
	sheets := with("Sales", sheet{name: "Sales", rows: "date|product|quantity|unit price|order\n2026-10-01|LAV-8-C|2|22|1\n|LAV-8-N|1|21|\n"})
	for i := range sheets {
		if sheets[i].name == "Products" {
			sheets[i].rows += "\nTWELVE|12 candles\n"
		}
	}
	b := readBook(t, sheets...)
	said := map[string]string{}
	for _, p := range b.Problems.Sorted() {
		if p.Code == problem.MissingField {
			said[p.At.Sheet+" "+p.Say] += fmt.Sprint(p.Args[1])
		}
	}
	if len(said) != 2 || said["Sales sale-date"] != "date" || said["Products several"] != "recipe, jar, finish" {
		t.Errorf("said %v", said)
	}
}
