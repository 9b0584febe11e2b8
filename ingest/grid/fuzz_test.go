package grid

import (
	"archive/zip"
	"errors"
	"io"
	"testing"

	"pourbook/ingest/grid/gridtest"
)

func anyFault(t *testing.T, err error) {
	t.Helper()
	var f *Fault
	if err != nil && !errors.As(err, &f) {
		t.Errorf("%v is no fault", err)
	}
}

func FuzzSheet(f *testing.F) {
	for _, s := range []string{
		sheetOf(twoRows), sheetOf(""), "", "<", "<worksheet/>", sheetOf(`<row r="1"><c r="A1" t="inlineStr"><is><t>x</t></is></c></row>`),
		sheetOf(`<row><c><f>1</f></c></row>`, `<mergeCells><mergeCell ref="A1:B2"/></mergeCells>`), sheetOf(`<row r="1048576"><c r="XFD1048576"/></row>`),
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := packOf(whole().Set(gridtest.Sheet, s).ZipBy(zip.Store))
		if err != nil {
			t.Fatal(err)
		}
		src := &source{pack: p, formats: []Format{PlainFormat, DateFormat, PercentFormat}, strings: func() (*texts, error) { return textsOf("a", "b"), nil }}
		part := &sheetPart{source: src, name: "S", target: gridtest.Sheet}
		if err := part.scanMerges(); err != nil {
			anyFault(t, err)
			return
		}
		last := 0
		err = part.each(func(r Row) error {
			if r.N <= last || r.N > maxRows || len(r.Cells) > maxColumns || r.Cells[len(r.Cells)-1].Kind == Blank {
				t.Errorf("row %d after %d with %d cells", r.N, last, len(r.Cells))
			}
			last = r.N
			return nil
		})
		anyFault(t, err)
	})
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "sep=;\na;b", "\"a\"\"b\",c\r\n", "\"", "\xff\xfea\x00", "\xfe\xff\x00a", "\xef\xbb\xbfa", "a\x81", "é;ü\r", "\x1a", "\x00"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var file File
		if err := file.openText(data, ".csv"); err != nil {
			anyFault(t, err)
			return
		}
		anyFault(t, file.Sheets[0].Each(func(r Row) error {
			if len(r.Cells) == 0 || len(r.Cells) > maxColumns {
				return io.ErrUnexpectedEOF
			}
			return nil
		}))
	})
}

func FuzzStyles(f *testing.F) {
	for _, p := range whole() {
		if p.Name == gridtest.Styles {
			f.Add(p.Text)
		}
	}
	f.Add(`<styleSheet xmlns="` + gridtest.MainSpace + `"><numFmts><numFmt numFmtId="164" formatCode="d\-[h"/></numFmts><cellStyleXfs><xf numFmtId="9"/></cellStyleXfs><cellXfs><xf xfId="0"/><xf numFmtId="164"/></cellXfs></styleSheet>`)
	f.Fuzz(func(t *testing.T, s string) {
		if wellFormed([]byte(s), gridtest.Styles) != nil {
			return
		}
		if formats, err := readFormats([]byte(s)); err == nil && len(formats) > len(s) {
			t.Errorf("%d formats in %d bytes", len(formats), len(s))
		}
	})
}
