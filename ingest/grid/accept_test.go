package grid

import (
	"strings"
	"testing"

	"golang.org/x/text/encoding/unicode"

	"pourbook/ingest/grid/gridtest"
)

// What other programs write, and what the standard allows, is read alike.
func TestOtherWaysToWriteASheet(t *testing.T) {
	one := func(cells string) string { return sheetOf(`<row r="1">` + cells + `</row>`) }
	for name, c := range map[string]struct{ sheet, want string }{
		"prefixes":            {`<x:worksheet xmlns:x="` + gridtest.MainSpace + `"><x:sheetData><x:row r="1"><x:c r="B1"><x:v>7</x:v></x:c></x:row></x:sheetData></x:worksheet>`, "B1 number 7"},
		"single quotes":       {sheetOf(`<row r='1'><c r='B1'><v>7</v></c></row>`), "B1 number 7"},
		"no references":       {sheetOf(`<row><c><v>1</v></c><c><v>2</v></c></row><row r="5"><c r="B5"><v>3</v></c><c><v>4</v></c></row><row><c><v>5</v></c></row>`), "A1 number 1\nB1 number 2\nB5 number 3\nC5 number 4\nA6 number 5"},
		"white space":         {one("\n <c r=\"A1\">\n  <v> 7 </v>\n </c>\n"), "A1 number 7"},
		"comments and CDATA":  {one(`<!-- <c> --><c r="A1" t="str"><v>a<![CDATA[<b>]]>c</v></c>`), "A1 text a<b>c"},
		"inline text":         {one(`<c r="A1" t="inlineStr"><is><t>Amber</t></is></c>`), "A1 text Amber"},
		"inline rich text":    {one(`<c r="A1" t="inlineStr"><is><r><rPr><b/></rPr><t xml:space="preserve">Deep </t></r><r><t>Red</t></r><rPh sb="0" eb="1"><t>x</t></rPh></is></c>`), "A1 text Deep Red"},
		"escapes":             {one(`<c r="A1" t="str"><v>a_x000D__x005F_x0041_ _x00e9_ _xyz_</v></c>`), "A1 text a\r_x0041_ é _xyz_"},
		"a date as text":      {one(`<c r="A1" t="d"><v>2026-10-31T09:15:00</v></c><c r="B1" t="d"><v>2026-10-31</v></c><c r="C1" t="d"><v>09:15:00</v></c>`), "A1 date 2026-10-31\nB1 date 2026-10-31\nC1 number 09:15:00 (time)"},
		"yes, no and errors":  {one(`<c r="A1" t="b"><v>1</v></c><c r="B1" t="b"><v>0</v></c><c r="C1" t="e"><v>#REF!</v></c><c r="D1" t="b"><v>2</v></c>`), "A1 bool TRUE\nB1 bool FALSE\nC1 error #REF!\nD1 error 2"},
		"formulas":            {one(`<c r="A1"><f>1+1</f><v>2</v></c><c r="B1"><f>1+1</f></c><c r="C1"><f>1+1</f><v/></c><c r="D1" t="str"><f>""</f><v></v></c><c r="E1" t="str"><f>A1</f></c><c r="F1"><f t="shared" si="0"/><v>3</v></c>`), "A1 number 2 (formula)\nB1 no value =1+1 (formula)\nC1 no value =1+1 (formula)\nE1 no value =A1 (formula)\nF1 number 3 (formula)"},
		"what is no number":   {one(`<c r="A1"><v>NaN</v></c><c r="B1"><v>1e999</v></c><c r="C1"><v>0x1p4</v></c><c r="D1"><v>1_000</v></c><c r="E1"><v>-0</v></c><c r="F1"><v>4.4000000000000004</v></c><c r="G1"><v>1E-7</v></c>`), "A1 error NaN\nB1 error 1e999\nC1 error 0x1p4\nD1 error 1_000\nE1 number 0\nF1 number 4.4\nG1 number 0.0000001"},
		"no day":              {one(`<c r="A1" s="1"><v>60</v></c><c r="B1" s="1"><v>-1</v></c><c r="C1" s="1"><v>0.5</v></c><c r="D1" s="1"><v>2958466</v></c><c r="E1" s="1"><v>59</v></c><c r="F1" s="1"><v>61</v></c>`), "A1 date 60\nB1 date -1\nC1 date 0.5\nD1 date 2958466\nE1 date 1900-02-28\nF1 date 1900-03-01"},
		"percent":             {one(`<c r="A1" s="2"><v>0.08</v></c>`), "A1 number 0.08 (percent)"},
		"an empty style":      {one(`<c r="A1" s=""><v>1</v></c>`), "A1 number 1"},
		"hidden rows":         {sheetOf(`<row r="1" hidden="1"><c r="A1"><v>1</v></c></row><row r="2" ht="0" customHeight="1"><c r="A2"><v>2</v></c></row><row r="3"><c r="A3"><v>3</v></c></row>`), "A1 number 1, hidden\nA2 number 2, hidden\nA3 number 3"},
		"merged cells":        {sheetOf(`<row r="1"><c r="A1"><v>1</v></c><c r="B1"><v>2</v></c><c r="C1"><v>3</v></c></row><row r="2"><c r="A2"><v>4</v></c><c r="C2"><v>5</v></c></row>`, `<mergeCells count="1"><mergeCell ref="A1:B2"/></mergeCells>`), "A1 number 1\nC1 number 3\nC2 number 5"},
		"the end tag as text": {sheetOf(`<row r="1"><c r="A1" t="str"><v>&lt;/sheetData&gt;<![CDATA[</sheetData>]]></v></c></row>`, `<mergeCells><mergeCell ref="A1:B2"/></mergeCells>`), "A1 text </sheetData></sheetData>"},
		"other elements":      {sheetOf(`<row r="1"><c r="A1"><v>1</v><extLst><ext><v>9</v></ext></extLst></c></row>`, `<conditionalFormatting><cfRule><formula>x</formula></cfRule></conditionalFormatting><extLst><ext><row r="9"><c r="A9"><v>9</v></c></row></ext></extLst>`), "A1 number 1"},
		"no rows":             {`<worksheet xmlns="` + gridtest.MainSpace + `"><sheetData/></worksheet>`, ""},
		"no data":             {`<worksheet xmlns="` + gridtest.MainSpace + `"/>`, ""},
	} {
		f := mustOpen(t, file(t, "book.xlsx", whole().Set(gridtest.Sheet, c.sheet).Zip()))
		lines := dump(t, f)
		if got := strings.Join(lines[1:], "\n"); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", name, got, c.want)
		}
	}
}

