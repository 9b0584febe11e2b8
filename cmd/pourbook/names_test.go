package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"
)

// Names are found as they stand in the book's cells, whatever is invisible in
// them, and however their accents are spelled.
func TestNamesAsTheyStandInTheBook(t *testing.T) {
	const odd = "Cafe\u0301\u200b\ufeff a\u202eb"
	path := filepath.Join(t.TempDir(), "book.xlsx")
	oddBook(t, path, odd)
	for _, args := range [][]string{
		{"why", path, odd + " L8C"},
		{"why", path, "CAF\u00c9 ab L8C"},
		{"cost", path, "--month", "2026-10"},
		{"plan", path, "--market", "Lantern\u2060 \ufeffFair"},
		{"plan", path, "--by", "2026-12-05", "--units", odd + " L8C=3"},
		{"price", path, "--jar", odd + " Jar", "--recipe", odd + " Lav", "--channel", odd + " Web"},
		{"price", path, "--compare", odd + " Jar,Tin 4 oz"},
		{"price", path, "--jar", "New", "--fill", "7oz", "--part", "wi\u200bck=0.1", "--part", "jar=1"},
	} {
		args = append([]string{"pourbook"}, args...)
		args = append(args, "--today", "2026-11-05")
		if args[1] != "why" {
			args = append(args, "--no-documents")
		}
		var out, errs bytes.Buffer
		if code := run(context.Background(), args, streams{in: strings.NewReader(""), out: &out, err: &errs}); code != exitDone || errs.Len() > 0 {
			t.Errorf("%q: exit status %d, %s", args[1:], code, errs.String())
		}
	}
}
