//go:build unix

package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pourbook/ingest/grid/gridtest"
)

// cutFiles are books whose file was damaged on the way.
func cutFiles(t *testing.T, good []byte, p gridtest.Parts) map[string]badFile {
	t.Helper()
	sheet := p.Text(gridtest.Sheet)
	return map[string]badFile{
		"the start only":            {data: good[:4], words: "cut off"},
		"the last byte missing":     {data: good[:len(good)-1], words: "cut off"},
		"the directory missing":     {data: good[:len(good)-200], words: "cut off"},
		"the second half missing":   {data: good[:len(good)/2], words: "cut off"},
		"the first half missing":    {data: good[len(good)/2:], words: "neither a book nor a text file"},
		"a hole of zeros":           {data: bytes.Join([][]byte{good[:3_000], make([]byte, 2_000), good[5_000:]}, nil), words: "damaged"},
		"a wrong checksum":          {data: claimed(p, uint64(len(sheet)), sumOf(sheet)+1), words: gridtest.Sheet},
		"a checksum of zero":        {data: claimed(p, uint64(len(sheet)), 0), words: gridtest.Sheet},
		"a size too small":          {data: claimed(p, uint64(len(sheet)-20), sumOf(sheet)), words: gridtest.Sheet},
		"a size too large":          {data: claimed(p, uint64(len(sheet)+20), sumOf(sheet)), words: gridtest.Sheet},
		"a directory that lies":     {data: directoryLies(good, gridtest.Sheet), words: gridtest.Sheet},
		"a repaired directory":      {data: repairedDirectory(t, good), words: gridtest.Sheet},
		"an unknown way of packing": {data: packedOddly(good), words: "damaged"},
	}
}

// badParts are books with a part that cannot be read.
func badParts(p gridtest.Parts) map[string]badFile {
	sheet := p.Text(gridtest.Sheet)
	return map[string]badFile{
		"a sheet cut in a tag":     {data: p.Set(gridtest.Sheet, sheet[:strings.LastIndex(sheet, "</row")+3]).Zip(), words: gridtest.Sheet},
		"an empty sheet part":      {data: p.Set(gridtest.Sheet, "").Zip(), words: gridtest.Sheet},
		"a bare &":                 {data: p.Change(gridtest.Sheet, "<sheetData>", "<sheetData>&").Zip(), words: gridtest.Sheet},
		"tags crossed":             {data: p.Change(gridtest.Sheet, "</c></row>", "</row></c>").Zip(), words: gridtest.Sheet},
		"a control character":      {data: p.Change(gridtest.Sheet, "<sheetData>", "<sheetData>\x01").Zip(), words: gridtest.Sheet},
		"a document type":          {data: p.Change(gridtest.Book, "<workbook", "<!DOCTYPE a [<!ENTITY b \"c\">]><workbook").Zip(), words: "document type"},
		"an encoding that is not":  {data: p.Set(gridtest.Sheet, `<?xml version="1.0" encoding="EBCDIC"?><worksheet/>`).Zip(), words: gridtest.Sheet},
		"a part of another kind":   {data: p.Set(gridtest.Sheet, "<chart/>").Zip(), words: gridtest.Sheet},
		"the wrong parts as each":  {data: p.Set(gridtest.Sheet, p.Text(gridtest.Styles)).Zip(), words: gridtest.Sheet},
		"a binary part as a sheet": {data: p.Set(gridtest.Sheet, "\x00\x01\x02").Zip(), words: gridtest.Sheet},
		"texts that are a sheet":   {data: p.Set(gridtest.Texts, sheet).Zip(), words: gridtest.Texts},
		"texts cut off":            {data: p.Set(gridtest.Texts, p.Text(gridtest.Texts)[:300]).Zip(), words: gridtest.Texts},
	}
}

// badRows are books with a row that cannot be.
func badRows(p gridtest.Parts) map[string]badFile {
	row := func(cells string) []byte { return withRows(p, cells) }
	return map[string]badFile{
		"a text that is not there":   {data: row(`<row r="1"><c r="A1" t="s"><v>99999</v></c></row>`), words: "a text that the book does not have"},
		"a format that is not there": {data: row(`<row r="1"><c r="A1" s="9999"><v>1</v></c></row>`), words: "a format that the book does not have"},
		"a cell of no kind":          {data: row(`<row r="1"><c r="A1" t="zz"><v>1</v></c></row>`), words: "unknown kind"},
		"rows out of order":          {data: row(`<row r="9"/><row r="2"/>`), words: "row 2 of the sheet"},
		"a cell twice":               {data: row(`<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>`), words: "out of place"},
		"a text too long":            {data: row(`<row r="1"><c r="A1" t="str"><v>` + strings.Repeat("x", 40_000) + `</v></c></row>`), words: "more than 32767 characters"},
		"a row beyond the last":      {data: row(`<row r="99999999"><c><v>1</v></c></row>`), words: "row 99999999"},
		"a column beyond the last":   {data: row(`<row r="1"><c r="ZZZ1"><v>1</v></c></row>`), words: "wider than a spreadsheet"},
	}
}

