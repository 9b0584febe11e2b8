package grid

import (
	"archive/zip"
	"bytes"
	stdflate "compress/flate"
	"context"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/klauspost/compress/flate"
	"github.com/xuri/excelize/v2"

	"pourbook/ingest/grid/gridtest"
)

// salesRows is the XML of rows of 8 cells: a date, shared texts, numbers.
func salesRows(n int) string {
	var b strings.Builder
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, `<row r="%d" spans="1:8"><c r="A%d" s="1"><v>%d</v></c><c r="B%d" t="s"><v>%d</v></c><c r="C%d" t="s"><v>%d</v></c><c r="D%d"><v>%d</v></c>`,
			i, i, 45000+i*7%700, i, i*31%40, i, i*17%8, i, 1+i*13%9)
		fmt.Fprintf(&b, `<c r="E%d"><v>%d.5</v></c><c r="F%d" t="s"><v>%d</v></c><c r="G%d" s="2"><v>0.%d</v></c><c r="H%d" t="s"><v>%d</v></c></row>`,
			i, 8+i*11%20, i, i*3%5, i, 1+i*7%99, i, i*101%300)
	}
	return b.String()
}

// BenchmarkReading is a sheet of 100,000 rows: plain inflate of its part by two
// libraries, and what the ways to read its rows cost beside it. Bytes are those
// of the part.
func BenchmarkReading(b *testing.B) {
	var items strings.Builder
	for i := range 300 {
		fmt.Fprintf(&items, "<si><t>text %d</t></si>", i)
	}
	const rows = 100_000
	sheet := sheetOf(salesRows(rows))
	book := whole().Set(gridtest.Sheet, sheet).Set(gridtest.Texts, `<sst xmlns="`+gridtest.MainSpace+`">`+items.String()+`</sst>`)
	data := book.Zip()
	path := file(b, "book.xlsx", data)
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		b.Fatal(err)
	}
	inflated := func(open func(io.Reader) io.ReadCloser) func() int {
		return func() int {
			for _, f := range z.File {
				if f.Name == gridtest.Sheet {
					r, err := f.OpenRaw()
					if err != nil {
						b.Fatal(err)
					}
					if n, err := io.Copy(io.Discard, open(r)); err != nil || int(n) != len(sheet) {
						b.Fatal(n, err)
					}
				}
			}
			return rows
		}
	}
	read := func(ctx context.Context, each func(*Sheet, *int) error) func() int {
		f, err := Open(ctx, path)
		if err != nil {
			b.Fatal(err)
		}
		return func() (n int) {
			if err := each(f.Sheets[0], &n); err != nil {
				b.Fatal(err)
			}
			return n
		}
	}
	count := func(s *Sheet, n *int) error { return s.Each(func(Row) error { *n++; return nil }) }
	raw := func(s *Sheet, n *int) error { return s.EachRaw(func(*RawRow) error { *n++; return nil }) }
	for _, c := range []struct {
		name string
		run  func() int
	}{
		{"inflate by the standard library", inflated(func(r io.Reader) io.ReadCloser { return stdflate.NewReader(r) })},
		{"inflate", inflated(func(r io.Reader) io.ReadCloser { return flate.NewReader(r) })},
		{"open", func() int { read(context.Background(), nil); return rows }},
		{"raw rows", read(context.Background(), raw)},
		{"rows", read(context.Background(), count)},
		{"rows of the walk", read(WalkOnly(context.Background()), count)},
		{"rows of excelize", func() int { return excelizeRows(b, data) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(int64(len(sheet)))
			b.ReportAllocs()
			for b.Loop() {
				if n := c.run(); n != rows {
					b.Fatal(n)
				}
			}
		})
	}
}

// excelizeRows streams raw values, having opened the book.
func excelizeRows(b *testing.B, data []byte) (n int) {
	x, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
	if err != nil {
		b.Fatal(err)
	}
	defer x.Close()
	all, err := x.Rows("Sales")
	if err != nil {
		b.Fatal(err)
	}
	defer all.Close()
	for all.Next() {
		if _, err := all.Columns(); err != nil {
			b.Fatal(err)
		}
		n++
	}
	return n
}
