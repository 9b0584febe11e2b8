package grid

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourbook/ingest/grid/gridtest"
)

func TestWholeBookIsRead(t *testing.T) {
	for _, method := range []uint16{zip.Store, zip.Deflate} {
		f := mustOpen(t, file(t, "book.xlsx", whole().ZipBy(method)))
		if got := strings.Join(dump(t, f), "\n"); got != wholeDump {
			t.Errorf("method %d:\n%s", method, got)
		}
	}
}

func TestDamagedBooksAreFaults(t *testing.T) {
	sheet := func(text string) gridtest.Parts { return whole().Set(gridtest.Sheet, text) }
	data := func(text string, after ...string) gridtest.Parts { return sheet(sheetOf(text, after...)) }
	for name, c := range map[string]struct {
		book gridtest.Parts
		key  string
	}{
		"XML cut in half":           {sheet(sheetOf(twoRows)[:200]), "not-xml"},
		"a bare &":                  {data(`<row r="1"><c r="A1" t="str"><v>a & b</v></c></row>`), "not-xml"},
		"tags crossed":              {data(`<row r="1"><c r="A1"><v>1</c></v></row>`), "not-xml"},
		"two documents":             {sheet(sheetOf(twoRows) + sheetOf("")), "not-xml"},
		"text behind":               {sheet(sheetOf(twoRows) + "x"), "not-xml"},
		"an empty part":             {sheet(""), "not-xml"},
		"invalid UTF-8":             {data("<row r=\"1\"><c r=\"A1\" t=\"str\"><v>\xff</v></c></row>"), "not-xml"},
		"a control character":       {data("<row r=\"1\"><c r=\"A1\" t=\"str\"><v>\x01</v></c></row>"), "not-xml"},
		"an attribute twice":        {data(`<row r="1"><c r="A1" r="B1"><v>1</v></c></row>`), "not-xml"},
		"elements 300 deep":         {data(strings.Repeat("<a>", 300) + strings.Repeat("</a>", 300)), "not-xml"},
		"an unknown encoding":       {sheet(strings.Replace(sheetOf(twoRows), `version="1.0"`, `version="1.0" encoding="EBCDIC"`, 1)), "not-xml"},
		"a document type":           {sheet(strings.Replace(sheetOf(twoRows), `?>`, `?><!DOCTYPE a [<!ENTITY b "c">]>`, 1)), "doctype"},
		"a document type of a book": {whole().Change(gridtest.Book, "<workbook", `<!DOCTYPE a><workbook`), "doctype"},
		"another root":              {sheet(`<chart/>`), "part-damaged"},

		"rows out of order":       {data(`<row r="2"/><row r="1"/>`), "row-order"},
		"a row twice":             {data(`<row r="1"/><row r="1"/>`), "row-order"},
		"row 0":                   {data(`<row r="0"/>`), "row-order"},
		"a row below the last":    {data(`<row r="1048577"><c r="A1048577"><v>1</v></c></row>`), "row-order"},
		"cells out of order":      {data(`<row r="1"><c r="C1"><v>1</v></c><c r="A1"><v>2</v></c></row>`), "cell-order"},
		"a cell twice":            {data(`<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>`), "cell-order"},
		"a cell of another row":   {data(`<row r="1"><c r="A5"><v>1</v></c></row>`), "cell-order"},
		"a cell in small letters": {data(`<row r="1"><c r="a1"><v>1</v></c></row>`), "cell-order"},
		"a cell without a row":    {data(`<row r="1"><c r="A"><v>1</v></c></row>`), "cell-order"},
		"a cell right of XFD":     {data(`<row r="1"><c r="XFE1"><v>1</v></c></row>`), "too-wide"},
		"an unknown kind of cell": {data(`<row r="1"><c r="A1" t="q"><v>1</v></c></row>`), "bad-cell"},
		"a style that is not":     {data(`<row r="1"><c r="A1" s="3"><v>1</v></c></row>`), "bad-style"},
		"a style that is a word":  {data(`<row r="1"><c r="A1" s="x"><v>1</v></c></row>`), "bad-style"},
		"a text too long":         {data(`<row r="1"><c r="A1" t="str"><v>` + strings.Repeat("é", 32_768) + `</v></c></row>`), "text-too-long"},
		"merged cells of nothing": {data(twoRows, `<mergeCells><mergeCell ref="B2:A1"/></mergeCells>`), "bad-merge"},
		"merged cells too early":  {sheet(strings.Replace(sheetOf(twoRows), "<sheetData>", `<mergeCells><mergeCell ref="A1:B1"/></mergeCells><sheetData>`, 1)), "bad-merge"},

		"a text beyond the list":   {whole().Change(gridtest.Sheet, "<v>1</v>", "<v>2</v>"), "bad-string"},
		"a text of no number":      {whole().Change(gridtest.Sheet, "<v>1</v>", "<v>one</v>"), "bad-string"},
		"texts cut off":            {whole().Change(gridtest.Texts, "<t>Oak</t></si></sst>", "<t>Oak"), "not-xml"},
		"texts lost":               {whole().Without(gridtest.Texts), "part-missing"},
		"texts lost with the link": {whole().Without(gridtest.Texts).Change(gridtest.BookRels, "/sharedStrings", "/other"), "no-strings"},
		"formats lost":             {whole().Without(gridtest.Styles), "part-missing"},
		"formats damaged":          {whole().Change(gridtest.Styles, `numFmtId="14"`, `numFmtId="x"`), "part-damaged"},
		"a sheet lost":             {whole().Without(gridtest.Sheet), "sheet-missing"},
		"a sheet without a link":   {whole().Change(gridtest.BookRels, `Id="r1"`, `Id="r9"`), "sheet-missing"},
		"links lost":               {whole().Without(gridtest.BookRels), "sheet-missing"},
		"a link twice":             {whole().Change(gridtest.BookRels, `Id="r2"`, `Id="r1"`), "part-damaged"},
		"a sheet name twice": {
			whole().Change(gridtest.Book, "</sheets>", `<sheet name=" SALES" sheetId="2" r:id="r1"/></sheets>`),
			"sheet-twice",
		},
		"no sheets":             {whole().Change(gridtest.Book, `<sheet name="Sales" sheetId="1" r:id="r1"/>`, ""), "no-sheets"},
		"a book without a book": {whole().Without(gridtest.Book), "part-missing"},
		"a sheet's part twice":  {whole().Change(gridtest.Book, "</sheets>", `<sheet name="More" sheetId="2" r:id="r1"/></sheets>`), "part-twice"},
		"no links at all":       {whole().Without(gridtest.Rels), "no-book"},
		"a part twice":          {whole().With("XL\\worksheets\\Sheet1.xml", sheetOf("")), "part-twice"},
		"a text document":       {whole().Change(gridtest.Rels, "xl/workbook.xml", "word/document.xml").Without(gridtest.Book).With("word/document.xml", "<document/>"), "no-book"},
	} {
		if got := keyOf(t, file(t, "book.xlsx", c.book.Zip())); got != c.key {
			t.Errorf("%s: fault %q, want %q", name, got, c.key)
		}
	}
}