// withRows is a book whose first sheet holds nothing but rows.
func withRows(p gridtest.Parts, rows string) []byte {
	return p.Set(gridtest.Sheet, `<worksheet xmlns="`+gridtest.MainSpace+`"><sheetData>`+rows+`</sheetData></worksheet>`).Zip()
}

// badRelations are books whose parts refer to one another wrongly.
func badRelations(p gridtest.Parts) map[string]badFile {
	return map[string]badFile{
		"relations lost":             {data: p.Without(gridtest.BookRels).Zip(), words: "is not there"},
		"package relations lost":     {data: p.Without(gridtest.Rels).Zip(), words: "holds none"},
		"relations cut":              {data: p.Set(gridtest.BookRels, p.Text(gridtest.BookRels)[:150]).Zip(), words: gridtest.BookRels},
		"a relation to nowhere":      {data: p.Change(gridtest.BookRels, "worksheets/sheet1.xml", "worksheets/gone.xml").Zip(), words: "is not there"},
		"a relation to itself":       {data: p.Change(gridtest.Rels, "xl/workbook.xml", "_rels/.rels").Zip(), words: "no sheet with cells"},
		"relations in a circle":      {data: p.Change(gridtest.BookRels, "worksheets/sheet1.xml", "workbook.xml").Zip(), words: "damaged"},
		"a relation out of the book": {data: p.Change(gridtest.BookRels, "worksheets/sheet1.xml", "../../../../etc/passwd").Zip(), words: "is not there"},
		"a relation to the web":      {data: p.Change(gridtest.BookRels, `Target="worksheets/sheet1.xml"`, `TargetMode="External" Target="http://127.0.0.1:9/"`).Zip(), words: "is not there"},
		"a relation twice":           {data: p.Change(gridtest.BookRels, "</Relationships>", strings.Repeat(`<Relationship Id="rId1" Type="x" Target="y"/>`, 2)+"</Relationships>").Zip(), words: gridtest.BookRels},
	}
}

// partsAmiss are books with a part too few or too many.
func partsAmiss(p gridtest.Parts) map[string]badFile {
	sheet := p.Text(gridtest.Sheet)
	return map[string]badFile{
		"no book":                     {data: p.Without(gridtest.Book).Zip(), words: gridtest.Book},
		"no sheet":                    {data: p.Without(gridtest.Sheet).Zip(), words: "is not there"},
		"no texts":                    {data: p.Without(gridtest.Texts).Zip(), words: gridtest.Texts},
		"no formats":                  {data: p.Without(gridtest.Styles).Zip(), words: gridtest.Styles},
		"a part twice":                {data: p.With(gridtest.Sheet, sheet).Zip(), words: "twice"},
		"a part twice in other case":  {data: p.With(strings.ToUpper(gridtest.Sheet), sheet).Zip(), words: "twice"},
		"a sheet name twice":          {data: p.Change(gridtest.Book, "</sheets>", `<sheet name="Products" sheetId="99" r:id="rId2"/></sheets>`).Zip(), words: "two sheets have the name Products"},
		"a book without a sheet":      {data: p.Set(gridtest.Book, `<workbook xmlns="`+gridtest.MainSpace+`"><sheets/></workbook>`).Zip(), words: "no sheet with cells"},
		"a name that climbs, damaged": {data: claimed(p.With("../../evil", "x"), 9, 9), words: gridtest.Sheet},
	}
}

// oddBooks are read: what is wrong is a matter of their tables.
func oddBooks(good []byte, p gridtest.Parts) map[string]badFile {
	sheet := p.Text(gridtest.Sheet)
	return map[string]badFile{
		"formulas that refer to themselves": {data: withRows(p, `<row r="1"><c r="A1"><f>A1+1</f></c><c r="B1"><f>SUM(A:B)</f></c></row>`), status: exitBook},
		"a name that climbs":                {data: slices.Concat(gridtest.Parts{}.With("../../evil", "x").With("/etc/evil", "x").With(`C:\evil`, "x"), p).Zip(), status: exitBook},
		"half a book behind a book":         {data: append(bytes.Clone(good), good[:len(good)/2]...), status: exitBook},
		"no content types":                  {data: p.Without("[Content_Types].xml").Zip(), status: exitBook},
		"wrong content types":               {data: p.Set("[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="image/png"/></Types>`).Zip(), status: exitBook},
		"an absurd dimension":               {data: p.Set(gridtest.Sheet, withDimension(sheet)).Zip(), status: exitBook},
	}
}

// packedOddly says in every header that the part is packed in a way (12) that
// nobody reads.
func packedOddly(good []byte) []byte {
	b := bytes.Clone(good)
	for i := range len(b) - 46 {
		switch string(b[i : i+4]) {
		case "PK\x03\x04":
			b[i+8] = 12
		case "PK\x01\x02":
			b[i+10] = 12
		}
	}
	return b
}

func withDimension(sheet string) string {
	const absurd = `<dimension ref="A1:XFD1048576"/>`
	if i := strings.Index(sheet, "<dimension"); i >= 0 {
		return sheet[:i] + absurd + sheet[i+strings.Index(sheet[i:], "/>")+2:]
	}
	return strings.Replace(sheet, "<sheetData", absurd+"<sheetData", 1)
}
