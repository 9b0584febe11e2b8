package grid

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/cell"
)

// show is a cell as the tests write it: its kind and what it holds.
func show(c Cell) string {
	s := [...]string{"", "text ", "number ", "date ", "bool ", "error ", "no value "}[c.Kind] + c.Raw
	if c.Formula {
		s += " (formula)"
	}
	if c.Percent {
		s += " (percent)"
	}
	if c.Time {
		s += " (time)"
	}
	return s
}

// dump is every cell of a file that is not blank, a line each.
func dump(t *testing.T, f *File) []string {
	t.Helper()
	var out []string
	for _, s := range f.Sheets {
		line := "sheet " + s.Name
		if s.Hidden {
			line += ", hidden"
		}
		for _, m := range s.Merged {
			line += ", merged " + m[0].Name() + ":" + m[1].Name()
		}
		out = append(out, line)
		err := s.Each(func(r Row) error {
			for i, c := range r.Cells {
				if c.Kind == Blank {
					continue
				}
				line := cell.Ref{Sheet: s.Name, Row: r.N, Col: i + 1}.Name() + " " + show(c)
				if r.Hidden {
					line += ", hidden"
				}
				out = append(out, line)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

func mustOpen(t *testing.T, path string) *File {
	t.Helper()
	f, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The same book as openpyxl wrote it, and as LibreOffice and Gnumeric saved it
// after calculating.
const sameBook = `sheet Sales log, merged A1:D1
A1 text Sold at the stall
A3 text Sold on
B3 text Candle
C3 text Qty
D3 text Price each
E3 text Done
A4 date 2026-10-31
B4 text Amber & Öak
C4 number 3
D4 number 12.5
E4 bool TRUE{bool}
A5 date 2026-11-01
B5 text Deep Red
C5 {C5}
D5 number 0.08 (percent)
E5 bool FALSE{bool}
A6 text 2026-11-02
B6 text  spaced  
C6 number -1
D6 number {third}
E6 error #DIV/0!{error}
A7 number {four minutes} (time){B7}
C7 number 46326
D7 number 1.25 (time)
A8 date 2026-12-01, hidden
B8 text hidden row, hidden
A9 date {first}-03-01
B9 text line
break
H12 text far
sheet Notes{hidden}
A1 text hidden sheet
sheet Deep{hidden}
B2 number 1{chart}
sheet Empty`

func TestBooksOfSeveralPrograms(t *testing.T) {
	calculated := []string{"{C5}", "number 6 (formula)", "{B7}", ""}
	never := []string{"{C5}", "no value =C4*2 (formula)", "{B7}", "\nB7 no value =\"\" (formula)"}
	// LibreOffice stores yes and no, and an error, as formulas, and numbers with
	// 15 digits. It makes a sheet of a chart sheet, as Gnumeric does, which
	// shows all sheets.
	libre := []string{"{bool}", " (formula)", "{error}", " (formula)", "{third}", "0.333333333333333", "{four minutes}", "0.00277777777777778"}
	exact := []string{"{bool}", "", "{error}", "", "{third}", "0.3333333333333333", "{four minutes}", "0.002777777777777778"}
	chart, noChart := []string{"{chart}", "\nsheet Chart"}, []string{"{chart}", ""}
	hidden, shown := []string{"{hidden}", ", hidden"}, []string{"{hidden}", ""}
	for _, c := range []struct {
		file  string
		parts [][]string
		first string
	}{
		{"openpyxl", [][]string{never, exact, noChart, hidden}, "1900"},
		{"openpyxl-1904", [][]string{never, exact, noChart, hidden}, "1904"},
		{"libreoffice", [][]string{calculated, libre, chart, hidden}, "1900"},
		{"libreoffice-1904", [][]string{calculated, libre, chart, hidden}, "1904"},
		{"gnumeric", [][]string{calculated, exact, chart, shown}, "1900"},
	} {
		want := strings.ReplaceAll(sameBook, "{first}", c.first)
		for _, p := range c.parts {
			want = strings.NewReplacer(p...).Replace(want)
		}
		f := mustOpen(t, filepath.Join("..", "..", "testdata", "grid", c.file+".xlsx"))
		if diff := cmp.Diff(strings.Split(want, "\n"), strings.Split(strings.Join(dump(t, f), "\n"), "\n")); diff != "" {
			t.Errorf("%s:\n%s", c.file, diff)
		}
		if f.Name != c.file || len(f.Print) != 9 || f.Print[4] != '-' || len(f.Notes) != 0 {
			t.Errorf("%s: name %q, print %q, notes %v", c.file, f.Name, f.Print, f.Notes)
		}
	}
}

func TestSheetsCanBeReadTwiceAndStopped(t *testing.T) {
	f := mustOpen(t, filepath.Join("..", "..", "testdata", "grid", "libreoffice.xlsx"))
	if first, second := dump(t, f), dump(t, f); !cmp.Equal(first, second) {
		t.Error(cmp.Diff(first, second))
	}
	stop := fmt.Errorf("enough")
	rows := 0
	err := f.Sheets[0].Each(func(Row) error { rows++; return stop })
	if err != stop || rows != 1 {
		t.Errorf("%v after %d rows", err, rows)
	}
}