// claimed is a sound package whose sheet has a header that claims something else.
func claimed(h zip.FileHeader, text string) []byte {
	h.Name = gridtest.Sheet
	return whole().Claimed(h, text)
}

func TestDamagedPackagesAreFaults(t *testing.T) {
	text := sheetOf(twoRows)
	n, sum := uint64(len(text)), crc32.ChecksumIEEE([]byte(text))
	good := whole().Zip()
	many := whole()
	for i := range maxParts {
		many = append(many, gridtest.Part{Name: fmt.Sprint("x", i)})
	}
	for name, c := range map[string]struct {
		data []byte
		key  string
	}{
		"whole":                    {claimed(zip.FileHeader{CRC32: sum, CompressedSize64: n, UncompressedSize64: n}, text), ""},
		"a wrong checksum":         {claimed(zip.FileHeader{CRC32: sum + 1, CompressedSize64: n, UncompressedSize64: n}, text), "part-damaged"},
		"a checksum of zero":       {claimed(zip.FileHeader{CompressedSize64: n, UncompressedSize64: n}, text), "part-damaged"},
		"a size too small":         {claimed(zip.FileHeader{CRC32: sum, CompressedSize64: n, UncompressedSize64: n - 9}, text), "part-damaged"},
		"a size too large":         {claimed(zip.FileHeader{CRC32: sum, CompressedSize64: n, UncompressedSize64: n + 9}, text), "part-damaged"},
		"a claim of a gibibyte":    {claimed(zip.FileHeader{CRC32: sum, CompressedSize64: n, UncompressedSize64: 1 << 30}, text), "bomb"},
		"a claim of four":          {claimed(zip.FileHeader{CRC32: sum, CompressedSize64: n, UncompressedSize64: 4 << 30}, text), "too-much"},
		"an unknown way to pack":   {claimed(zip.FileHeader{Method: 12, CRC32: sum, CompressedSize64: n, UncompressedSize64: n}, text), "part-damaged"},
		"an encrypted part":        {claimed(zip.FileHeader{Flags: 1, CRC32: sum, CompressedSize64: n, UncompressedSize64: n}, text), "encrypted"},
		"no deflated data":         {claimed(zip.FileHeader{Method: zip.Deflate, CRC32: sum, CompressedSize64: n, UncompressedSize64: n}, text), "part-damaged"},
		"a bomb of spaces":         {whole().Set("xl/media/x.xml", strings.Repeat(" ", 20<<20)).Zip(), "bomb"},
		"too many parts":           {many.ZipBy(zip.Store), "too-many-parts"},
		"the end missing":          {good[:len(good)-30], "truncated"},
		"half of the file missing": {good[:len(good)/2], "truncated"},
	} {
		if got := keyOf(t, file(t, "book.xlsx", c.data)); got != c.key {
			t.Errorf("%s: fault %q, want %q", name, got, c.key)
		}
	}
}

