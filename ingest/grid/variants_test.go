package grid

import (
	"archive/zip"
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/ingest/grid/gridtest"
)

// scannerCases are rows as they may be written; those that the scanner reads to
// their end are also in scanned.
var scannerCases = append(scanned[:len(scanned):len(scanned)], left...)

var scanned = []string{
	``,
	twoRows,
	`<row r="1" spans="1:8" x14ac:dyDescent="0.25" customHeight='1' ht="15"><c r="A1" s="1" t="n"><v>46326</v></c></row>`,
	`<row><c><v>1</v></c><c><v>2</v></c></row><row r="5"><c r="B5"><v>3</v></c><c><v>4</v></c></row><row><c><v>5</v></c></row>`,
	"\r\n<row r=\"1\">\r\n <c r=\"A1\">\r\n  <v> 7 </v>\n </c>\t\n</row>\n",
	`<row r="007"><c t='s' s='2' r='B7'><v>0</v></c></row><row r="9"/><row r="10" hidden="true"><c/></row>`,
	`<row r="1" ht="0"><c r="A1"><v>1</v></c></row><row r="2" hidden="0"><c r="A2" s="2"><v>0.5</v></c></row>`,
	`<row r="1"><c r="A1" t="str"><v>a&amp;b&lt;c&gt;&quot;&apos;&#233;&#x1F600;&#13;</v></c></row>`,
	`<row r="1"><c r="A1" t="inlineStr"><is><t xml:space="preserve"> a </t></is></c><c r="B1" t="inlineStr"><is><t/></is></c><c r="C1" t="inlineStr"><is/></c><c r="D1" t="inlineStr"/></row>`,
	`<row r="1"><c r="A1" t="inlineStr"><is><r><rPr><b/><rFont val="a&amp;b"/></rPr><t>Deep </t></r><r><t>Red &amp; so</t></r><rPh sb="0" eb="1"><t>x</t></rPh><phoneticPr fontId="1"/></is></c></row>`,
	`<row r="1"><c r="A1"><f>1+1</f><v>2</v></c><c r="B1"><f>1&lt;2</f></c><c r="C1"><f t="shared" ref="C1:C9" si="0">A1</f><v/></c><c r="D1"><f t="shared" si="0"/><v>3</v></c></row>`,
	`<row r="1"><c r="A1" t="str"><f>""</f><v></v></c><c r="B1" t="str"><v>_x000D_x_</v><f>A1</f></c><c r="C1" t="inlineStr"><f>1</f><is><t></t></is></c></row>`,
	`<row r="1"><c r="A1" t="b"><v>1</v></c><c r="B1" t="e"><v>#REF!</v></c><c r="C1" t="d"><v>2026-10-31</v></c><c r="D1" t="s"><v> 1 </v></c><c r="E1" t="b"/><c r="F1" t="e"><v> </v></c></row>`,
	"<row r=\"1\"><c r=\"A1\"><v>\u00a07\u0085</v></c><c r=\"B1\"><v>x]]]y</v></c><c r=\"C1\" t=\"\" s=\"\"><v>1e999</v></c><c r=\"D1\" s=\"1\"><v>60</v></c></row>",
	`<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`,
	`<row r="1"><c r="A1" cm="1" x:r="B2" ph="é&amp;"><v xml:space="preserve"> 1</v></c></row>`,
}

