package xlsx

import (
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/report/show"
	"pourbook/templates"
)

// styles are the workbook's cell styles.
type styles struct {
	title, note, head, text int
	number                  [5]int // by format
	input                   [5]int
}

// bytes writes the workbook: the pages first, then what they rest on.
func (w *live) bytes(title, shop string) ([]byte, error) {
	w.gather()
	f := excelize.NewFile()
	b := &builder{maker: maker{File: f}, live: w}
	b.makeStyles()
	for i, p := range w.pages {
		b.page(i, p)
	}
	if w.sales != nil {
		b.sales(w.sales)
	}
	b.inputs(inputName("settings"), w.settings)
	b.names()
	b.inputs(inputName("cells"), w.inputs)
	b.inputs(inputName("sums"), w.sums)
	b.steps()
	b.do(f.SetDocProps(&excelize.DocProperties{
		Title: clean(title), Creator: clean(shop), LastModifiedBy: clean(shop), Created: "2026-01-01T00:00:00Z", Modified: "2026-01-01T00:00:00Z",
	}))
	if b.err != nil {
		return nil, b.err
	}
	return save(f)
}

// builder writes sheets; it keeps the first error.
type builder struct {
	maker
	*live
	style styles
}

func (b *builder) makeStyles() {
	b.style.title = b.maker.style(excelize.Style{Font: &excelize.Font{Bold: true, Size: 16}})
	b.style.note = b.maker.style(excelize.Style{Font: &excelize.Font{Italic: true, Color: "465054"}})
	b.style.head = b.maker.style(excelize.Style{
		Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"},
		Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}},
	})
	b.style.text = b.maker.style(excelize.Style{})
	money := "#,##0"
	if b.digits > 0 {
		money += "." + strings.Repeat("0", int(b.digits))
	}
	for i, code := range []string{"General", money, "0.0%", "#,##0", "#,##0.00"} {
		code := code
		b.style.number[i] = b.maker.style(excelize.Style{CustomNumFmt: &code})
		if i == int(plain) {
			code = "General"
		}
		b.style.input[i] = b.maker.style(excelize.Style{
			CustomNumFmt: &code, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"F5EFD9"}},
			Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}},
		})
	}
}

// stream starts a sheet with its title, notes and head, frozen.
func (b *builder) stream(i int, name, title string, notes []string, head []column) *excelize.StreamWriter {
	if i == 0 {
		b.do(b.SetSheetName("Sheet1", name))
	} else {
		_, err := b.NewSheet(name)
		b.do(err)
	}
	first := 4 + len(notes)
	landscape, fit, tall := "landscape", 1, 0
	b.do(b.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &fit, FitToHeight: &tall}))
	s, err := b.NewStreamWriter(name)
	b.do(err)
	if b.err != nil {
		return nil
	}
	for c, col := range head {
		b.do(s.SetColWidth(c+1, c+1, max(col.width, 11)))
	}
	b.do(s.SetPanes(&excelize.Panes{
		Freeze: true, YSplit: first - 1, XSplit: 1, TopLeftCell: address(2, first), ActivePane: "bottomRight",
		Selection: []excelize.Selection{{SQRef: address(2, first), ActiveCell: address(2, first), Pane: "bottomRight"}},
	}))
	b.do(s.SetRow("A1", []any{excelize.Cell{StyleID: b.style.title, Value: clean(title)}}))
	for n, note := range notes {
		b.do(s.SetRow(address(1, 2+n), []any{excelize.Cell{StyleID: b.style.note, Value: clean(note)}}))
	}
	row := make([]any, len(head))
	for c, col := range head {
		row[c] = excelize.Cell{StyleID: b.style.head, Value: clean(col.title)}
	}
	b.do(s.SetRow(address(1, first-1), row))
	return s
}

func (b *builder) page(i int, p page) {
	s := b.stream(i, p.name, p.title, p.notes, p.head)
	if s == nil {
		return
	}
	for r, row := range p.rows {
		cells := make([]any, len(row))
		for c, v := range row {
			cells[c] = b.value(p, r, c, v)
		}
		b.do(s.SetRow(address(1, p.first()+r), cells))
	}
	if p.chart != nil && len(p.rows) > 0 {
		b.do(p.chart(b.File, p.name, p.first(), p.first()+len(p.rows)-1))
	}
	b.do(s.Flush())
}

