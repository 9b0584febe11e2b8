package ingest

import (
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/ingest/grid"
)

// A fault of the program while it reads says which row it had in hand.
func TestPanicSaysTheRow(t *testing.T) {
	r := &reader{book: &book.Book{Path: "book.xlsx"}}
	b := &block{sheet: "Jars", rows: []record{{n: 7}, {n: 9, cells: []grid.Cell{{}}}}}
	b.first = 1
	defer func() {
		got, ok := recover().(Broken)
		if want := (cell.Ref{Sheet: "Jars", Row: 9, Col: 2}); !ok || got.At != want || got.Path != "book.xlsx" || got.What != "spilled" {
			t.Errorf("%+v", got)
		}
	}()
	func() {
		defer r.placePanic()
		r.each(b, func(l *line) {
			if l.rec.n == 9 {
				panic("spilled")
			}
		})
	}()
	t.Error("no panic")
}

// So it does while it looks for tables and takes in sales.
func TestPlaceOfEveryRow(t *testing.T) {
	for name, read := range map[string]func(w *walker, row int){
		"a row": func(w *walker, row int) {
			w.row(grid.Row{N: row, Cells: []grid.Cell{{Kind: grid.Text, Raw: "Amber"}}})
		},
		"a raw row": func(w *walker, row int) {
			w.sheet = nil // which no sheet does
			w.raw(&grid.RawRow{N: row})
		},
	} {
		r := &reader{book: &book.Book{}, layout: &Layout{}}
		w := &walker{reader: r, label: "Sales", known: map[string]bool{}}
		func() {
			defer func() { recover() }()
			read(w, 5)
		}()
		if want := (cell.Ref{Sheet: "Sales", Row: 5, Col: 1}); r.place != want {
			t.Errorf("%s: the place is %v", name, r.place)
		}
	}
}
