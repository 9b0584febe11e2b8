package grid

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourbook/ingest/grid/gridtest"
)

// sheetOf is a sheet's XML around its rows; after stands behind them.
func sheetOf(data string, after ...string) string {
	return `<?xml version="1.0"?><worksheet xmlns="` + gridtest.MainSpace + `"><sheetData>` + data + `</sheetData>` + strings.Join(after, "") + `</worksheet>`
}

const twoRows = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1"><v>2</v></c></row><row r="2"><c r="A2" t="s"><v>1</v></c><c r="C2" s="1"><v>46326</v></c></row>`

// whole is a book with one sheet of two rows.
func whole() gridtest.Parts {
	return gridtest.Parts{
		{Name: gridtest.Rels, Text: `<Relationships xmlns="` + gridtest.PkgSpace + `"><Relationship Id="r1" Type="` + gridtest.RelSpace + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{Name: gridtest.Book, Text: `<workbook xmlns="` + gridtest.MainSpace + `" xmlns:r="` + gridtest.RelSpace + `"><sheets><sheet name="Sales" sheetId="1" r:id="r1"/></sheets></workbook>`},
		{Name: gridtest.BookRels, Text: `<Relationships xmlns="` + gridtest.PkgSpace + `"><Relationship Id="r1" Type="` + gridtest.RelSpace + `/worksheet" Target="worksheets/sheet1.xml"/>` +
			`<Relationship Id="r2" Type="` + gridtest.RelSpace + `/sharedStrings" Target="sharedStrings.xml"/><Relationship Id="r3" Type="` + gridtest.RelSpace + `/styles" Target="/xl/styles.xml"/></Relationships>`},
		{Name: gridtest.Sheet, Text: sheetOf(twoRows)},
		{Name: gridtest.Texts, Text: `<sst xmlns="` + gridtest.MainSpace + `"><si><t>Amber</t></si><si><t>Oak</t></si></sst>`},
		{Name: gridtest.Styles, Text: `<styleSheet xmlns="` + gridtest.MainSpace + `"><cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="9"/></cellXfs></styleSheet>`},
	}
}

// wholeDump is what the cells of whole are.
const wholeDump = "sheet Sales\nA1 text Amber\nB1 number 2\nA2 text Oak\nC2 date 2026-10-31"

// packOf is the package that bytes are.
func packOf(data []byte) (*pack, error) {
	return newPack(context.Background(), bytes.NewReader(data), int64(len(data)))
}

// file writes bytes to a file of that name.
func file(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Each calls f for every row that has a cell, in order. It stops at f's first
// error and returns it; damage of the file is an error too, and
// so are merged areas found late (ErrMerged).
func (s *Sheet) Each(f func(Row) error) error { return s.rows.each(f) }

// readAll opens a file and reads every row of every sheet.
func readAll(path string) error {
	f, err := Open(context.Background(), path)
	if err != nil {
		return err
	}
	for _, s := range f.Sheets {
		if err := s.Each(func(Row) error { return nil }); err != nil {
			return err
		}
	}
	return nil
}

// keyOf is the fault of a file, "" for none.
func keyOf(t *testing.T, path string) string {
	t.Helper()
	err := readAll(path)
	if err == nil {
		return ""
	}
	var f *Fault
	if !errors.As(err, &f) {
		t.Errorf("%v is no fault", err)
		return "?"
	}
	if f.Path != path || len(f.Args)%2 != 0 {
		t.Errorf("fault %+v of %s", f, path)
	}
	return f.Key
}
