package xlsx

import (
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/templates"
)

// Rows of a maker's sheet: the note, an empty row, the headings.
const (
	noteRow = 1
	headRow = 3
)

// Book writes a maker's workbook: a sheet per table with its note above, notes
// on the headings, drop-down lists below them, frozen heads; dates and numbers
// as such, amounts with a unit as text. An error is a fault of the program.
func Book(sheets []templates.Sheet, title, shop string) ([]byte, error) {
	f := excelize.NewFile()
	w := &maker{File: f}
	w.styles()
	for i, s := range sheets {
		w.sheet(i, s)
	}
	w.do(f.SetDocProps(&excelize.DocProperties{
		Title: title, Creator: shop, LastModifiedBy: shop, Created: "2026-01-01T00:00:00Z", Modified: "2026-01-01T00:00:00Z",
	}))
	if w.err != nil {
		return nil, w.err
	}
	return save(f)
}

// maker keeps the first error, so that a sheet reads as what is on it.
type maker struct {
	*excelize.File
	err                            error
	note, head, text, date, number int
}

func (w *maker) do(err error) {
	if w.err == nil {
		w.err = err
	}
}

func (w *maker) style(s excelize.Style) int {
	id, err := w.NewStyle(&s)
	w.do(err)
	return id
}

func (w *maker) styles() {
	hairline := []excelize.Border{{Type: "bottom", Color: "C8CCCE", Style: 1}}
	w.note = w.style(excelize.Style{Font: &excelize.Font{Italic: true, Color: "465054", Size: 11}})
	w.head = w.style(excelize.Style{
		Font:      &excelize.Font{Bold: true, Color: "FFFFFF", Size: 11},
		Fill:      excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"104852"}},
		Alignment: &excelize.Alignment{Vertical: "center", WrapText: true},
	})
	w.text = w.style(excelize.Style{Border: hairline})
	iso := "yyyy-mm-dd"
	w.date = w.style(excelize.Style{Border: hairline, CustomNumFmt: &iso, Alignment: &excelize.Alignment{Horizontal: "left"}})
	w.number = w.style(excelize.Style{Border: hairline})
}

func (w *maker) sheet(i int, s templates.Sheet) {
	if i == 0 {
		w.do(w.SetSheetName("Sheet1", s.Name))
	} else {
		_, err := w.NewSheet(s.Name)
		w.do(err)
	}
	w.do(w.SetCellStr(s.Name, "A1", s.Note))
	w.do(w.SetCellStyle(s.Name, "A1", "A1", w.note))
	widths := make([]int, len(s.Head))
	for c, name := range s.Head {
		widths[c] = len(name) + 3
		at := address(c+1, headRow)
		w.do(w.SetCellStr(s.Name, at, name))
		if hint := s.Hints[name]; hint != "" {
			w.do(w.AddComment(s.Name, excelize.Comment{Cell: at, Paragraph: []excelize.RichTextRun{{Text: hint}}, Width: 260, Height: 70}))
		}
		w.choices(s, c, name)
	}
	w.do(w.SetCellStyle(s.Name, address(1, headRow), address(len(s.Head), headRow), w.head))
	w.do(w.SetRowHeight(s.Name, headRow, 22))
	for r, row := range s.Rows {
		for c, text := range row {
			if c < len(widths) {
				widths[c] = max(widths[c], min(len(text)+2, 44))
			}
			w.put(s.Name, address(c+1, headRow+1+r), text)
		}
	}
	w.finish(s, widths)
}

// choices puts a drop-down list under a heading, which warns but does not forbid.
func (w *maker) choices(s templates.Sheet, column int, heading string) {
	list := s.Lists[heading]
	if len(list) == 0 {
		return
	}
	v := excelize.NewDataValidation(true)
	v.SetSqref(address(column+1, headRow+1) + ":" + address(column+1, headRow+len(s.Rows)+200))
	if strings.HasPrefix(list[0], "=") {
		v.SetSqrefDropList(strings.TrimPrefix(list[0], "="))
		list = []string{templates.Text("starter.unlisted")}
	} else {
		w.do(v.SetDropList(list))
	}
	v.SetError(excelize.DataValidationErrorStyleWarning, heading, strings.Join(list, ", "))
	w.do(w.AddDataValidation(s.Name, v))
}

func (w *maker) finish(s templates.Sheet, widths []int) {
	for c, n := range widths {
		col := cell.Column(c + 1)
		w.do(w.SetColWidth(s.Name, col, col, float64(n)))
	}
	w.do(w.SetPanes(s.Name, &excelize.Panes{
		Freeze: true, YSplit: headRow, TopLeftCell: address(1, headRow+1), ActivePane: "bottomLeft",
		Selection: []excelize.Selection{{SQRef: address(1, headRow+1), ActiveCell: address(1, headRow+1), Pane: "bottomLeft"}},
	}))
	landscape, fit, tall, fits := "landscape", 1, 0, true
	w.do(w.SetSheetProps(s.Name, &excelize.SheetPropsOptions{FitToPage: &fits}))
	w.do(w.SetPageLayout(s.Name, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &fit, FitToHeight: &tall}))
}

// put writes text as what it is: a date, a number, or text that nothing can evaluate.
func (w *maker) put(sheet, at, text string) {
	style := w.text
	switch v, err := strconv.ParseFloat(text, 64); {
	case text == "":
	case err == nil && text[0] != '.': // a price ending such as .00 stays as written
		style = w.number
		w.do(w.SetCellFloat(sheet, at, v, -1, 64))
	default:
		if d, err := day.Parse(text); err == nil {
			style = w.date
			w.do(w.SetCellFloat(sheet, at, float64(serial(d)), -1, 64))
			break
		}
		w.do(w.SetCellStr(sheet, at, text))
	}
	w.do(w.SetCellStyle(sheet, at, at, style))
}

// serial is the number of a day in the 1900 date system (ECMA-376 part 4,
// 3.17.4.1: 2006-02-01 is 38749); it holds from 1900-03-01 on.
func serial(d day.Date) int { return int(d-day.Of(2006, 2, 1)) + 38749 }

// address is a cell's address in its sheet.
func address(column, row int) string { return cell.Column(column) + strconv.Itoa(row) }
