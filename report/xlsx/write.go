package xlsx

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// styles are the workbook's cell styles.
type styles struct {
	title, note, head, numberHead, text, after, bold, numberBold, date int
	number                                                             [formats]int
	input                                                              [formats]int
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
	cells []any // room for a row
}

func (b *builder) makeStyles() {
	const family = "Calibri"
	b.style.title = b.maker.style(excelize.Style{Font: &excelize.Font{Family: family, Bold: true, Size: 16}})
	b.style.note = b.maker.style(excelize.Style{Font: &excelize.Font{Family: family, Italic: true, Color: "465054"}})
	head := excelize.Style{
		Font: &excelize.Font{Family: family, Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"},
		Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}},
	}
	b.style.head = b.maker.style(head)
	head.Alignment.Horizontal = "right"
	b.style.numberHead = b.maker.style(head)
	b.style.after = b.maker.style(excelize.Style{Alignment: &excelize.Alignment{Indent: 1}})
	b.style.text = b.maker.style(excelize.Style{})
	bold := excelize.Style{Font: &excelize.Font{Family: family, Bold: true}, Alignment: &excelize.Alignment{}}
	b.style.bold = b.maker.style(bold)
	bold.Alignment.Horizontal = "right"
	b.style.numberBold = b.maker.style(bold)
	money := "#,##0"
	if b.digits > 0 {
		money += "." + strings.Repeat("0", int(b.digits))
	}
	for i, code := range []string{"General", money, "0.0%", "#,##0", "#,##0.00", "#,##0.0000"} {
		code := code
		b.style.number[i] = b.maker.style(excelize.Style{CustomNumFmt: &code})
		b.style.input[i] = b.inputStyle(code)
	}
	b.style.date = b.inputStyle("yyyy-mm-dd")
}

// inputStyle is the look of a cell to type in: tinted, with a solid foot line.
func (b *builder) inputStyle(code string) int {
	return b.maker.style(excelize.Style{
		CustomNumFmt: &code, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"F5EFD9"}},
		Border: []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}},
	})
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
	b.print(name, first-1, columnsWide(head))
	s, err := b.NewStreamWriter(name)
	b.do(err)
	if b.err != nil {
		return nil
	}
	for c, col := range head {
		b.do(s.SetColWidth(c+1, c+1, max(col.width, narrowest)))
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
		row[c] = excelize.Cell{StyleID: headStyle(b.style, col), Value: clean(col.title)}
	}
	b.do(s.SetRow(address(1, first-1), row))
	return s
}

// headStyle puts the head of a column of numbers above their ends.
func headStyle(s styles, c column) int {
	if c.format == plain {
		return s.head
	}
	return s.numberHead
}

// print sets a sheet up for paper: across one page or, where that would be too
// small to read, several; its head and first column repeated, its name
// and the sheet's number below.
func (b *builder) print(name string, head, wide int) {
	landscape, fit, tall, yes := "landscape", (wide+widest-1)/widest, 0, true
	b.do(b.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &fit, FitToHeight: &tall}))
	b.do(b.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &yes}))
	b.do(b.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddFooter: "&L&A&R&P / &N"}))
	b.do(b.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: name, RefersTo: fmt.Sprintf("%[1]s!$A:$A,%[1]s!$%[2]d:$%[2]d", quoted(name), head)}))
}

// widest is how many characters fit across a page and can be read.
const widest = 190

func columnsWide(head []column) int {
	sum := 0.0
	for _, c := range head {
		sum += max(c.width, narrowest)
	}
	return int(sum)
}

// onePage is how many rows fit on one page together with a chart.
const onePage = 45

// narrowest is the least width of a column.
const narrowest = 9

func (b *builder) page(i int, p page) {
	s := b.stream(i, p.name, p.title, p.notes, p.head)
	if s == nil {
		return
	}
	for r, row := range p.rows {
		cells := make([]excelize.Cell, len(row))
		b.cells = b.cells[:0]
		for c, v := range row {
			if v == nil {
				b.cells = append(b.cells, nil)
				continue
			}
			cells[c] = b.value(&p, r, c, v)
			b.cells = append(b.cells, &cells[c])
		}
		b.do(s.SetRow(address(1, p.first()+r), b.cells))
	}
	if p.mark != nil && len(p.rows) > 0 {
		b.do(p.mark(b.File, p.name, p.first(), p.first()+len(p.rows)-1))
	}
	if p.chart != nil && len(p.rows) > 0 {
		b.do(p.chart(b.File, p.name, p.first(), p.first()+len(p.rows)-1))
		if one := 1; len(p.rows) <= onePage {
			b.do(b.SetPageLayout(p.name, &excelize.PageLayoutOptions{FitToHeight: &one}))
		}
	}
	b.do(s.Flush())
}

