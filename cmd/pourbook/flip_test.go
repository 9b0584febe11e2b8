package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourbook/compute/oracle"
)

// A bit that flipped on the way makes a book a fault, or changes no figure.
func TestFlippedBits(t *testing.T) {
	flips := 1_000
	if oracle.Brief() {
		flips = 100
	}
	good := goodBook(t)
	path := filepath.Join(t.TempDir(), "book.xlsx")
	cost := func(data []byte) (code int, out, errs string) {
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		var o, e bytes.Buffer
		code = run(context.Background(), []string{"pourbook", "cost", path, "--month", "2026-10", "--today", "2026-11-05", "--json", "--no-documents"},
			streams{in: strings.NewReader(""), out: &o, err: &e})
		return code, o.String(), e.String()
	}
	code, want, errs := cost(good)
	if code != exitDone || !json.Valid([]byte(want)) {
		t.Fatalf("the good book: exit status %d, %s", code, errs)
	}
	random := rand.New(rand.NewPCG(8, 1000))
	refused := 0
	for range flips {
		b := bytes.Clone(good)
		at, bit := random.IntN(len(b)), random.IntN(8)
		b[at] ^= 1 << bit
		code, out, errs := cost(b)
		switch {
		case code == exitFile && strings.HasPrefix(errs, path+": ") && strings.Count(errs, "\n") == 1 && out == "":
			refused++
		case code != exitDone:
			t.Errorf("bit %d of byte %d: exit status %d, %s", bit, at, code, errs)
		case out != want:
			t.Errorf("bit %d of byte %d changed the results", bit, at)
		}
	}
	t.Logf("%d of %d refused, the others read to the same figures", refused, flips)
	if refused < flips/2 {
		t.Errorf("only %d of %d books were refused", refused, flips)
	}
}
