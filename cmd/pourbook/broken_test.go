package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/check"
	"pourbook/compute/cost"
	"pourbook/compute/day"
	"pourbook/compute/fault"
	"pourbook/compute/plan"
	"pourbook/compute/price"
	"pourbook/ingest"
)

func TestFaultOfTheProgramInWords(t *testing.T) {
	for want, p := range map[string]any{
		"of its own (index out of range). ":                                         "index out of range",
		"(x) while it read book.xlsx. ":                                             ingest.Broken{Path: "book.xlsx", What: "x"},
		"(x) while it read row 9 of the sheet Jars in book.xlsx. ":                  ingest.Broken{Path: "book.xlsx", At: cell.Ref{Sheet: "Jars", Row: 9, Col: 2}, What: "x"},
		"(x) while it worked on L8C, Products!A4. Nothing was written. Please":      fault.Fault{Name: "L8C", At: cell.Ref{Sheet: "Products", Row: 4, Col: 1}, What: "x"},
		"(x) while it worked on a-plan.pdf. Nothing was written. Please":            fault.Fault{Name: "a-plan.pdf", What: "x"},
		"(x) while it worked on Sales, S ales!A3. Nothing":                          fault.Fault{Name: "Sales", At: cell.Ref{Sheet: "S\rales", Row: 3, Col: 1}, What: "x"},
		"(a [2J) while it read row 9 of the sheet J ars in book.xlsx. Nothing was ": ingest.Broken{Path: "book.xlsx", At: cell.Ref{Sheet: "J\nars", Row: 9}, What: "a\x1b[2J"},
	} {
		var out, errs bytes.Buffer
		code := run(context.Background(), []string{"pourbook", "help"}, streams{out: panicking{p}, err: &errs})
		if text := errs.String(); code != exitFault || !strings.Contains(text, want) || strings.Count(text, "\n") != 1 || strings.Contains(text, "goroutine") || out.Len() > 0 {
			t.Errorf("exit status %d: %q, want %q", code, text, want)
		}
	}
}

// After documents are written the line does not say that nothing was.
func TestFaultAfterTheFilesAreWritten(t *testing.T) {
	var errs bytes.Buffer
	path := filepath.Join(t.TempDir(), "new.xlsx")
	code := run(context.Background(), []string{"pourbook", "starter", path}, streams{out: panicking{"x"}, err: &errs})
	if code != exitFault || !strings.Contains(errs.String(), "(x). The files had been written by then. Please") {
		t.Errorf("exit status %d: %q", code, errs.String())
	}
}

// A book that no reader makes is what a fault of the program may leave: its sums
// end with the row that they had in hand, in whichever job.
func TestFaultOfTheSumsSaysTheRow(t *testing.T) {
	today := day.Of(2026, 11, 5)
	for name, breaks := range map[string]struct {
		how  func(*book.Book)
		want string
	}{
		"a product without a jar":      {func(b *book.Book) { b.Products[3].Jar = nil }, "worked on L4N, Products!A5."},
		"an ingredient of nothing":     {func(b *book.Book) { b.Recipes[0].Ingredients[1].Material = nil }, "worked on Lavender, Recipes!"},
		"a part of nothing":            {func(b *book.Book) { b.Jars[0].Parts[0].Material = nil }, "worked on L8C, Products!"},
		"a purchase of nothing":        {func(b *book.Book) { b.Purchases[2].Material = nil }, "worked on Purchases, Purchases!A"},
		"sales of a product not there": {func(b *book.Book) { b.Products = b.Products[:1] }, "worked on Sales, Sales!A"},
	} {
		t.Run(name, func(t *testing.T) {
			b, err := ingest.Read(t.Context(), filepath.Join("..", "..", "testdata", "books", "plain.xlsx"), ingest.Options{Today: today})
			if err != nil {
				t.Fatal(err)
			}
			breaks.how(b)
			for job, work := range map[string]func(){
				"cost":  func() { cost.Run(b, cost.Options{Today: today}) },
				"price": func() { price.Run(b, price.Options{Today: today, All: true}) },
				"plan": func() {
					plan.Run(b, plan.Options{Today: today, Markets: []string{"Lantern Fair"}})
				},
				"check": func() { check.Domain(b, today) },
			} {
				line := func() (line string) {
					defer func() { line = brokenLine(recover(), false) }()
					work()
					return ""
				}()
				if !strings.Contains(line, breaks.want) {
					t.Errorf("%s: %s", job, line)
				}
			}
		})
	}
}

// panicking is an output that panics.
type panicking struct{ p any }

func (w panicking) Write([]byte) (int, error) { panic(w.p) }
