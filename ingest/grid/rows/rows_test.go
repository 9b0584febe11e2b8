package rows

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
	"testing/synctest"

	"pgregory.net/rapid"
)

// inPieces has as many bytes read at once in a test.
func inPieces(t *testing.T, n int) {
	before := readSize
	readSize = n
	t.Cleanup(func() { readSize = before })
}

const head = `<worksheet xmlns="x">`

// read is what a sheet's part gives: its rows, a line each, and its error.
func read(part string) (lines []string, around string, err error) {
	rest, err := Sheet(strings.NewReader(part), func(b *Block) error {
		for _, r := range b.Rows {
			line := fmt.Sprintf("%d", r.N)
			if r.Hidden {
				line += " hidden"
			}
			if r.MaxStyle > 0 {
				line += fmt.Sprintf(" styles to %d", r.MaxStyle)
			}
			for _, c := range r.Cells {
				line += fmt.Sprintf(" [%d", c.Col)
				if c.Style > 0 {
					line += fmt.Sprintf(" style %d", c.Style)
				}
				line += [...]string{"", " shared", " str", " inline", " bool", " error", " date"}[c.Kind]
				if c.HasFormula {
					line += fmt.Sprintf(" =%q", b.Text(c.Formula))
				}
				if text := b.Text(c.Text); c.HasValue || len(text) > 0 {
					line += fmt.Sprintf(" %q", text)
				}
				line += "]"
			}
			lines = append(lines, line)
		}
		return nil
	})
	return lines, string(rest), err
}

var sheets = []struct{ rows, want string }{
	{``, ``},
	{`<row r="1"/><row/><row r="5"></row>`, "1\n2\n5"},
	{`<row r='2' spans="1:8" x14ac:dyDescent="0.25" hidden="1"><c r='A2' s="3"/><c t="s" r="C2"><v>12</v></c></row>`, `2 hidden styles to 3 [3 shared "12"]`},
	{`<row><c><v> 1 </v></c><c/><c s="2"><v/></c></row>`, `1 styles to 2 [1 " 1 "] [3 style 2 ""]`},
	{"\r\n<row>\r\n<c t=\"str\">\r\n<f t=\"shared\" si=\"0\"/>\t<v>a&amp;b</v>\n</c>\n</row>\n", `1 [1 str ="" "a&b"]`},
	{`<row><c t="inlineStr"><is><t>a</t></is></c><c t="inlineStr"><is><r><rPr><b/></rPr><t>b</t></r><rPh><t>x</t></rPh><r><t>&#99;</t></r></is></c><c t="inlineStr"><is/></c></row>`, `1 [1 inline "a"] [2 inline "bc"] [3 inline]`},
	{`<row ht="0"><c t="b"><v>1</v></c><c t="e"><v>#REF!</v></c><c t="d"><v>2026-10-31</v></c><c t="n"><f>1&lt;2</f></c></row>`, `1 hidden [1 bool "1"] [2 error "#REF!"] [3 date "2026-10-31"] [4 ="1<2"]`},
	{`<row><c t="str"><v>é日😀]]&gt;]] &#x1F600;</v></c></row>`, `1 [1 str "é日😀]]>]] 😀"]`},
	{`<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`, `1048576 [16384 "1"]`},
}

// The subset is read alike whatever pieces the bytes come in.
func TestSheetsInPiecesOfAnySize(t *testing.T) {
	for _, size := range []int{1, 2, 3, 5, 7, 11, 16, 31, 32, 33, 63, 64, 65, 100, 1000, 112 << 10} {
		inPieces(t, size)
		for _, c := range sheets {
			got, around, err := read(head + `<sheetData>` + c.rows + `</sheetData><a/></worksheet>`)
			if strings.Join(got, "\n") != c.want || around != head+`<sheetData/><a/></worksheet>` || err != nil {
				t.Errorf("%s in pieces of %d: %v, around %q\n%s\nwant\n%s", c.rows, size, err, around, strings.Join(got, "\n"), c.want)
			}
		}
	}
}

