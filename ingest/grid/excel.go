package grid

import (
	"archive/zip"
	"bytes"
	"fmt"

	"github.com/xuri/excelize/v2"
)

// skeleton is the package around a style sheet: excelize reads whole packages
// only. It is given no sheet, because it would unzip all of them and ignore
// their damage.
var skeleton = []struct{ name, text string }{
	{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`},
	{"_rels/.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r" ` +
		`Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
	{"xl/workbook.xml", `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheets/></workbook>`},
}

// readFormats is the number format of every cell style of a style sheet,
// whose XML has been checked.
func readFormats(styles []byte) (formats []Format, err error) {
	defer func() {
		if p := recover(); p != nil {
			formats, err = nil, fmt.Errorf("style sheet: %v", p)
		}
	}()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, part := range append(skeleton[:len(skeleton):len(skeleton)], struct{ name, text string }{"xl/styles.xml", string(styles)}) {
		w, err := z.CreateHeader(&zip.FileHeader{Name: part.name, Method: zip.Store})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write([]byte(part.text)); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	// Equal limits keep excelize from unzipping to temporary files.
	limit := int64(b.Len())
	x, err := excelize.OpenReader(&b, excelize.Options{RawCellValue: true, UnzipSizeLimit: limit, UnzipXMLSizeLimit: limit})
	if err != nil {
		return nil, err
	}
	defer x.Close()
	return formatsOf(x), nil
}

func formatsOf(x *excelize.File) []Format {
	custom := map[int]string{}
	if x.Styles.NumFmts != nil {
		for _, n := range x.Styles.NumFmts.NumFmt {
			custom[n.NumFmtID] = n.FormatCode
		}
	}
	var out []Format
	if x.Styles.CellXfs != nil {
		for _, xf := range x.Styles.CellXfs.Xf {
			id := xf.NumFmtID
			if named := x.Styles.CellStyleXfs; id == nil && named != nil && xf.XfID != nil && *xf.XfID >= 0 && *xf.XfID < len(named.Xf) {
				id = named.Xf[*xf.XfID].NumFmtID
			}
			out = append(out, formatByID(id, custom))
		}
	}
	return out
}

func formatByID(id *int, custom map[int]string) Format {
	if id == nil {
		return PlainFormat
	}
	if code, ok := custom[*id]; ok {
		return formatOf(code)
	}
	return builtIn(*id)
}
