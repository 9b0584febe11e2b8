package grid

import (
	"archive/zip"
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"pourbook/compute/oracle"
	"pourbook/ingest/grid/gridtest"
)

// told is every row that was given out, a line each, and the error at the end.
func told(each func(func(Row) error) error) (lines []string, err error) {
	err = each(func(r Row) error {
		lines = append(lines, tell(r))
		return nil
	})
	return lines, err
}

func tell(r Row) string {
	b := fmt.Appendf(nil, "%d %t", r.N, r.Hidden)
	for i, c := range r.Cells {
		if c != (Cell{}) {
			b = fmt.Appendf(b, " %d%+v", i+1, c)
		}
	}
	return string(b)
}

// partsOf are the sheets of a book.
func partsOf(f *File) (all []*sheetPart) {
	for _, s := range f.Sheets {
		all = append(all, s.rows.(*sheetPart))
	}
	return all
}

// rebuilt is a raw row with what its raw cells say in place of what Full says.
func rebuilt(s *Sheet, raw *RawRow) string {
	row := raw.Full()
	row.Cells = slices.Clone(row.Cells)
	if !raw.Plain {
		return tell(row)
	}
	own := map[int]int{}
	for i := range raw.Len() {
		if !raw.Blank(i) {
			own[raw.Column(i)] = i
		}
	}
	for i := range row.Cells {
		if _, ok := own[i+1]; !ok {
			row.Cells[i] = Cell{}
		}
	}
	for col, i := range own {
		made, ok := s.made(raw, i)
		if !ok {
			continue
		}
		made.Formula = raw.from.scanned.Cells[i].HasFormula
		for len(row.Cells) < col {
			row.Cells = append(row.Cells, Cell{})
		}
		row.Cells[col-1] = made
	}
	return tell(row)
}

// made is the cell that one of a raw row tells of; false where Full has to.
func (s *Sheet) made(r *RawRow, i int) (Cell, bool) {
	if n, ok := r.Shared(i); ok {
		return Cell{Kind: Text, Raw: s.Text(n)}, true
	}
	if text, ok := r.Text(i); ok {
		return Cell{Kind: Text, Raw: string(text)}, true
	}
	formats := []Format{PlainFormat, DateFormat, TimeFormat, PercentFormat}
	w := &walk{sheetPart: &sheetPart{source: &source{date1904: r.Since1904, formats: formats}}}
	for style, f := range formats {
		if text, ok := r.Number(i, f); ok {
			w.raw.style = style
			return w.number(string(text)), true
		}
	}
	return Cell{}, false
}

// alike holds the scanner against the walk, and tells whether it read the part
// to its end.
func alike(t *testing.T, name string, p *sheetPart) (scanned bool) {
	t.Helper()
	want, wantErr := told(p.walk)
	var got []string
	w := p.newWalk(func(r Row) error { got = append(got, tell(r)); return nil })
	scanErr := p.scan(w, w.take)
	if len(got) > len(want) || !slices.Equal(got, want[:len(got)]) || scanErr == nil && (wantErr != nil || len(got) != len(want)) {
		t.Errorf("%s: scanned (%v)\n%s\nwalked (%v)\n%s", name, scanErr, strings.Join(got, "\n"), wantErr, strings.Join(want, "\n"))
	}
	got, err := told(p.each)
	if diff := cmp.Diff(want, got); diff != "" || fmt.Sprint(err) != fmt.Sprint(at(p.path, wantErr)) {
		t.Errorf("%s: both ways: %v, want %v\n%s", name, err, wantErr, diff)
	}
	var full, raw []string
	s := &Sheet{rows: p}
	err = s.EachRaw(func(r *RawRow) error {
		if len(r.Full().Cells) > 0 {
			full, raw = append(full, tell(r.Full())), append(raw, rebuilt(s, r))
		}
		return nil
	})
	if fmt.Sprint(err) != fmt.Sprint(wantErr) {
		t.Errorf("%s: raw: %v, want %v", name, err, wantErr)
	}
	if wantErr != nil {
		want = want[:min(len(want), len(full))]
		full = full[:len(want)]
		raw = raw[:len(want)]
	}
	if diff := cmp.Diff(want, full); diff != "" {
		t.Errorf("%s: in full:\n%s", name, diff)
	}
	if diff := cmp.Diff(want, raw); diff != "" {
		t.Errorf("%s: raw:\n%s", name, diff)
	}
	return scanErr == nil
}

// The scanner reads the books of every program in testdata, as the walk does.
func TestScannerReadsBooksOfSeveralPrograms(t *testing.T) {
	books := 0
	err := filepath.WalkDir(filepath.Join("..", "..", "testdata"), func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".xlsx" {
			return err
		}
		books++
		for _, p := range partsOf(mustOpen(t, path)) {
			if !alike(t, path+" "+p.name, p) {
				t.Errorf("%s: sheet %s was not scanned to its end", path, p.name)
			}
		}
		return nil
	})
	if err != nil || books < 10 {
		t.Errorf("%d books, %v", books, err)
	}
}

// What excelize writes, whole or as a stream, is scanned, walked and read by
// excelize itself to the same cells.
func TestScannerAgainstExcelize(t *testing.T) {
	cells := 0
	for _, c := range []struct {
		name string
		fill func(x *excelize.File)
	}{{"whole", fillWhole(t)}, {"stream", fillStream(t)}} {
		path := written(t, c.fill)
		f := mustOpen(t, path)
		p := partsOf(f)[0]
		if !alike(t, c.name, p) {
			t.Errorf("%s was not scanned to its end", c.name)
		}
		x, err := excelize.OpenFile(path, excelize.Options{RawCellValue: true})
		must(t, err)
		want, err := x.GetRows("Sheet1")
		must(t, err)
		must(t, x.Close())
		got := make([][]string, len(want))
		must(t, f.Sheets[0].Each(func(r Row) error {
			for _, c := range r.Cells {
				got[r.N-1] = append(got[r.N-1], plainly(c))
			}
			return nil
		}))
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s:\n%s", c.name, diff)
		}
		for _, row := range want {
			cells += len(row)
		}
	}
	oracle.Cases(t, cells)
}

