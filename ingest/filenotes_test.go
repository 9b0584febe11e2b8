package ingest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"pourbook/compute/problem"
)

// How a file was read is a note, of a book as of a file of more sales.
func TestNotesOfFiles(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, e encoding.Encoding, text string) string {
		data, err := e.NewEncoder().String(text)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	workbook := func(name string) string {
		data, err := os.ReadFile(writeBook(t, sheet{name: "Seasons", rows: "Season|Starts\nWinter|2026-12-01"}))
		if err != nil {
			t.Fatal(err)
		}
		return write(name, encoding.Nop, string(data))
	}
	const book, sales = "Seasons\n\nSeason;Starts\nAnnée;12-01\n", "Date;Product;Quantity\n2026-10-01;Café;1\n"
	wide := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	plain := workbook("plain.xlsx")
	for name, c := range map[string]struct {
		book  string
		sales []string
		want  []string
	}{
		"a workbook":                  {plain, nil, nil},
		"a workbook of another name":  {workbook("book.zip"), nil, []string{" ending [file book.zip]"}},
		"a book in UTF-16":            {write("wide.csv", wide, book), nil, []string{"wide.csv text-file [encoding UTF-16LE separator ;]"}},
		"a book of Windows":           {write("old.csv", charmap.Windows1252, book), nil, []string{"old.csv text-file [encoding Windows-1252 separator ;]"}},
		"sales in UTF-16":             {plain, []string{write("w.csv", wide, sales)}, []string{"w.csv text-file [encoding UTF-16LE separator ;]"}},
		"sales of Windows, and UTF-8": {plain, []string{write("o.csv", charmap.Windows1252, sales), write("u.csv", encoding.Nop, sales)}, []string{"o.csv text-file [encoding Windows-1252 separator ;]", "u.csv text-file [encoding UTF-8 separator ;]"}},
		"sales of another name":       {plain, []string{workbook("s.csv")}, []string{"s.csv ending [file s.csv]"}},
	} {
		t.Run(name, func(t *testing.T) {
			b, err := Read(context.Background(), c.book, Options{Sales: c.sales})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, p := range b.Problems.Sorted() {
				if p.Code == problem.NumberStyle && p.Severity == problem.Note {
					got = append(got, fmt.Sprint(p.At, " ", p.Say, " ", p.Args))
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
