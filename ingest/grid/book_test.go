package grid

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// part is a part of a package that a test builds.
type part struct{ name, text string }

// parts are those of a small whole book. Tests change one thing at a time.
type parts []part

const (
	mainSpace = `http://schemas.openxmlformats.org/spreadsheetml/2006/main`
	relSpace  = `http://schemas.openxmlformats.org/officeDocument/2006/relationships`
	pkgSpace  = `http://schemas.openxmlformats.org/package/2006/relationships`

	relsPart     = "_rels/.rels"
	bookPart     = "xl/workbook.xml"
	bookRelsPart = "xl/_rels/workbook.xml.rels"
	sheetPartOne = "xl/worksheets/sheet1.xml"
	stringsPart  = "xl/sharedStrings.xml"
	stylesPart   = "xl/styles.xml"
)

// rows is a sheet's XML around its rows; after stands behind them.
func sheetOf(data string, after ...string) string {
	return `<?xml version="1.0"?><worksheet xmlns="` + mainSpace + `"><sheetData>` + data + `</sheetData>` + strings.Join(after, "") + `</worksheet>`
}

const twoRows = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1"><v>2</v></c></row><row r="2"><c r="A2" t="s"><v>1</v></c><c r="C2" s="1"><v>46326</v></c></row>`

// whole is a book with one sheet of two rows.
func whole() parts {
	return parts{
		{relsPart, `<Relationships xmlns="` + pkgSpace + `"><Relationship Id="r1" Type="` + relSpace + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{bookPart, `<workbook xmlns="` + mainSpace + `" xmlns:r="` + relSpace + `"><sheets><sheet name="Sales" sheetId="1" r:id="r1"/></sheets></workbook>`},
		{bookRelsPart, `<Relationships xmlns="` + pkgSpace + `"><Relationship Id="r1" Type="` + relSpace + `/worksheet" Target="worksheets/sheet1.xml"/>` +
			`<Relationship Id="r2" Type="` + relSpace + `/sharedStrings" Target="sharedStrings.xml"/><Relationship Id="r3" Type="` + relSpace + `/styles" Target="/xl/styles.xml"/></Relationships>`},
		{sheetPartOne, sheetOf(twoRows)},
		{stringsPart, `<sst xmlns="` + mainSpace + `"><si><t>Amber</t></si><si><t>Oak</t></si></sst>`},
		{stylesPart, `<styleSheet xmlns="` + mainSpace + `"><cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="9"/></cellXfs></styleSheet>`},
	}
}

// wholeDump is what the cells of whole are.
const wholeDump = "sheet Sales\nA1 text Amber\nB1 number 2\nA2 text Oak\nC2 date 2026-10-31"

func (p parts) set(name, text string) parts {
	out := slices.Clone(p)
	for i := range out {
		if out[i].name == name {
			out[i].text = text
			return out
		}
	}
	return append(out, part{name, text})
}

func (p parts) replace(name, old, text string) parts {
	for _, x := range p {
		if x.name == name {
			if !strings.Contains(x.text, old) {
				panic(name + " has no " + old)
			}
			return p.set(name, strings.Replace(x.text, old, text, 1))
		}
	}
	panic("no part " + name)
}

func (p parts) without(name string) parts {
	return slices.DeleteFunc(slices.Clone(p), func(x part) bool { return x.name == name })
}

func (p parts) zip(t testing.TB, method uint16) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, x := range p {
		w, err := z.CreateHeader(&zip.FileHeader{Name: x.name, Method: method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(x.text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

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
