// Bigbook writes a made-up book with as many lines of sales as asked for, to
// time the program with: go run ./.ci/bigbook -rows 100000 OUT.xlsx
package main

import (
	"archive/zip"
	"bufio"
	"flag"
	"fmt"
	"io"
	"log"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
)

func main() {
	var b bigBook
	flag.IntVar(&b.rows, "rows", 1_048_575, "lines of sales")
	flag.IntVar(&b.products, "products", 40, "products")
	flag.IntVar(&b.seasons, "seasons", 8, "seasons of a year")
	flag.StringVar(&b.shape, "shape", "plain", "how the sales are written: plain, blank (half the optional cells are empty), inline (inline strings), odd (two lines that are not as they should be), orders (an order number on every two lines) or random (a text of its own on every line)")
	flag.Parse()
	if flag.NArg() != 1 {
		log.Fatal("usage: bigbook [flags] OUT.xlsx")
	}
	f, err := os.Create(flag.Arg(0))
	if err != nil {
		log.Fatal(err)
	}
	b.out = zip.NewWriter(f)
	b.write()
	if err := b.out.Close(); err != nil {
		log.Fatal(err)
	}
	if err := f.Close(); err != nil {
		log.Fatal(err)
	}
}

type bigBook struct {
	rows, products, seasons int
	shape                   string
	out                     *zip.Writer
	texts                   []string
	index                   map[string]int
}

const (
	firstDay = 45292 // 2024-01-01
	days     = 1035  // to 2026-10-31
	dated    = 1     // the style of days
	relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	mainNS   = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
)

// date is a day's serial number, inline a text that is not shared, blank an
// empty cell.
type (
	date   int
	inline string
	blank  struct{}
)

func (b *bigBook) write() {
	b.index = map[string]int{}
	random := rand.New(rand.NewPCG(1, 2))
	sheets := []struct {
		name string
		rows func(give func(...any))
	}{
		{"Materials", b.materials},
		{"Recipes", b.recipes},
		{"Jars", b.jars},
		{"Jar parts", b.parts},
		{"Products", b.list},
		{"Channels", b.channels},
		{"Seasons", b.year},
		{"Sales", func(give func(...any)) { b.sales(give, random) }},
	}
	for i, s := range sheets {
		b.sheet(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), s.rows)
	}
	var list, links, types strings.Builder
	for i, s := range sheets {
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d" r:id="r%[2]d"/>`, s.name, i+1)
		fmt.Fprintf(&links, `<Relationship Id="r%d" Type="%s/worksheet" Target="worksheets/sheet%[1]d.xml"/>`, i+1, relation)
		fmt.Fprintf(&types, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, i+1)
	}
	const packages = "http://schemas.openxmlformats.org/package/2006/"
	b.part("xl/workbook.xml", `<workbook xmlns="`+mainNS+`" xmlns:r="`+relation+`"><sheets>`+list.String()+`</sheets></workbook>`)
	b.part("xl/_rels/workbook.xml.rels", `<Relationships xmlns="`+packages+`relationships">`+links.String()+
		`<Relationship Id="s" Type="`+relation+`/styles" Target="styles.xml"/><Relationship Id="t" Type="`+relation+`/sharedStrings" Target="sharedStrings.xml"/></Relationships>`)
	b.part("_rels/.rels", `<Relationships xmlns="`+packages+`relationships"><Relationship Id="r" Type="`+relation+`/officeDocument" Target="xl/workbook.xml"/></Relationships>`)
	b.part("[Content_Types].xml", `<Types xmlns="`+packages+`content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>`+
		`<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>`+types.String()+
		`<Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>`+
		`<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>`)
	b.part("xl/styles.xml", `<styleSheet xmlns="`+mainNS+`"><fonts count="1"><font/></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders>`+
		`<cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="2"><xf/><xf numFmtId="14" applyNumberFormat="1"/></cellXfs></styleSheet>`)
	b.part("xl/sharedStrings.xml", `<sst xmlns="`+mainNS+`"><si><t>`+strings.Join(b.texts, "</t></si><si><t>")+`</t></si></sst>`)
}

func (b *bigBook) part(name, text string) {
	if _, err := io.WriteString(b.create(name), `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>`+"\n"+text); err != nil {
		log.Fatal(err)
	}
}

func (b *bigBook) create(name string) io.Writer {
	w, err := b.out.Create(name)
	if err != nil {
		log.Fatal(err)
	}
	return w
}

func (b *bigBook) sheet(part string, rows func(give func(...any))) {
	w := bufio.NewWriterSize(b.create(part), 1<<16)
	w.WriteString(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" + `<worksheet xmlns="` + mainNS + `"><sheetData>`)
	n := 0
	rows(func(cells ...any) {
		n++
		row := strconv.Itoa(n)
		w.WriteString(`<row r="` + row + `">`)
		for i, c := range cells {
			ref := `<c r="` + string(rune('A'+i)) + row + `"`
			switch v := c.(type) {
			case blank:
			case date:
				w.WriteString(ref + ` s="` + strconv.Itoa(dated) + `"><v>` + strconv.Itoa(int(v)) + `</v></c>`)
			case int:
				w.WriteString(ref + `><v>` + strconv.Itoa(v) + `</v></c>`)
			case float64:
				w.WriteString(ref + `><v>` + strconv.FormatFloat(v, 'f', -1, 64) + `</v></c>`)
			case string:
				w.WriteString(ref + ` t="s"><v>` + strconv.Itoa(b.shared(v)) + `</v></c>`)
			case inline:
				w.WriteString(ref + ` t="inlineStr"><is><t>` + string(v) + `</t></is></c>`)
			}
		}
		w.WriteString(`</row>`)
	})
	w.WriteString(`</sheetData></worksheet>`)
	if err := w.Flush(); err != nil {
		log.Fatal(err)
	}
}

func (b *bigBook) shared(s string) int {
	i, ok := b.index[s]
	if !ok {
		i = len(b.texts)
		b.index[s], b.texts = i, append(b.texts, s)
	}
	return i
}
