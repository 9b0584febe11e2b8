package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// bookParts are the parts of a book's package, in order; tests change one
// thing at a time.
type bookParts []bookPart

type bookPart struct{ name, text string }

const (
	mainSpace = `http://schemas.openxmlformats.org/spreadsheetml/2006/main`
	relSpace  = `http://schemas.openxmlformats.org/officeDocument/2006/relationships`
	pkgSpace  = `http://schemas.openxmlformats.org/package/2006/relationships`

	firstSheet  = "xl/worksheets/sheet1.xml"
	sharedTexts = "xl/sharedStrings.xml"
	bookXML     = "xl/workbook.xml"
	bookRels    = "xl/_rels/workbook.xml.rels"
	packageRels = "_rels/.rels"
	styleSheet  = "xl/styles.xml"
)

// partsOf are the parts of a package.
func partsOf(t testing.TB, data []byte) bookParts {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out bookParts
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, bookPart{f.Name, string(text)})
	}
	return out
}

// goodBook is the test book as LibreOffice saved it.
func goodBook(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "books", "office.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func (p bookParts) text(t testing.TB, name string) string {
	t.Helper()
	i := slices.IndexFunc(p, func(x bookPart) bool { return x.name == name })
	if i < 0 {
		t.Fatalf("the book has no part %s", name)
	}
	return p[i].text
}

func (p bookParts) set(name, text string) bookParts {
	out := slices.Clone(p)
	for i := range out {
		if out[i].name == name {
			out[i].text = text
			return out
		}
	}
	return append(out, bookPart{name, text})
}

// change replaces the first old text of a part.
func (p bookParts) change(t testing.TB, name, old, text string) bookParts {
	t.Helper()
	s := p.text(t, name)
	if !strings.Contains(s, old) {
		t.Fatalf("%s has no %s", name, old)
	}
	return p.set(name, strings.Replace(s, old, text, 1))
}

func (p bookParts) without(name string) bookParts {
	return slices.DeleteFunc(slices.Clone(p), func(x bookPart) bool { return x.name == name })
}

func (p bookParts) zip(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, x := range p {
		w, err := z.Create(x.name)
		if err == nil {
			_, err = io.WriteString(w, x.text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// claimed has a part whose header says a size and checksum of the test's
// choice.
func (p bookParts) claimed(t testing.TB, name string, size uint64, sum uint32) []byte {
	t.Helper()
	text := p.text(t, name)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, x := range p.without(name) {
		w, _ := z.Create(x.name)
		io.WriteString(w, x.text)
	}
	w, err := z.CreateRaw(&zip.FileHeader{Name: name, CRC32: sum, CompressedSize64: uint64(len(text)), UncompressedSize64: size})
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(w, text)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func sumOf(s string) uint32 { return crc32.ChecksumIEEE([]byte(s)) }

// sheetsBook has so many sheets, each of the XML that row gives.
func sheetsBook(sheets int, rows func(w io.Writer, sheet int)) []byte {
	var b, list, rels bytes.Buffer
	z := zip.NewWriter(&b)
	add := func(name, text string) {
		w, _ := z.Create(name)
		io.WriteString(w, text)
	}
	for i := range sheets {
		fmt.Fprintf(&list, `<sheet name="S%d" sheetId="%d" r:id="r%d"/>`, i, i+1, i)
		fmt.Fprintf(&rels, `<Relationship Id="r%d" Type="%s/worksheet" Target="worksheets/s%d.xml"/>`, i, relSpace, i)
	}
	add(packageRels, `<Relationships xmlns="`+pkgSpace+`"><Relationship Id="r" Type="`+relSpace+`/officeDocument" Target="xl/workbook.xml"/></Relationships>`)
	add(bookXML, `<workbook xmlns="`+mainSpace+`" xmlns:r="`+relSpace+`"><sheets>`+list.String()+`</sheets></workbook>`)
	add(bookRels, `<Relationships xmlns="`+pkgSpace+`">`+rels.String()+`</Relationships>`)
	for i := range sheets {
		w, _ := z.Create(fmt.Sprintf("xl/worksheets/s%d.xml", i))
		io.WriteString(w, `<worksheet xmlns="`+mainSpace+`"><sheetData>`)
		rows(w, i)
		io.WriteString(w, `</sheetData></worksheet>`)
	}
	z.Close()
	return b.Bytes()
}

// textRow is a row of texts and numbers.
func textRow(w io.Writer, values ...any) {
	io.WriteString(w, "<row>")
	for _, v := range values {
		if s, ok := v.(string); ok {
			io.WriteString(w, `<c t="str"><v>`+s+`</v></c>`)
		} else {
			fmt.Fprintf(w, `<c><v>%v</v></c>`, v)
		}
	}
	io.WriteString(w, "</row>")
}

// loose is a text that does not pack well, so that no ratio gives a bomb away.
func loose(r *rand.Rand) string { return fmt.Sprintf("n%x", r.Uint64()>>24) }

// repairedDirectory is a package of whose first sheet a part is gone, and whose
// directory was written anew for what is left, as repair programs do.
func repairedDirectory(t testing.TB, data []byte) []byte {
	t.Helper()
	p := partsOf(t, data)
	text := p.text(t, firstSheet)
	return p.set(firstSheet, text[:strings.LastIndex(text[:2*len(text)/3], "<row")]).zip(t)
}

// directoryLies has in its directory another size than the part has.
func directoryLies(data []byte, name string) []byte {
	b := bytes.Clone(data)
	i := bytes.LastIndex(b, []byte(name)) - 46 // the directory's entry (APPNOTE 4.3.12)
	binary.LittleEndian.PutUint32(b[i+24:], binary.LittleEndian.Uint32(b[i+24:])-20)
	return b
}
