package ingest

import (
	"context"
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/ingest/grid/gridtest"
)

// sheet is a sheet of a test's book. Rows are lines, cells are parted by "|":
// a number, a date such as 2026-10-31, text, 'text that would be something
// else, pct:0.08 for a number in percent format, bool:1, err:#N/A, f:SUM(B2:B4)=9
// for a formula with its value, or =none for one without.
type sheet struct {
	name   string
	rows   string
	merged []string // "A3:A5"
	hidden bool
	hide   []int // hidden rows
	shared bool  // whether the texts are shared ones
}

// The book is written as plain XML, since a library for writing books gives no
// formula without a value and no cell that shows an error.
func writeBook(t testing.TB, sheets ...sheet) string {
	t.Helper()
	var parts gridtest.Parts
	add := func(name, text string) { parts = append(parts, gridtest.Part{Name: name, Text: xml.Header + text}) }
	const main, rel = `xmlns="` + gridtest.MainSpace + `"`, gridtest.RelSpace
	var list, rels, types strings.Builder
	var texts []string
	for i, s := range sheets {
		n := strconv.Itoa(i + 1)
		state := ""
		if s.hidden {
			state = ` state="hidden"`
		}
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%s" r:id="r%s"%s/>`, escaped(s.name), n, n, state)
		fmt.Fprintf(&rels, `<Relationship Id="r%s" Type="%s/worksheet" Target="worksheets/sheet%s.xml"/>`, n, rel, n)
		fmt.Fprintf(&types, `<Override PartName="/xl/worksheets/sheet%s.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, n)
		data := s.data()
		if s.shared {
			data = share(data, &texts)
		}
		add("xl/worksheets/sheet"+n+".xml", `<worksheet `+main+`><sheetData>`+data+`</sheetData>`+s.merges()+`</worksheet>`)
	}
	if len(texts) > 0 {
		fmt.Fprintf(&rels, `<Relationship Id="ss" Type="%s/sharedStrings" Target="sharedStrings.xml"/>`, rel)
		add(gridtest.Texts, `<sst `+main+`><si><t xml:space="preserve">`+strings.Join(texts, `</t></si><si><t xml:space="preserve">`)+`</t></si></sst>`)
	}
	fmt.Fprintf(&rels, `<Relationship Id="st" Type="%s/styles" Target="styles.xml"/>`, rel)
	add("[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>`+types.String()+`</Types>`)
	add(gridtest.Rels, `<Relationships xmlns="`+gridtest.PkgSpace+`"><Relationship Id="r1" Type="`+rel+`/officeDocument" Target="xl/workbook.xml"/></Relationships>`)
	add(gridtest.Book, `<workbook `+main+` xmlns:r="`+rel+`"><sheets>`+list.String()+`</sheets></workbook>`)
	add(gridtest.BookRels, `<Relationships xmlns="`+gridtest.PkgSpace+`">`+rels.String()+`</Relationships>`)
	add(gridtest.Styles, `<styleSheet `+main+`><fonts count="1"><font/></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="9"/></cellXfs></styleSheet>`)
	path := filepath.Join(t.TempDir(), "book.xlsx")
	if err := os.WriteFile(path, parts.Zip(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

var inlineText = regexp.MustCompile(`t="inlineStr"><is><t[^>]*>([^<]*)</t></is>`)

// share makes the inline texts of rows shared ones.
func share(data string, texts *[]string) string {
	return inlineText.ReplaceAllStringFunc(data, func(c string) string {
		s := inlineText.FindStringSubmatch(c)[1]
		i := slices.Index(*texts, s)
		if i < 0 {
			i = len(*texts)
			*texts = append(*texts, s)
		}
		return fmt.Sprintf(`t="s"><v>%d</v>`, i)
	})
}

func escaped(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		panic(err)
	}
	return b.String()
}

func (s sheet) merges() string {
	if len(s.merged) == 0 {
		return ""
	}
	var b strings.Builder
	for _, m := range s.merged {
		fmt.Fprintf(&b, `<mergeCell ref="%s"/>`, m)
	}
	return `<mergeCells>` + b.String() + `</mergeCells>`
}

func (s sheet) data() string {
	var b strings.Builder
	for i, line := range strings.Split(strings.Trim(s.rows, "\n"), "\n") {
		hidden := ""
		for _, h := range s.hide {
			if h == i+1 {
				hidden = ` hidden="1"`
			}
		}
		fmt.Fprintf(&b, `<row r="%d"%s>`, i+1, hidden)
		for j, v := range strings.Split(line, "|") {
			at := cell.Column(j+1) + strconv.Itoa(i+1)
			b.WriteString(cellXML(at, strings.TrimSpace(v)))
		}
		b.WriteString(`</row>`)
	}
	return b.String()
}

func cellXML(at, v string) string {
	number := func(style string, n float64) string {
		return fmt.Sprintf(`<c r="%s"%s><v>%s</v></c>`, at, style, strconv.FormatFloat(n, 'f', -1, 64))
	}
	if v == "" {
		return ""
	}
	if f, err := strconv.ParseFloat(v, 64); err == nil {
		return number("", f)
	}
	if d, err := day.Parse(v); err == nil {
		return number(` s="1"`, float64(d-day.Of(1899, 12, 30)))
	}
	kind, rest, _ := strings.Cut(v, ":")
	switch {
	case kind == "pct":
		f, err := strconv.ParseFloat(rest, 64)
		if err != nil {
			panic(v)
		}
		return number(` s="2"`, f)
	case kind == "bool":
		return fmt.Sprintf(`<c r="%s" t="b"><v>%s</v></c>`, at, rest)
	case kind == "err":
		return fmt.Sprintf(`<c r="%s" t="e"><f>X1</f><v>%s</v></c>`, at, rest)
	case kind == "f":
		formula, value, ok := strings.Cut(rest, "=")
		if ok {
			value = `<v>` + value + `</v>`
		}
		return fmt.Sprintf(`<c r="%s"><f>%s</f>%s</c>`, at, formula, value)
	case v == "=none":
		return fmt.Sprintf(`<c r="%s"><f>A1+1</f></c>`, at)
	}
	return fmt.Sprintf(`<c r="%s" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, at, escaped(strings.TrimPrefix(v, "'")))
}

// today is the day on which the tests' books are read.
var today = day.Of(2026, 11, 5)

func readBook(t testing.TB, sheets ...sheet) *book.Book {
	t.Helper()
	return readFile(t, writeBook(t, sheets...))
}

func readFile(t testing.TB, path string, more ...string) *book.Book {
	t.Helper()
	b, err := Read(context.Background(), path, Options{Today: today, Sales: more})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// clean is a whole small book under the design's own names.
func cleanBook() []sheet {
	return []sheet{
		{name: "Settings", rows: `
name|value
currency|USD
Pour loss|2
labor rate per hour|18
pitcher capacity|4 lb
cure margin (days)|2
wipe minutes|3
wash minutes|10
price ending|.95
pour days|Mon, Wed`},
		{name: "Materials", rows: `
name|kind|pack size|pack price|freight per pack|supplier|on hand|lead days|density|drops per mL|drops per g|max load %|flash point|base|contains additive
Soy wax|wax|10 lb|32|4.5|North Wax|12 lb|5|0.9|||10|||no
Soy wax|wax|45 lb|110||||||||||||
Lavender oil|fragrance|16 oz|24||Scents||3|0.95||||200 F||
Red dye|dye|1 fl oz|4||||||25||||oil|
Wick 8|wick|100 ct|9|||80
Jar glass|jar|12 ct|15
Lid|lid|24 pcs|8
Shred|packaging|5 lb|14`},
		{name: "Purchases", rows: `
date|material|quantity|amount paid|freight|supplier|reference
2026-08-03|Soy wax|2 x 10 lb|60|9|North Wax|A1
2026-09-01|Wick 8|3|27|||
2026-09-02|Lavender oil|32 oz|44|||`},
		{name: "Recipes", rows: `
recipe|material|amount|per|cure days|melt temperature|dye temperature|fragrance temperature|pour temperature|swatch|batch wax
Lavender|Soy wax|1|parts|14|185 F|||135|#8866aa|2 lb
Lavender|Lavender oil|8|% of wax
Lavender|Red dye|6 drops/lb`},
		{name: "Jars", rows: `
jar|fill weight|capacity mL|fill %|opaque|diameter
Jar 8oz|6.5 oz|||no|70
Tin 4oz||135|85|yes|`},
		{name: "Jar parts", rows: `
jar|material|count|finish
Jar 8oz|Jar glass||
Jar 8oz|Wick 8|1|any
Jar 8oz|Lid|1|colored
Tin 4oz|Wick 8|2|
Tin 4oz|Shred|8 g|`},
		{name: "Products", rows: `
product|name|recipe|jar|finish|list price|wholesale price|on hand|minutes per unit|active
LAV-8-C|Lavender 8 colored|Lavender|Jar 8oz|colored|22|11|6||
LAV-8-N|Lavender 8 natural|Lavender|Jar 8oz|natural|21|||3.5|yes
LAV-4-N||Lavender|Tin 4oz|natural|12||||no`},
		{name: "Channels", rows: `
channel|fee %|fee per order|cost per unit|wholesale
Website|3|0.3|0.5|no
Shops||||yes`},
		{name: "Sales", rows: `
date|product|quantity|unit price|line total|discount|channel|order|customer|market
2026-10-01|LAV-8-C|2|22||1|Website|1001|Ann|
2026-10-02|lavender 8 NATURAL|1|21|21||website|1002|Bea|
2026-10-03|LAV-4-N|-1|12|||||ann|
2026-10-04|LAV-8-C|12||132||Shops|1003|Corner|Fall Fair
2026-10-05|LAV-8-N|3|21|||Studio|||fall fair`},
		{name: "Pours", rows: `
date|product|units|batch
2026-09-10|LAV-8-C|20|7`},
		{name: "Stock counts", rows: `
date|item|quantity
2026-09-30|Soy wax|9 lb
2026-09-30|LAV-8-C|14
2026-09-30|Wick 8|70`},
		{name: "Overheads", rows: `
name|amount per month|from|to
Rent|240|2026-01-01|
Site|30||2026-12-31`},
		{name: "Markets", rows: `
market|date|days|channel|expected units|like|growth %|table capacity|booth fee
Fall Fair|2026-10-04|2|||||60|45
Winter Fair|2026-12-05|||80|Fall Fair|10||`},
		{name: "Seasons", rows: `
season|from|to
Cold|11-01|02-28
Warm|03-01|10-31`},
		{name: "Burn tests", rows: `
date|recipe|jar|finish|wick|result|note
2026-05-01|Lavender|Jar 8oz|colored|Wick 8|pass|fine`},
	}
}