// Rows that are longer than a block and than the room before it.
func TestLongRows(t *testing.T) {
	var b strings.Builder
	var want []string
	for n := 1; n <= 15; n++ {
		fmt.Fprintf(&b, `<row r="%d">`, n)
		line := fmt.Sprint(n)
		for col := range n * 80 {
			fmt.Fprintf(&b, `<c t="str"><v>%d of &quot;%d&quot;</v></c>`, col, n)
			line += fmt.Sprintf(" [%d str %q]", col+1, fmt.Sprintf("%d of \"%d\"", col, n))
		}
		b.WriteString(`</row>`)
		want = append(want, line)
	}
	for _, size := range []int{16 << 10, 112 << 10} {
		inPieces(t, size)
		got, _, err := read(head + `<sheetData>` + b.String() + `</sheetData></worksheet>`)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("pieces of %d: %d rows, %v", size, len(got), err)
		}
	}
	inPieces(t, 112<<10)
	huge := `<row><c t="str"><v>` + strings.Repeat("a", 3<<20) + `</v></c></row>`
	if got, _, err := read(head + `<sheetData><row/>` + huge + `</sheetData></worksheet>`); len(got) != 1 || !errors.Is(err, ErrOutside) {
		t.Errorf("a huge row: %d rows, %v", len(got), err)
	}
	if _, _, err := read(head + `<sheetData/>` + strings.Repeat(" ", 2<<20) + `</worksheet>`); !errors.Is(err, ErrOutside) {
		t.Errorf("much behind the rows: %v", err)
	}
}