func TestUTF16AndByteOrderMarks(t *testing.T) {
	for name, encode := range map[string]func(string) string{
		"UTF-8 with a mark": func(s string) string { return "\ufeff" + s },
		"UTF-16LE":          utf16As(t, unicode.LittleEndian, unicode.UseBOM),
		"UTF-16BE":          utf16As(t, unicode.BigEndian, unicode.UseBOM),
		"UTF-16LE, no mark": utf16As(t, unicode.LittleEndian, unicode.IgnoreBOM),
	} {
		book := whole()
		for i := range book {
			book[i].Text = encode(book[i].Text)
		}
		f := mustOpen(t, file(t, "book.xlsx", book.Zip()))
		if got := strings.Join(dump(t, f), "\n"); got != wholeDump {
			t.Errorf("%s:\n%s", name, got)
		}
	}
}

func utf16As(t *testing.T, e unicode.Endianness, b unicode.BOMPolicy) func(string) string {
	return func(s string) string {
		out, err := unicode.UTF16(e, b).NewEncoder().String(strings.Replace(s, `version="1.0"`, `version="1.0" encoding="UTF-16"`, 1))
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
}

func TestStrictFormAndOddNamesOfParts(t *testing.T) {
	strict := strings.NewReplacer(gridtest.MainSpace, "http://purl.oclc.org/ooxml/spreadsheetml/main", gridtest.RelSpace, "http://purl.oclc.org/ooxml/officeDocument/relationships")
	book := whole()
	for i := range book {
		book[i].Text = strict.Replace(book[i].Text)
	}
	odd := whole()
	for i := range odd {
		odd[i].Name = strings.NewReplacer("xl/styles.xml", "xl/odd styles.xml", "xl/sharedStrings.xml", "texts.xml").Replace(odd[i].Name)
	}
	odd = odd.Change(gridtest.BookRels, "/xl/styles.xml", "odd styles.xml").Change(gridtest.BookRels, `"sharedStrings.xml"`, `"../texts.xml"`)
	for name, b := range map[string]gridtest.Parts{"strict": book, "odd names": odd} {
		if got := strings.Join(dump(t, mustOpen(t, file(t, "book.xlsx", b.Zip()))), "\n"); got != wholeDump {
			t.Errorf("%s:\n%s", name, got)
		}
	}
}

func TestNotesAboutABook(t *testing.T) {
	for name, c := range map[string]struct {
		book gridtest.Parts
		file string
		want string
	}{
		"nothing":            {whole(), "book.xlsm", ""},
		"a template":         {whole(), "book.XLTX", ""},
		"another ending":     {whole(), "book.zip", "note-extension"},
		"no ending":          {whole(), "book", "note-extension"},
		"other files":        {whole().Change(gridtest.Book, "</sheets>", `</sheets><externalReferences><externalReference r:id="r9"/></externalReferences>`), "book.xlsx", "note-external"},
		"calculated by hand": {whole().Change(gridtest.Book, "</sheets>", `</sheets><calcPr calcMode="manual"/>`), "book.xlsx", "note-manual"},
	} {
		f := mustOpen(t, file(t, c.file, c.book.Zip()))
		var keys []string
		for _, n := range f.Notes {
			keys = append(keys, n.Key)
		}
		if got := strings.Join(keys, " "); got != c.want || f.Name != "book" {
			t.Errorf("%s: notes %q, want %q; name %q", name, got, c.want, f.Name)
		}
	}
}