func TestVeryWideSheetIsRefusedSoon(t *testing.T) {
	var b strings.Builder
	for i := range 4_000 {
		fmt.Fprintf(&b, `<row r="%d"><c r="XFD%d"><v>1</v></c></row>`, i+1, i+1)
	}
	if got := keyOf(t, file(t, "book.xlsx", whole().Set(gridtest.Sheet, sheetOf(b.String())).Zip())); got != "too-wide" {
		t.Errorf("fault %q", got)
	}
}

// A byte that changed on the way is a fault, or changes no cell.
func TestNoChangedByteChangesACell(t *testing.T) {
	good, err := os.ReadFile(filepath.Join("..", "..", "testdata", "grid", "libreoffice.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	path := file(t, "book.xlsx", good)
	want := strings.Join(dump(t, mustOpen(t, path)), "\n")
	rapid.Check(t, func(r *rapid.T) {
		b := bytes.Clone(good)
		i := rapid.IntRange(0, len(b)-1).Draw(r, "byte")
		b[i] ^= byte(rapid.IntRange(1, 255).Draw(r, "change"))
		if err := os.WriteFile(path, b, 0o600); err != nil {
			r.Fatal(err)
		}
		if readAll(path) != nil {
			return
		}
		if got := strings.Join(dump(t, mustOpen(t, path)), "\n"); got != want {
			r.Fatalf("byte %d changed:\n%s", i, got)
		}
	})
}

// A book that was cut off anywhere is a fault.
func TestNoCutBookIsRead(t *testing.T) {
	good := whole().Zip()
	path := file(t, "book.xlsx", good)
	for n := 1; n < len(good); n += 7 {
		if err := os.WriteFile(path, good[:n], 0o600); err != nil {
			t.Fatal(err)
		}
		if readAll(path) == nil {
			t.Errorf("the first %d of %d bytes were read as a book", n, len(good))
		}
	}
}

// The checks hold where an archive says in its directory something else than
// in front of the part.
func TestLocalHeaderIsNotTrusted(t *testing.T) {
	good := whole().ZipBy(zip.Store)
	i := bytes.Index(good, []byte(gridtest.Sheet))
	b := bytes.Clone(good)
	binary.LittleEndian.PutUint32(b[i-8:], 1)
	if got := keyOf(t, file(t, "book.xlsx", b)); got != "" {
		t.Errorf("fault %q", got)
	}
}