// plainly is a cell as excelize shows raw values.
func plainly(c Cell) string {
	switch {
	case c.Kind == Bool:
		return fmt.Sprint(c.Num)
	case c.Kind == Date:
		return fmt.Sprint(c.Num)
	case c.Kind == NoValue:
		return ""
	}
	return c.Raw
}

var sampleTexts = []string{"Amber & Öak", "Deep <Red>", " spaced ", "\"8\" tin\"", "a]]>b", "line\nbreak", "日本", "😀", "=A1"}

func fillWhole(t *testing.T) func(x *excelize.File) {
	return func(x *excelize.File) {
		date, err := x.NewStyle(&excelize.Style{NumFmt: 14})
		must(t, err)
		for n := 1; n <= 400; n++ {
			must(t, x.SetSheetRow("Sheet1", fmt.Sprintf("A%d", n), &[]any{n, sampleTexts[n%len(sampleTexts)], float64(n) / 8, n%2 == 0, fmt.Sprint("text ", n%17)}))
			must(t, x.SetCellValue("Sheet1", fmt.Sprintf("F%d", n), 45000+n))
			must(t, x.SetCellStyle("Sheet1", fmt.Sprintf("F%d", n), fmt.Sprintf("H%d", n), date))
			must(t, x.SetCellRichText("Sheet1", fmt.Sprintf("I%d", n), []excelize.RichTextRun{{Text: "Deep "}, {Text: "Red", Font: &excelize.Font{Bold: true}}}))
		}
	}
}

func fillStream(t *testing.T) func(x *excelize.File) {
	return func(x *excelize.File) {
		date, err := x.NewStyle(&excelize.Style{NumFmt: 14})
		must(t, err)
		w, err := x.NewStreamWriter("Sheet1")
		must(t, err)
		for n := 1; n <= 4000; n++ {
			must(t, w.SetRow(fmt.Sprintf("A%d", n), []any{
				excelize.Cell{StyleID: date, Value: 45000 + n},
				sampleTexts[n%len(sampleTexts)], float64(n) / 8, n%2 == 0, nil,
				excelize.Cell{Formula: "A1*2", Value: n * 2},
			}))
		}
		must(t, w.Flush())
	}
}

// oneSheet is a book's only sheet, with three styles and two texts.
func oneSheet(t testing.TB, xml string) (*sheetPart, error) {
	p, err := packOf(whole().Set(gridtest.Sheet, xml).ZipBy(zip.Store))
	if err != nil {
		t.Fatal(err)
	}
	src := &source{pack: p, formats: []Format{PlainFormat, DateFormat, PercentFormat}, strings: func() (*texts, error) { return textsOf("a", ""), nil }}
	part := &sheetPart{source: src, name: "S", target: gridtest.Sheet}
	return part, part.scanMerges()
}

// FuzzScanner holds the scanner against the walk on anything between the tags
// of the rows, or on whole parts.
func FuzzScanner(f *testing.F) {
	for _, s := range scannerCases {
		f.Add(s, false)
		f.Add(sheetOf(s), true)
	}
	f.Fuzz(func(t *testing.T, s string, part bool) {
		if !part {
			s = sheetOf(s)
		}
		if p, err := oneSheet(t, s); err == nil {
			alike(t, s, p)
		}
	})
}

// The merged areas of a large sheet are found when its rows have gone by; in
// the other context they are known before.
func TestMergedAreasOfALargeSheet(t *testing.T) {
	before := latePart
	latePart = 100 << 10
	t.Cleanup(func() { latePart = before })
	xml := sheetOf(salesRows(1000), `<mergeCells><mergeCell ref="A1:B1"/></mergeCells>`)
	items := `<sst xmlns="` + gridtest.MainSpace + `">` + strings.Repeat(`<si><t>a</t></si>`, 300) + `</sst>`
	book := whole().Set(gridtest.Texts, items)
	merged := file(t, "merged.xlsx", book.Set(gridtest.Sheet, xml).Zip())
	ctx := context.Background()
	for _, c := range []struct {
		ctx  context.Context
		path string
		want error
		in   int // cells of the first row
	}{
		{ctx, merged, ErrMerged, 8},
		{WalkOnly(ctx), merged, ErrMerged, 8},
		{MergesFirst(ctx), merged, nil, 7},
		{ctx, file(t, "none.xlsx", book.Set(gridtest.Sheet, sheetOf(salesRows(1000))).Zip()), nil, 8},
	} {
		f, err := Open(c.ctx, c.path)
		must(t, err)
		cells := func(r Row) (n int) {
			for _, c := range r.Cells {
				if c.Kind != Blank {
					n++
				}
			}
			return n
		}
		rows := 0
		err = f.Sheets[0].Each(func(r Row) error {
			if rows++; r.N == 1 && cells(r) != c.in {
				t.Errorf("%d cells in the first row, want %d", cells(r), c.in)
			}
			return nil
		})
		if err != c.want || rows != 1000 {
			t.Errorf("%d rows, %v", rows, err)
		}
		rows = 0
		if err := f.Sheets[0].EachRaw(func(r *RawRow) error { rows++; return nil }); err != c.want || rows != 1000 {
			t.Errorf("%d raw rows, %v", rows, err)
		}
	}
}