func (b *builder) value(p page, r, c int, v any) any {
	switch v := v.(type) {
	case string:
		return excelize.Cell{StyleID: b.style.text, Value: clean(v)}
	case *calc.Figure:
		if !v.Known() {
			return excelize.Cell{StyleID: b.style.text, Value: show.Unknown}
		}
		here := spot{sheet: p.name, cell: absolute(c+1, p.first()+r)}
		return b.formulaCell(v, here, b.style.number[p.head[c].format])
	}
	return nil
}

// formulaCell is a figure's formula with its value cached; a figure whose cell
// is elsewhere is a reference to it. The value of a literal is a number.
func (b *builder) formulaCell(f *calc.Figure, here spot, style int) excelize.Cell {
	v := f.Or(0)
	if v == 0 {
		v = math.Abs(v)
	}
	if at := b.at[f]; at.cell != "" && at != here {
		return excelize.Cell{StyleID: style, Formula: at.in(here.sheet), Value: v}
	}
	return excelize.Cell{StyleID: style, Formula: b.formula(f, here.sheet), Value: v}
}

func (b *builder) inputs(name string, list []*calc.Figure) {
	if len(list) == 0 {
		return
	}
	s := b.stream(1, name, templates.Text("xlsx.inputs"), nil, []column{
		{templates.Text("xlsx.what"), plain, 44}, {templates.Text("xlsx.value"), plain, 14},
		{templates.Text("xlsx.from-sheet"), plain, 22}, {templates.Text("xlsx.from-cell"), plain, 12}, {templates.Text("xlsx.typed"), plain, 20},
	})
	if s == nil {
		return
	}
	done := map[spot]bool{}
	row := firstRow
	for _, f := range list {
		if at := b.at[f]; done[at] {
			continue
		} else {
			done[at] = true
		}
		from := f.From()
		sheet, place := from.At.Sheet, from.At.Name()
		switch {
		case from.Table != "":
			sheet, place = from.Table, templates.Text("xlsx.rows", "n", from.Count)
		case from.State == cell.Assumed:
			sheet, place = templates.Text("xlsx.default"), ""
		case sheet == "":
			sheet = templates.Text("xlsx.command-line")
		}
		b.do(s.SetRow(address(1, row), []any{
			excelize.Cell{StyleID: b.style.text, Value: clean(label(f))}, excelize.Cell{StyleID: b.style.input[plain], Value: f.Or(0)},
			excelize.Cell{StyleID: b.style.text, Value: clean(sheet)}, excelize.Cell{StyleID: b.style.text, Value: place},
			excelize.Cell{StyleID: b.style.text, Value: clean(from.Raw)},
		}))
		row++
	}
	b.do(s.Flush())
}

// names gives the settings' cells names of their own.
func (b *builder) names() {
	done := map[string]bool{}
	for _, f := range b.settings {
		at := b.at[f]
		if done[at.name] {
			continue
		}
		done[at.name] = true
		b.do(b.SetDefinedName(&excelize.DefinedName{Name: at.name, RefersTo: at.full()}))
	}
}

func (b *builder) steps() {
	if len(b.live.steps) == 0 {
		return
	}
	s := b.stream(1, inputName("steps"), templates.Text("xlsx.steps"), nil, []column{
		{templates.Text("xlsx.what"), plain, 60}, {templates.Text("xlsx.value"), plain, 16},
	})
	if s == nil {
		return
	}
	for i, f := range b.live.steps {
		here := b.at[f]
		b.do(s.SetRow(address(1, firstRow+i), []any{
			excelize.Cell{StyleID: b.style.text, Value: clean(label(f))}, b.formulaCell(f, here, b.style.number[plain]),
		}))
	}
	b.do(s.Flush())
}

// clean makes text safe for a cell: valid UTF-8 without control characters, at
// most 32,767 characters.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < 0x20 || r == 0x7f || r == 0xfffe || r == 0xffff {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	if r := []rune(s); len(r) > 16000 {
		return string(r[:16000])
	}
	return s
}
