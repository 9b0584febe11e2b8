package ingest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// manySales are lines of the clean book's sales, as a text file has them.
func manySales(lines int) string {
	var b strings.Builder
	b.WriteString("date,product,quantity,unit price\n")
	for i := range lines {
		fmt.Fprintf(&b, "2026-09-%02d,FIG-8,1,24\n", 1+i%30)
	}
	return b.String()
}

func TestProgressOfReading(t *testing.T) {
	const lines = 40_000
	more := filepath.Join(t.TempDir(), "more.csv")
	if err := os.WriteFile(more, []byte(manySales(lines)), 0o644); err != nil {
		t.Fatal(err)
	}
	book := cleanBook()
	for i := range book {
		if strings.Contains(strings.ToLower(book[i].name), "sales") {
			line := book[i].rows[strings.LastIndex(strings.TrimSpace(book[i].rows), "\n")+1:]
			book[i].rows = strings.TrimSpace(book[i].rows) + strings.Repeat("\n"+strings.TrimSpace(line), lines)
		}
	}
	path := writeBook(t, book...)

	var rows []int
	var shares []float64
	_, err := Read(context.Background(), path, Options{Sales: []string{more}, Progress: func(n int, share float64) {
		rows, shares = append(rows, n), append(shares, share)
	}})
	if err != nil {
		t.Fatal(err)
	}
	last := len(rows) - 1
	if last < 15 || rows[last] < 2*lines || shares[last] != 1 {
		t.Fatalf("told %d times, at last of %d rows, share %v", last+1, rows[last], shares[last])
	}
	for i := range rows[1:] {
		if rows[i+1] < rows[i] || shares[i+1] < shares[i] || shares[i] < 0 {
			t.Errorf("%d rows, share %v, come after %d rows, share %v", rows[i+1], shares[i+1], rows[i], shares[i])
		}
		if step := shares[i+1] - shares[i]; step > 0.3 {
			t.Errorf("the share leaps from %v to %v at %d rows", shares[i], shares[i+1], rows[i+1])
		}
	}
}
