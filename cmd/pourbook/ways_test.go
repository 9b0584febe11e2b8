package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/ingest/grid"
)

// Every book gives the same results and messages, whether its rows are scanned
// or walked.
func TestBothWaysOfReadingGiveTheSame(t *testing.T) {
	books, err := filepath.Glob(inTree("testdata/*/*.xlsx"))
	if err != nil || len(books) < 10 {
		t.Fatalf("%d books, %v", len(books), err)
	}
	inDemoFolder(t)
	good := 0
	for _, book := range append(books, "demo.xlsx") {
		for _, args := range [][]string{
			{"cost", book, "--month", "2026-10"}, {"plan", book, "--today", "2026-11-05"}, {"price", book, "--today", "2026-11-05"},
		} {
			args = append(append([]string{"pourbook"}, args...), "--json", "--no-documents")
			scanned, code := saidBy(context.Background(), args)
			walked, walkedCode := saidBy(grid.WalkOnly(context.Background()), args)
			if d := cmp.Diff(walked, scanned); d != "" || code != walkedCode {
				t.Errorf("%v: exit status %d, walked %d\n%s", args, code, walkedCode, d)
			}
			if code == 0 {
				good++
			}
		}
	}
	if good < len(books) {
		t.Errorf("only %d of the commands gave results", good)
	}
}

func saidBy(ctx context.Context, args []string) (text string, code int) {
	var out, errs bytes.Buffer
	code = run(ctx, args, streams{in: strings.NewReader(""), out: &out, err: &errs})
	return out.String() + "\n" + errs.String(), code
}
