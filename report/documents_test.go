package report

import (
	"errors"
	"testing"

	"pourbook/compute/problem"
)

func drawn(missing ...string) func() ([]byte, []string, error) {
	return func() ([]byte, []string, error) { return []byte("page"), missing, nil }
}

func written() ([]byte, error) { return []byte("sheet"), nil }

func TestPairNamesItsTwoFilesInOrder(t *testing.T) {
	var l problem.List
	docs, err := pair("x", &l, drawn("a letter"), written)
	if err != nil || len(docs) != 2 {
		t.Fatal(docs, err)
	}
	if docs[0].Path != "x.pdf" || string(docs[0].Data) != "page" || docs[1].Path != "x.xlsx" || string(docs[1].Data) != "sheet" {
		t.Errorf("got %s (%s) and %s (%s)", docs[0].Path, docs[0].Data, docs[1].Path, docs[1].Data)
	}
	if all := l.Sorted(); len(all) != 1 || all[0].Code != problem.MissingGlyph {
		t.Errorf("noted %v", all)
	}
}

func TestPairMakesBothAtTheSameTime(t *testing.T) {
	begun := make(chan bool)
	_, err := pair("x", &problem.List{},
		func() ([]byte, []string, error) { begun <- true; return nil, nil, nil },
		func() ([]byte, error) { <-begun; return nil, nil })
	if err != nil {
		t.Error(err)
	}
}

func TestPairReturnsTheFirstErrorInOrder(t *testing.T) {
	page, sheet := errors.New("page"), errors.New("sheet")
	badPage := func() ([]byte, []string, error) { return nil, []string{"a letter"}, page }
	badSheet := func() ([]byte, error) { return nil, sheet }
	var l problem.List
	for range 50 {
		if docs, err := pair("x", &l, badPage, badSheet); err != page || docs != nil {
			t.Fatalf("two errors: %v with %d files", err, len(docs))
		}
	}
	if docs, err := pair("x", &l, drawn("a letter"), badSheet); err != sheet || docs != nil {
		t.Errorf("the workbook's error: %v with %d files", err, len(docs))
	}
	if n := len(l.Sorted()); n != 0 {
		t.Errorf("%d notes on documents that were not made", n)
	}
}
