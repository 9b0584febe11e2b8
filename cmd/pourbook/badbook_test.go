package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"pourbook/ingest/grid/gridtest"
)

// goodBook is the test book as LibreOffice saved it.
func goodBook(t testing.TB) []byte {
	t.Helper()
	return []byte(fromTree(t, "testdata/books/office.xlsx"))
}

// claimed has a header before the first sheet that claims a size and checksum.
func claimed(p gridtest.Parts, size uint64, sum uint32) []byte {
	text := p.Text(gridtest.Sheet)
	return p.Claimed(zip.FileHeader{Name: gridtest.Sheet, CRC32: sum, CompressedSize64: uint64(len(text)), UncompressedSize64: size}, text)
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
		fmt.Fprintf(&rels, `<Relationship Id="r%d" Type="%s/worksheet" Target="worksheets/s%d.xml"/>`, i, gridtest.RelSpace, i)
	}
	add(gridtest.Rels, `<Relationships xmlns="`+gridtest.PkgSpace+`"><Relationship Id="r" Type="`+gridtest.RelSpace+`/officeDocument" Target="xl/workbook.xml"/></Relationships>`)
	add(gridtest.Book, `<workbook xmlns="`+gridtest.MainSpace+`" xmlns:r="`+gridtest.RelSpace+`"><sheets>`+list.String()+`</sheets></workbook>`)
	add(gridtest.BookRels, `<Relationships xmlns="`+gridtest.PkgSpace+`">`+rels.String()+`</Relationships>`)
	for i := range sheets {
		w, _ := z.Create(fmt.Sprintf("xl/worksheets/s%d.xml", i))
		io.WriteString(w, `<worksheet xmlns="`+gridtest.MainSpace+`"><sheetData>`)
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
	p := gridtest.Of(t, data)
	text := p.Text(gridtest.Sheet)
	return p.Set(gridtest.Sheet, text[:strings.LastIndex(text[:2*len(text)/3], "<row")]).Zip()
}

// directoryLies has in its directory another size than the part has.
func directoryLies(data []byte, name string) []byte {
	b := bytes.Clone(data)
	i := bytes.LastIndex(b, []byte(name)) - 46 // the directory's entry (APPNOTE 4.3.12)
	binary.LittleEndian.PutUint32(b[i+24:], binary.LittleEndian.Uint32(b[i+24:])-20)
	return b
}