var left = []string{
	`<row r="1"><c r="A1"><v>1<!-- c --></v></c></row>`,
	`<row r="1"><c r="A1" t="str"><v><![CDATA[<b>]]></v></c></row>`,
	`<row r="1"><?x y?><c r="A1"><v>1</v></c></row>`,
	`<x:row r="1"><c r="A1"><v>1</v></c></x:row>`,
	`<row r="1"><c r="A1"><v>1</v><extLst/></c></row>`,
	`<row r="1"><c r="A1"><v>1</v><v>2</v></c></row>`,
	`<row r="1"><c r="A1"><is><t>x</t></is></c></row>`,
	`<row r="1"><c r="A1" t="inlineStr"><v>1</v><is><t>x</t></is></c></row>`,
	`<row r="1"><c r="A1" r="B1"><v>1</v></c></row>`,
	`<row r="1" r="2"/>`, `<row r="2"/><row r="2"/>`, `<row r="0"/>`, `<row r=""/>`, `<row r="1048577"/>`, `<row r="12345678"/>`,
	`<row r="1"><c r="A2"/></row>`, `<row r="1"><c r="B1"/><c r="A1"/></row>`, `<row r="1"><c r="A01"/></row>`, `<row r="1"><c r="1"/></row>`,
	`<row r="1"><c r="XFE1"/></row>`, `<row r="1"><c r="AAAA1"/></row>`, `<row r="1"><c r="a1"/></row>`, `<row r="1"><c r="A1" t="x"/></row>`,
	`<row r="1"><c r="A1" s="3"/></row>`, `<row r="1"><c r="A1" s="-1"/></row>`, `<row r="1"><c r="A1" s="12345678"/></row>`, `<row r="1"><c r="A1" t="s"><v>2</v></c></row>`,
	`<row r="1" hidden="&#49;"/>`, `<row r="1" x:ht="0"><c r="A1"><v>1</v></c></row>`, `<row r="1" ht="0" ht="1"/>`, `<row r = "1"/>`, `<row r="1"spans="1"/>`,
	"<row r=\"1\"><c r=\"A1\" t=\"str\"><v>a\rb</v></c></row>", "<row r=\"1\"><c r=\"A1\" t=\"str\"><v>a\x01b</v></c></row>", "<row r=\"1\"><c r=\"A1\" t=\"str\"><v>a\xffb</v></c></row>",
	"<row r=\"1\"><c r=\"A1\" t=\"str\"><v>a\ufffeb</v></c></row>", `<row r="1"><c r="A1" t="str"><v>a]]>b</v></c></row>`, `<row r="1"><c r="A1" t="str"><v>&nbsp;</v></c></row>`,
	`<row r="1"><c r="A1" t="str"><v>&#xD800;</v></c></row>`, `<row r="1"><c r="A1" t="str"><v>&#0;</v></c></row>`, `<row r="1"><c r="A1" t="str"><v>&#x110000;</v></c></row>`,
	`<row r="1">text<c r="A1"/></row>`, `<row r="1"><c r="A1">text</c></row>`, `<row r="1"><c r="A1"><v>1</v></c>`, `<row r="1"><c r="A1"><v>1</c></v></row>`, `<row`, `<`, `</row>`,
	`<row r="1"><c r="A1"><v>1</v ></c ></row >`, `<row r="1"><c r="A1"/></row></sheetData><sheetData><row r="2"><c r="A2"><v>1</v></c></row><row r="2"/>`,
	`<row r="1"><c r="A1"><v>1</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells><sheetData>`,
	`<row r="1"><c r="A1" t="inlineStr"><is><r><rPr><t>x</t></rPr><t>a<b/>c</t></r></is></c></row>`,
}

func TestScannerOnVariants(t *testing.T) {
	for _, s := range scanned {
		p, err := oneSheet(t, sheetOf(s))
		if err != nil || !alike(t, s, p) {
			t.Errorf("not scanned to its end: %s (%v)", s, err)
		}
	}
	for _, s := range left {
		if p, err := oneSheet(t, sheetOf(s)); err == nil {
			alike(t, s, p)
		}
	}
}