// The rows before a place that is outside the subset are given, none behind it.
func TestOutside(t *testing.T) {
	for _, bad := range []string{
		`<!-- c -->`, `<?x?>`, `text`, `<a/>`, `<x:row/>`, `<row r="1"/>`, `<row r="0"/>`, `<row r=""/>`, `<row r="1048577"/>`, `<row r="2" r="3"/>`, `<row hidden="&#49;"/>`,
		`<row ht="&#48;"/>`, `<row x:ht="0"/>`, `<row ht="0" ht="0"/>`, `<row r ="2"/>`, `<row a="<"/>`, `<row a="&x;"/>`, `<row a=b/>`, `<row a/>`, `<row é="1"/>`, `<row a:b:c="1"/>`, `<row a="1"b="2"/>`, `<row / >`,
		`<row><c r="A3"/></row>`, `<row><c r="A02"/></row>`, `<row><c r="a2"/></row>`, `<row><c r="2"/></row>`, `<row><c r="A"/></row>`, `<row><c r="XFE2"/></row>`, `<row><c r="AAAA2"/></row>`,
		`<row><c r="B2"/><c r="A2"/></row>`, `<row><c r="B2"/><c r="B2"/></row>`, `<row><c r="A2" r="A2"/></row>`, `<row><c s="1" s="1"/></row>`, `<row><c t="n" t="n"/></row>`,
		`<row><c s="x"/></row>`, `<row><c s="12345678"/></row>`, `<row><c t="x"/></row>`, `<row><c t="inline"/></row>`, `<row><c t="sx"/></row>`, `<row><c s='1"/></row>`, `<row><cc/></row>`,
		`<row>a<c/></row>`, `<row><c>a</c></row>`, `<row><c><x/></c></row>`, `<row><c><v>1</v><v>2</v></c></row>`, `<row><c><f/><f/></c></row>`, `<row><c><is><t>a</t></is></c></row>`,
		`<row><c t="inlineStr"><v>1</v><is/></c></row>`, `<row><c t="inlineStr"><is/><v>1</v></c></row>`, `<row><c t="inlineStr"><is>a</is></c></row>`, `<row><c t="inlineStr"><is><b/></is></c></row>`, `<row><c t="inlineStr"><is><r><rPr><t>a</t></rPr></r></is></c></row>`,
		`<row><c t="inlineStr"><is><r><r/></r></is></c></row>`, `<row><c t="inlineStr"><is><t>a<b/></t></is></c></row>`, `<row><c t="inlineStr"><is></r></is></c></row>`,
		`<row><c><v>a<b/></v></c></row>`, `<row><c><v><![CDATA[a]]></v></c></row>`, `<row><c><v>]]></v></c></row>`, `<row><c><v>&nbsp;</v></c></row>`, `<row><c><v>&amp</v></c></row>`, `<row><c><v>&#xD800;</v></c></row>`, `<row><c><v>&#;</v></c></row>`, `<row><c><v>&#99999999;</v></c></row>`,
		"<row><c><v>\r</v></c></row>", "<row><c><v>\x00</v></c></row>", "<row><c><v>\x1f</v></c></row>", "<row><c><v>\xff</v></c></row>", "<row><c><v>\xc3</v></c></row>", "<row><c><v>\uffff</v></c></row>", "<row><c><v>\xed\xa0\x80</v></c></row>",
		`<row><c><v>1</v></c>`, `<row><c><v>1</c></v></row>`, `<row><c></row>`, `<row`, `<row><c><v>1`, `</row>`, `<row></row >`, `<row><c t="str"><v>` + strings.Repeat("a", 32_768) + `</v></c></row>`,
	} {
		for _, size := range []int{9, 112 << 10} {
			if len(bad) > 1000 && size < 1000 {
				continue // read again and again
			}
			inPieces(t, size)
			got, _, err := read(head + `<sheetData><row r="1"><c><v>7</v></c></row>` + bad + `<row r="1000"/></sheetData></worksheet>`)
			if !errors.Is(err, ErrOutside) || !slices.Equal(got, []string{`1 [1 "7"]`}) {
				t.Errorf("%.80q: %v, %q", bad, err, got)
			}
		}
	}
	for _, part := range []string{
		``, `<`, `a`, head, head + `</worksheet>`, `<sheetData/>`, `<x:worksheet><sheetData/></x:worksheet>`, `<worksheet/>`, head + `<!-- <sheetData> -->`, head + `<a><sheetData/></a></worksheet>`, head + `<x:sheetData/></worksheet>`,
		head + `<a></b><sheetData/>`, head + `<a>` + strings.Repeat(`<a>`, 20), head + `<a>&x;</a><sheetData/>`, "\xff\xfe<\x00", `<!DOCTYPE x>` + head + `<sheetData/>`, head + `<sheetData>`, head + `<sheetData>` + `</sheetDat`,
		`<?xml?>` + head + `<sheetData/>`, `<?xml version="1.1"?>` + head + `<sheetData/>`, `<?xml version="1.0" encoding="UTF-16"?>` + head + `<sheetData/>`, `<?xml encoding="UTF-8"?>` + head + `<sheetData/>`, `<?xml version="1.0" standalone="x"?>` + head + `<sheetData/>`,
	} {
		if got, _, err := read(part); !errors.Is(err, ErrOutside) || len(got) > 0 {
			t.Errorf("%q: %v, %q", part, err, got)
		}
	}
}

func TestTexts(t *testing.T) {
	for _, size := range []int{1, 7, 40, 112 << 10} {
		inPieces(t, size)
		for part, want := range map[string]string{
			`<sst/>`: `[]`, "\ufeff<?xml version=\"1.0\" encoding=\"UTF-8\"?>\r\n<sst a=\"1\">\r\n</sst>\r\n": `[]`,
			`<sst><si/><si></si><si><t/></si><si><t> a&lt; </t></si><extLst><e/></extLst></sst>`:                                                `["" "" "" " a< "]`,
			`<sst><si><r><rPr><b/></rPr><t xml:space="preserve">a </t></r><r><t>é</t></r><rPh><t>x</t></rPh></si><si><t>_x000D_</t></si></sst>`: `["a é" "_x000D_"]`,
			`<sst><si><t>a</t></si><x/></sst>`: `["a"] outside`, `<sst><si><t>a</t></si></sst>b`: `["a"] outside`, `<sst><si><t>a</t></si>`: `["a"] outside`,
			`<sst><si><t>a</t></si><si><t>` + strings.Repeat("a", 32_768) + `</t></si></sst>`: `["a"] outside`, `<sst><x:si/></sst>`: `[] outside`, `<x/>`: `[] outside`,
			`<sst><si>` + strings.Repeat(`<t>a</t>`, 65) + `</si></sst>`: `[] outside`, `<sst/><sst/>`: `[] outside`,
		} {
			if len(part) > 1000 && size < 1000 {
				continue // read again and again
			}
			var all []string
			err := Texts(strings.NewReader(part), func(text []byte) error { all = append(all, string(text)); return nil })
			got := fmt.Sprintf("%q", all)
			if errors.Is(err, ErrOutside) {
				got += " outside"
			} else if err != nil {
				t.Error(err)
			}
			if got != want {
				t.Errorf("%.80s in pieces of %d: %s, want %s", part, size, got, want)
			}
		}
	}
}

