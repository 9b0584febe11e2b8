package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"pourbook/compute/cell"
	"pourbook/ingest"
)

func TestFaultOfTheProgramInWords(t *testing.T) {
	for want, p := range map[string]any{
		"of its own (index out of range). ":                                         "index out of range",
		"(x) while it read book.xlsx. ":                                             ingest.Broken{Path: "book.xlsx", What: "x"},
		"(x) while it read row 9 of the sheet Jars in book.xlsx. ":                  ingest.Broken{Path: "book.xlsx", At: cell.Ref{Sheet: "Jars", Row: 9, Col: 2}, What: "x"},
		"(a [2J) while it read row 9 of the sheet J ars in book.xlsx. Nothing was ": ingest.Broken{Path: "book.xlsx", At: cell.Ref{Sheet: "J\nars", Row: 9}, What: "a\x1b[2J"},
	} {
		var out, errs bytes.Buffer
		code := run(context.Background(), []string{"pourbook", "help"}, streams{out: panicking{p}, err: &errs})
		if text := errs.String(); code != exitFault || !strings.Contains(text, want) || strings.Count(text, "\n") != 1 || strings.Contains(text, "goroutine") || out.Len() > 0 {
			t.Errorf("exit status %d: %q, want %q", code, text, want)
		}
	}
}

// panicking is an output that panics.
type panicking struct{ p any }

func (w panicking) Write([]byte) (int, error) { panic(w.p) }
