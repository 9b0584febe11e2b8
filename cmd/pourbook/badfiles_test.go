//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"pourbook/ingest/grid/gridtest"
)

// badFile is a file that is no sound book: as bytes, or made by put. The
// program says words of it; status is exitFile where nothing else is said.
type badFile struct {
	name   string // of the file; book.xlsx where nothing is said
	data   []byte
	put    func(path string) error
	words  string
	status int
}

// badFiles is the catalogue, by what is wrong.
func badFiles(t *testing.T) map[string]badFile {
	good := goodBook(t)
	p := gridtest.Of(t, good)
	sheet := p.Text(gridtest.Sheet)
	locked, err := excelize.Encrypt(good, &excelize.Options{Password: "wick"})
	if err != nil {
		t.Fatal(err)
	}
	fixture := func(name string) []byte { return []byte(fromTree(t, "testdata/grid/"+name)) }
	row := func(cells string) []byte {
		return p.Set(gridtest.Sheet, `<worksheet xmlns="`+gridtest.MainSpace+`"><sheetData>`+cells+`</sheetData></worksheet>`).Zip()
	}
	files := map[string]badFile{
		// No file, or another kind of file.
		"not there":                  {put: func(string) error { return nil }, words: "there is no such file"},
		"empty":                      {data: []byte{}, words: "the file is empty"},
		"a folder":                   {put: func(path string) error { return os.Mkdir(path, 0o755) }, words: "this is a folder"},
		"a pipe":                     {put: func(path string) error { return syscall.Mkfifo(path, 0o600) }, words: "not an ordinary file"},
		"a device":                   {put: func(path string) error { return os.Symlink("/dev/zero", path) }, words: "not an ordinary file"},
		"a link to nowhere":          {put: func(path string) error { return os.Symlink("nowhere", path) }, words: "there is no such file"},
		"a link to itself":           {put: func(path string) error { return os.Symlink(filepath.Base(path), path) }, words: "could not be read"},
		"only zeros":                 {data: make([]byte, 5_000), words: "nothing but zeros"},
		"a lock note":                {name: "~$book.xlsx", data: []byte("\x05owner"), words: "only a note"},
		"an old .xls":                {name: "book.xls", data: fixture("old.xls"), words: "old .xls form"},
		"an old .xls named .xlsx":    {data: fixture("old.xls"), words: "old .xls form"},
		"an .ods":                    {name: "book.ods", data: fixture("open.ods"), words: "OpenDocument"},
		"an .ods named .xlsx":        {data: fixture("open.ods"), words: "OpenDocument"},
		"an .xlsb":                   {name: "book.xlsb", data: p.Change(gridtest.Rels, "workbook.xml", "workbook.bin").Zip(), words: "binary book"},
		"a text document":            {name: "book.docx", data: p.Change(gridtest.Rels, "xl/workbook.xml", "word/document.xml").Zip(), words: "packed like a book but holds none"},
		"another archive":            {name: "book.7z", data: gridtest.Parts{}.With("notes.txt", "x").Zip(), words: "packed like a book but holds none"},
		"an archive without a part":  {data: gridtest.Parts{}.Zip(), words: "packed like a book but holds none"},
		"a PDF":                      {data: []byte("%PDF-1.7\n%\xe2\xe3\n"), words: "this is a PDF"},
		"a picture":                  {data: []byte("\x89PNG\r\n\x1a\n\x00\x00"), words: "this is a picture"},
		"a web page named .xls":      {name: "book.xls", data: []byte("<html><table><tr><td>1"), words: "web page"},
		"a web page named .xlsx":     {data: []byte("<!DOCTYPE html>\n<html>"), words: "web page"},
		"XML named .xlsx":            {data: []byte(`<?xml version="1.0"?><Workbook/>`), words: "an XML file"},
		"values named .xlsx":         {data: []byte("Date,Qty\n2026-10-31,3\n"), words: "plain text file"},
		"a program":                  {data: []byte("\x7fELF\x02\x01\x01\x00\x00"), words: "neither a book nor a text file"},
		"a compound file":            {data: []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 and nothing"), words: "neither a book nor a text file"},
		"a password":                 {data: locked, words: "protected by a password"},
		"a .csv with a quote open":   {name: "book.csv", data: []byte("a,b\n\"1,2\n"), words: "line 2"},
		"a .csv of other bytes":      {name: "book.csv", data: []byte("a,b\x00\x01"), words: "neither a book nor a text file"},
		"larger than any book":       {put: func(path string) error { return errorsOf(os.WriteFile(path, good, 0o600), os.Truncate(path, 129<<20)) }, words: "larger than"},
		"a .csv of too many columns": {name: "book.csv", data: []byte("a\n" + strings.Repeat(",", 20_000) + "1\n"), words: "more than 16384 values"},

		// Damaged on the way.
		"the start only":              {data: good[:4], words: "cut off"},
		"the last byte missing":       {data: good[:len(good)-1], words: "cut off"},
		"the directory missing":       {data: good[:len(good)-200], words: "cut off"},
		"the second half missing":     {data: good[:len(good)/2], words: "cut off"},
		"the first half missing":      {data: good[len(good)/2:], words: "neither a book nor a text file"},
		"a hole of zeros":             {data: bytes.Join([][]byte{good[:3_000], make([]byte, 2_000), good[5_000:]}, nil), words: "damaged"},
		"a wrong checksum":            {data: claimed(p, uint64(len(sheet)), sumOf(sheet)+1), words: gridtest.Sheet},
		"a checksum of zero":          {data: claimed(p, uint64(len(sheet)), 0), words: gridtest.Sheet},
		"a size too small":            {data: claimed(p, uint64(len(sheet)-20), sumOf(sheet)), words: gridtest.Sheet},
		"a size too large":            {data: claimed(p, uint64(len(sheet)+20), sumOf(sheet)), words: gridtest.Sheet},
		"a directory that lies":       {data: directoryLies(good, gridtest.Sheet), words: gridtest.Sheet},
		"a repaired directory":        {data: repairedDirectory(t, good), words: gridtest.Sheet},
		"a sheet cut in a tag":        {data: p.Set(gridtest.Sheet, sheet[:strings.LastIndex(sheet, "</row")+3]).Zip(), words: gridtest.Sheet},
		"an empty sheet part":         {data: p.Set(gridtest.Sheet, "").Zip(), words: gridtest.Sheet},
		"a bare &":                    {data: p.Change(gridtest.Sheet, "<sheetData>", "<sheetData>&").Zip(), words: gridtest.Sheet},
		"tags crossed":                {data: p.Change(gridtest.Sheet, "</c></row>", "</row></c>").Zip(), words: gridtest.Sheet},
		"a control character":         {data: p.Change(gridtest.Sheet, "<sheetData>", "<sheetData>\x01").Zip(), words: gridtest.Sheet},
		"a document type":             {data: p.Change(gridtest.Book, "<workbook", "<!DOCTYPE a [<!ENTITY b \"c\">]><workbook").Zip(), words: "document type"},
		"an encoding that is not":     {data: p.Set(gridtest.Sheet, `<?xml version="1.0" encoding="EBCDIC"?><worksheet/>`).Zip(), words: gridtest.Sheet},
		"a part of another kind":      {data: p.Set(gridtest.Sheet, "<chart/>").Zip(), words: gridtest.Sheet},
		"the wrong parts as each":     {data: p.Set(gridtest.Sheet, p.Text(gridtest.Styles)).Zip(), words: gridtest.Sheet},
		"a binary part as a sheet":    {data: p.Set(gridtest.Sheet, "\x00\x01\x02").Zip(), words: gridtest.Sheet},
		"texts that are a sheet":      {data: p.Set(gridtest.Texts, sheet).Zip(), words: gridtest.Texts},
		"texts cut off":               {data: p.Set(gridtest.Texts, p.Text(gridtest.Texts)[:300]).Zip(), words: gridtest.Texts},
		"a text that is not there":    {data: row(`<row r="1"><c r="A1" t="s"><v>99999</v></c></row>`), words: "a text that the book does not have"},
		"a format that is not there":  {data: row(`<row r="1"><c r="A1" s="9999"><v>1</v></c></row>`), words: "a format that the book does not have"},
		"a cell of no kind":           {data: row(`<row r="1"><c r="A1" t="zz"><v>1</v></c></row>`), words: "unknown kind"},
		"rows out of order":           {data: row(`<row r="9"/><row r="2"/>`), words: "row 2 of the sheet"},
		"a cell twice":                {data: row(`<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>`), words: "out of place"},
		"a text too long":             {data: row(`<row r="1"><c r="A1" t="str"><v>` + strings.Repeat("x", 40_000) + `</v></c></row>`), words: "more than 32767 characters"},
		"a row beyond the last":       {data: row(`<row r="99999999"><c><v>1</v></c></row>`), words: "row 99999999"},
		"a column beyond the last":    {data: row(`<row r="1"><c r="ZZZ1"><v>1</v></c></row>`), words: "wider than a spreadsheet"},
		"relations lost":              {data: p.Without(gridtest.BookRels).Zip(), words: "is not there"},
		"package relations lost":      {data: p.Without(gridtest.Rels).Zip(), words: "holds none"},
		"relations cut":               {data: p.Set(gridtest.BookRels, p.Text(gridtest.BookRels)[:150]).Zip(), words: gridtest.BookRels},
		"a relation to nowhere":       {data: p.Change(gridtest.BookRels, "worksheets/sheet1.xml", "worksheets/gone.xml").Zip(), words: "is not there"},
		"a relation to itself":        {data: p.Change(gridtest.Rels, "xl/workbook.xml", "_rels/.rels").Zip(), words: "no sheet with cells"},
		"relations in a circle":       {data: p.Change(gridtest.BookRels, "worksheets/sheet1.xml", "workbook.xml").Zip(), words: "damaged"},
		"a relation out of the book":  {data: p.Change(gridtest.BookRels, "worksheets/sheet1.xml", "../../../../etc/passwd").Zip(), words: "is not there"},
		"a relation to the web":       {data: p.Change(gridtest.BookRels, `Target="worksheets/sheet1.xml"`, `TargetMode="External" Target="http://127.0.0.1:9/"`).Zip(), words: "is not there"},
		"a relation twice":            {data: p.Change(gridtest.BookRels, "</Relationships>", strings.Repeat(`<Relationship Id="rId1" Type="x" Target="y"/>`, 2)+"</Relationships>").Zip(), words: gridtest.BookRels},
		"no book":                     {data: p.Without(gridtest.Book).Zip(), words: gridtest.Book},
		"no sheet":                    {data: p.Without(gridtest.Sheet).Zip(), words: "is not there"},
		"no texts":                    {data: p.Without(gridtest.Texts).Zip(), words: gridtest.Texts},
		"no formats":                  {data: p.Without(gridtest.Styles).Zip(), words: gridtest.Styles},
		"a part twice":                {data: p.With(gridtest.Sheet, sheet).Zip(), words: "twice"},
		"a part twice in other case":  {data: p.With(strings.ToUpper(gridtest.Sheet), sheet).Zip(), words: "twice"},
		"a sheet name twice":          {data: p.Change(gridtest.Book, "</sheets>", `<sheet name="Products" sheetId="99" r:id="rId2"/></sheets>`).Zip(), words: "two sheets have the name Products"},
		"a book without a sheet":      {data: p.Set(gridtest.Book, `<workbook xmlns="`+gridtest.MainSpace+`"><sheets/></workbook>`).Zip(), words: "no sheet with cells"},
		"an unknown way of packing":   {data: packedOddly(good), words: "damaged"},
		"a name that climbs, damaged": {data: claimed(p.With("../../evil", "x"), 9, 9), words: gridtest.Sheet},

		// Odd, and read: what is wrong is a matter of the book's tables.
		"formulas that refer to themselves": {data: row(`<row r="1"><c r="A1"><f>A1+1</f></c><c r="B1"><f>SUM(A:B)</f></c></row>`), status: exitBook},
		"a name that climbs":                {data: slices.Concat(gridtest.Parts{}.With("../../evil", "x").With("/etc/evil", "x").With(`C:\evil`, "x"), p).Zip(), status: exitBook},
		"half a book behind a book":         {data: append(bytes.Clone(good), good[:len(good)/2]...), status: exitBook},
		"no content types":                  {data: p.Without("[Content_Types].xml").Zip(), status: exitBook},
		"wrong content types":               {data: p.Set("[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="image/png"/></Types>`).Zip(), status: exitBook},
		"an absurd dimension":               {data: p.Set(gridtest.Sheet, withDimension(sheet)).Zip(), status: exitBook},
	}
	return files
}

func errorsOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
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

// Every file of the catalogue gets one clear line and its exit status, costs
// little, and stays as it was; nothing is written.
func TestCatalogueOfBadFiles(t *testing.T) {
	files := badFiles(t)
	if len(files) < 80 {
		t.Errorf("only %d files", len(files))
	}
	for what, f := range files {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			if f.name == "" {
				f.name = "book.xlsx"
			}
			path := filepath.Join(dir, f.name)
			if f.put == nil {
				f.put = func(path string) error { return os.WriteFile(path, f.data, 0o600) }
			}
			if err := f.put(path); err != nil {
				t.Fatal(err)
			}
			r := finish(t, start(t, dir, "check", f.name))
			if f.status == exitBook {
				if r.status != exitBook && r.status != exitDone || strings.Contains(r.err+r.out, "goroutine") {
					t.Errorf("exit status %d: %s", r.status, r.err)
				}
			} else {
				r.one(t, exitFile, f.name, f.words)
				plainWords(t, r.err)
			}
			r.cheap(t)
			if f.data != nil {
				if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, f.data) {
					t.Errorf("the file has changed: %v", err)
				}
			}
			if entries, err := os.ReadDir(dir); err != nil || len(entries) > 1 {
				t.Errorf("%d files stand in the folder, %v", len(entries), err)
			}
		})
	}
}

// plainWords fails where a line says what only a programmer understands.
func plainWords(t *testing.T, line string) {
	t.Helper()
	for _, w := range []string{"XML syntax", "EOF", "zip:", "flate", "0x", "nil", "unmarshal", "[file.", "{", "runtime", "grid"} {
		if strings.Contains(line, w) {
			t.Errorf("%q says %q", line, w)
		}
	}
}

// What a hostile file may cost.
const (
	mostTime   = 10 * time.Second // of processor; the machine may have other work
	mostMemory = 500 << 20
)

// cheap fails where a run cost more than a hostile file may.
func (e ended) cheap(t *testing.T) {
	t.Helper()
	if e.used > mostTime || e.memory > mostMemory {
		t.Errorf("it cost %v and %d MB", e.used, e.memory>>20)
	}
}

func (e ended) cost() string {
	return fmt.Sprintf("%v, %d MB, %q", e.used, e.memory>>20, e.err)
}
