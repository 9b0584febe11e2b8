package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/xuri/excelize/v2"
)

// stacked are the sheets of a test book one below the other, as the rows of a
// single sheet.
func stacked(t testing.TB) [][]string {
	t.Helper()
	x, err := excelize.OpenFile(bookPath("plain.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	var out [][]string
	for _, sheet := range x.GetSheetList() {
		rows, err := x.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, []string{sheet}, nil)
		out = append(out, rows[:min(len(rows), 12)]...)
		out = append(out, nil)
	}
	return out
}

// jobs are the commands that a whole book goes through.
var jobs = [][]string{
	{"check"}, {"cost", "--month", "2026-10"}, {"price", "--all"}, {"plan", "--by", "2026-12-01", "--units", "L8C=12"},
}

// FuzzBook puts texts into cells of a whole small book and does all jobs: each
// ends with a status that is the book's, not with a fault of the program.
func FuzzBook(f *testing.F) {
	rows := stacked(f)
	for i, s := range []string{
		"", "0", "-1", "1e300", "x", "8 oz", "100%", "2026-10-31", "31/12/2026", "Total", "=1+1", "\u202e", "\xff", "a,b\n\"c", "12 lb 4 oz", "1/0", "NaN",
		"999999999999999999", "0.0000000001 oz", "drops/lb", "Products", "Date", "🕯", "yes", "L8C", "(4)", "$1,234.56", "1.234,56",
	} {
		f.Add(uint16(i*37), s, uint16(i*91), "0")
	}
	path := filepath.Join(f.TempDir(), "book.csv")
	f.Fuzz(func(t *testing.T, at uint16, text string, at2 uint16, text2 string) {
		book := slices.Clone(rows)
		spoil(book, int(at), text)
		spoil(book, int(at2), text2)
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.WriteAll(book)
		if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		for _, job := range jobs {
			args := append([]string{"pourbook", job[0], path, "--today", "2026-11-05", "--json"}, job[1:]...)
			if job[0] != "check" {
				args = append(args, "--no-documents")
			}
			checkJob(t, args)
		}
	})
}

func checkJob(t *testing.T, args []string) {
	t.Helper()
	var out, errs bytes.Buffer
	code := run(context.Background(), args, streams{in: strings.NewReader(""), out: &out, err: &errs})
	if code == exitFault {
		t.Errorf("%s: %s", args[1], errs.String())
	}
	if code < exitUsage && !json.Valid(out.Bytes()) {
		t.Errorf("%s, exit status %d: no JSON", args[1], code)
	}
	if i := strings.IndexFunc(errs.String(), func(r rune) bool { return r != '\n' && unicode.IsControl(r) }); i >= 0 {
		t.Errorf("%s: a control character in %q", args[1], errs.String())
	}
}

// spoil puts a text into the n-th cell of a book, counted on around its end.
func spoil(rows [][]string, n int, text string) {
	total := 0
	for _, r := range rows {
		total += len(r)
	}
	n %= total
	for i, r := range rows {
		if n < len(r) {
			rows[i] = slices.Clone(r)
			rows[i][n] = text
			return
		}
		n -= len(r)
	}
}

// The book that is spoiled is one that all jobs can be done on.
func TestUnspoiledBook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.csv")
	var b bytes.Buffer
	csv.NewWriter(&b).WriteAll(stacked(t))
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, job := range jobs[1:] {
		args := append([]string{"pourbook", job[0], path, "--today", "2026-11-05", "--no-documents"}, job[1:]...)
		var out, errs bytes.Buffer
		if code := run(context.Background(), args, streams{out: &out, err: &errs}); code != exitDone {
			t.Errorf("%s: exit status %d\n%s", job[0], code, errs.String())
		}
	}
}