// A panic beside the caller is the caller's.
func TestPanicOfAReaderIsTheCallers(t *testing.T) { synctest.Test(t, panicOfAReader) }

func panicOfAReader(t *testing.T) {
	defer func() {
		if got := recover(); got != "fault" {
			t.Errorf("recovered %v", got)
		}
	}()
	Sheet(io.MultiReader(bytes.NewReader(salesPart(20_000)), panicking{}), func(*Block) error { return nil })
}

type panicking struct{}

func (panicking) Read([]byte) (int, error) { panic("fault") }

// Errors of the reader and of the one who is given rows come back as they are,
// and nothing is left running, which a bubble would wait for in vain.
func TestErrorsOfOthers(t *testing.T) { synctest.Test(t, errorsOfOthers) }

func errorsOfOthers(t *testing.T) {
	broken, enough := errors.New("broken"), errors.New("enough")
	data := salesPart(20_000)
	for _, at := range []int{0, 10, 100_000, len(data) - 5, len(data)} {
		last := 0
		_, err := Sheet(io.MultiReader(bytes.NewReader(data[:at]), iotest.ErrReader(broken)), func(b *Block) error {
			last = b.Rows[len(b.Rows)-1].N
			return nil
		})
		if err != broken || at == len(data) && last != 20_000 || at == 100_000 && last < 200 {
			t.Errorf("broken at %d: %v behind row %d", at, err, last)
		}
		if err := Texts(io.MultiReader(strings.NewReader("<sst><si>"), iotest.ErrReader(broken)), nil); err != broken {
			t.Error(err)
		}
	}
	for stop := range 4 {
		blocks := 0
		_, err := Sheet(bytes.NewReader(data), func(*Block) error {
			if blocks++; blocks > stop {
				return enough
			}
			return nil
		})
		if err != enough || blocks != stop+1 {
			t.Errorf("%v after %d blocks", err, blocks)
		}
	}
	if _, err := Sheet(iotest.DataErrReader(iotest.OneByteReader(bytes.NewReader(salesPart(50)))), func(*Block) error { return nil }); err != nil {
		t.Error(err)
	}
	if _, err := Sheet(idle{}, nil); err != io.ErrNoProgress {
		t.Error(err)
	}
}

// idle is a reader that neither reads nor ends.
type idle struct{}

func (idle) Read([]byte) (int, error) { return 0, nil }

// Words of eight bytes are read as byte by byte.
func TestBytesAreReadAtOnce(t *testing.T) {
	digit := rapid.ByteRange('0', '9')
	some := rapid.OneOf(digit, rapid.ByteRange('+'-1, '<'), rapid.Byte())
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.OneOf(rapid.SliceOfN(digit, 8, 8), rapid.SliceOfN(some, 8, 8)).Draw(t, "bytes")
		want := slices.IndexFunc(b, func(c byte) bool { return c < '+' || c > ';' })
		if want < 0 {
			want = 8
		}
		if got := ofNumber(b); got != want {
			t.Fatalf("%d bytes of a number in %q, want %d", got, b, want)
		}
		n := rapid.IntRange(0, 9).Draw(t, "n")
		number := int32(-1)
		if n > 0 && n < 8 && !slices.ContainsFunc(b[:n], func(c byte) bool { return c < '0' || c > '9' }) {
			v, err := strconv.Atoi(string(b[:n]))
			if err != nil {
				t.Fatal(err)
			}
			number = int32(v)
		}
		if got := ofDigits(b, n); got != number {
			t.Fatalf("%d bytes of %q are %d, want %d", n, b, got, number)
		}
	})
}