// What stands around the rows is walked, whoever reads the rows.
func TestScannerAndWhatStandsAround(t *testing.T) {
	const open = `<worksheet xmlns="` + gridtest.MainSpace + `">`
	row := `<row r="1"><c r="A1"><v>1</v></c><c r="B1"><v>2</v></c></row>`
	for s, want := range map[string]bool{
		"\ufeff<?xml version=\"1.0\" encoding=\"utf-8\" standalone='yes' ?>\r\n" + open + "\n<sheetPr codeName=\"é\"><x:a>b&amp;</x:a></sheetPr>\r\n<sheetData>" + row + "</sheetData></worksheet>\n": true,
		open + `<sheetData>` + row + `</sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells><!-- c --></worksheet>`:                                                                            true,
		open + `<x><mergeCell ref="A1"/></x><sheetData a="b">` + row + `</sheetData></worksheet>`:                                                                                                     false,
		open + `<sheetData/></worksheet>`:                                           true,
		open + `<sheetData/><sheetData>` + row + `</sheetData></worksheet>`:         true,
		open + `<sheetData>` + row + `</sheetData></worksheet><a/>`:                 false,
		open + `<sheetData>` + row + `</sheetData>`:                                 false,
		open + `<!-- <sheetData> --><sheetData>` + row + `</sheetData></worksheet>`: false,
		open + `<x:sheetData>` + row + `</x:sheetData></worksheet>`:                 false,
		open + `<a><sheetData>` + row + `</sheetData></a></worksheet>`:              false,
		open + `</worksheet>`:                false,
		`<sheetData>` + row + `</sheetData>`: false,
		`<?xml version="1.1"?>` + open + `<sheetData>` + row + `</sheetData></worksheet>`:                       false,
		`<?xml version="1.0" encoding="ISO-8859-1"?>` + open + `<sheetData>` + row + `</sheetData></worksheet>`: false,
		`<!DOCTYPE worksheet>` + open + `<sheetData>` + row + `</sheetData></worksheet>`:                        false,
		open + `<sheetData>` + row + `</sheetData><!DOCTYPE worksheet></worksheet>`:                             false,
	} {
		p, err := oneSheet(t, s)
		if err != nil {
			t.Errorf("%s: %v", s, err)
			continue
		}
		if got := alike(t, s, p); got != want {
			t.Errorf("scanned to its end: %t: %s", got, s)
		}
	}
}

var stringCases = []string{
	`<si><t>a</t></si><si><t xml:space="preserve"> b&amp;c </t></si><si/><si></si><si><t/></si>`,
	"\r\n<si count=\"1\">\r\n<t>é\n</t></si>\n<si><r><rPr><b/></rPr><t>Deep </t></r><r/><r><t>Red</t></r><rPh sb=\"0\" eb=\"1\"><t>x</t></rPh><phoneticPr fontId=\"1\"/></si><extLst><ext><t>z</t></ext></extLst>",
	`<si><t>_x000D__x005F_x0041_</t></si><si><t>]]]</t><t>b</t></si>`,
	`<si><t>a<b/>c</t></si>`, `<si><t><![CDATA[x]]></t></si>`, `<x:si><t>a</t></x:si>`, `<si>a<t>b</t></si>`, `<a><t>x</t></a><si><t>y</t></si>`, `<si><t>a]]>b</t></si>`,
	"<si><t>a\rb</t></si>", "<si><t>\x02</t></si>", `<si><rPr><t>a</t></rPr></si>`, `<si><t>a</t></si></sst><sst>`, `<si><t>a`, `<si><rPh><rPh><t>a</t></rPh><t>b</t></rPh><t>c</t></si>`, `<si><r><r><t>a</t></r></r></si>`,
}

func FuzzSharedTexts(f *testing.F) {
	for _, s := range stringCases {
		f.Add(`<sst xmlns="` + gridtest.MainSpace + `">` + s + `</sst>`)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := packOf(whole().Set(gridtest.Texts, s).ZipBy(zip.Store))
		if err != nil {
			t.Fatal(err)
		}
		fast := p.scanStrings(gridtest.Texts)
		slow, err := readStrings(newTokens(unicodeReader(bytes.NewReader([]byte(s))), gridtest.Texts))
		if fast == nil {
			return
		}
		if err != nil {
			t.Fatalf("%q: %v, but scanned", s, err)
		}
		if diff := cmp.Diff(all(slow), all(fast)); diff != "" {
			t.Errorf("%q:\n%s", s, diff)
		}
	})
}

func all(t *texts) (out []string) {
	for i := range t.len() {
		if t.tooLong(i) {
			out = append(out, "too long")
		} else {
			out = append(out, t.text(i))
		}
	}
	return out
}