func (b *builder) value(p *page, r, c int, v any) excelize.Cell {
	switch v := v.(type) {
	case string:
		return excelize.Cell{StyleID: b.style.text, Value: clean(v)}
	case heading:
		style := b.style.bold
		if p.head[c].format != plain {
			style = b.style.numberBold
		}
		return excelize.Cell{StyleID: style, Value: clean(string(v))}
	}
	f, style := figureOf(v), p.head[c].format
	if s, ok := v.(shown); ok {
		style = s.format
	}
	if f == nil {
		return excelize.Cell{StyleID: b.style.text, Value: show.Unknown}
	}
	return b.formulaCell(f, spot{sheet: p.name, col: c + 1, row: p.first() + r}, b.style.number[style])
}

// formulaCell is a figure's formula with its value cached; a figure whose cell
// is elsewhere is a reference to it. The value of a literal is a number.
func (b *builder) formulaCell(f *calc.Figure, here spot, style int) excelize.Cell {
	v := f.Or(0)
	if v == 0 {
		v = math.Abs(v)
	}
	f = b.equal.one(f)
	if at := b.placeOf(f); at.row != 0 && at != here {
		return excelize.Cell{StyleID: style, Formula: at.in(here.sheet), Value: v}
	}
	return excelize.Cell{StyleID: style, Formula: b.formula(f, here.sheet), Value: v}
}

func (b *builder) inputs(name string, list []*calc.Figure) {
	if len(list) == 0 {
		return
	}
	s := b.stream(1, name, templates.Text("xlsx.inputs"), nil, []column{
		{templates.Text("xlsx.what"), plain, 44},
		{templates.Text("xlsx.value"), plain, 14},
		{templates.Text("xlsx.from-sheet"), plain, 22},
		{templates.Text("xlsx.from-cell"), plain, 12},
		{templates.Text("xlsx.typed"), plain, 20},
	})
	if s == nil {
		return
	}
	for i, f := range list {
		sheet, place, raw := origin(f)
		b.row(s, firstRow+i, []excelize.Cell{
			{StyleID: b.style.text, Value: clean(label(f))},
			{StyleID: b.style.input[plain], Value: f.Or(0)},
			{StyleID: b.style.after, Value: clean(sheet)},
			{StyleID: b.style.text, Value: place},
			{StyleID: b.style.text, Value: clean(raw)},
		})
	}
	b.do(s.Flush())
}

// row writes cells that all hold something.
func (b *builder) row(s *excelize.StreamWriter, row int, cells []excelize.Cell) {
	b.cells = b.cells[:0]
	for i := range cells {
		b.cells = append(b.cells, &cells[i])
	}
	b.do(s.SetRow(address(1, row), b.cells))
}

// origin is where an input or a sum comes from, and what was typed there.
func origin(f *calc.Figure) (sheet, place, raw string) {
	if sum, count := f.Summed(); sum != nil && sum.Table != "" {
		return sum.Table, templates.Text("xlsx.rows", "n", count), ""
	}
	from := f.From()
	switch {
	case from.State == cell.Assumed:
		return templates.Text("xlsx.default"), "", from.Raw
	case from.At.Sheet == "":
		return templates.Text("xlsx.command-line"), from.At.Name(), from.Raw
	}
	return from.At.Sheet, from.At.Name(), from.Raw
}

// names gives the settings' cells names of their own.
func (b *builder) names() {
	for _, f := range b.settings {
		at := b.placeOf(f)
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
		here := b.placeOf(f)
		b.row(s, firstRow+i, []excelize.Cell{
			{StyleID: b.style.text, Value: clean(label(f))}, b.formulaCell(f, here, b.style.number[plain]),
		})
	}
	b.do(s.Flush())
}

// label is what a figure is: a setting's own name, a sum with what it is of
// beyond its words, a part of a long sum.
func label(f *calc.Figure) string {
	n := f.Name()
	if s, ok := settingOf(f); ok {
		return string(s)
	}
	if f.Kind() == calc.Op {
		return templates.Text("xlsx.part", "n", len(f.Args()))
	}
	s := words.Named(n)
	for _, o := range n.Of[min(said, len(n.Of)):] {
		s += ", " + o
	}
	return s
}

// said is how many of the things that a figure is of its words name.
const said = 3

// longestText is how many letters a cell takes, each of one unit or two.
const longestText = 16_000

// clean makes text safe for a cell: valid UTF-8 without control characters, at
// most 32,767 characters.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < 0x20 || r == 0x7f || r == 0xfffe || r == 0xffff {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	if len(s) > longestText {
		if r := []rune(s); len(r) > longestText {
			return string(r[:longestText])
		}
	}
	return s
}
