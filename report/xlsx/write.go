package xlsx

import (
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/calc"
	"pourbook/compute/together"
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
	var sheets []filled
	for i, p := range w.pages {
		sheets = append(sheets, filled{b.open(i, p.name, p.title, p.notes, p.head), func(to *sheet) { to.page(&p) }})
		b.decorate(&p)
	}
	sheets = append(sheets, b.below()...)
	if b.err != nil {
		return nil, b.err
	}
	fill(sheets)
	for _, s := range sheets {
		b.do(s.err)
		b.do(s.to.Flush())
	}
	b.do(f.SetDocProps(&excelize.DocProperties{
		Title: clean(title), Creator: clean(shop), LastModifiedBy: clean(shop), Created: "2026-01-01T00:00:00Z", Modified: "2026-01-01T00:00:00Z",
	}))
	if b.err != nil {
		return nil, b.err
	}
	return save(f)
}

// builder makes a workbook; it keeps the first error.
type builder struct {
	maker
	*live
	style styles
}

// filled is a sheet with what writes its rows.
type filled struct {
	*sheet
	fill func(*sheet)
}

// fill writes the rows of two sheets at a time, first of those below the pages,
// which are the longest.
func fill(sheets []filled) {
	next := make(chan filled, len(sheets))
	for _, s := range slices.Backward(sheets) {
		next <- s
	}
	close(next)
	work := func() {
		for s := range next {
			s.fill(s.sheet)
		}
	}
	together.Run(work, work)
}

// below opens the sheets that pages rest on, and names what is on them.
func (b *builder) below() []filled {
	var out []filled
	if s := b.live.sales; s != nil {
		out = append(out, filled{b.openSales(), func(to *sheet) { to.sales(s) }})
		b.nameColumns(s)
	}
	inputs := func(what string, list []*calc.Figure) {
		if len(list) > 0 {
			out = append(out, filled{b.openInputs(inputName(what)), func(to *sheet) { to.inputs(list) }})
		}
	}
	inputs("settings", b.settings)
	b.names()
	inputs("cells", b.live.inputs)
	inputs("sums", b.sums)
	if len(b.live.steps) > 0 {
		out = append(out, filled{b.openSteps(), (*sheet).steps})
	}
	return out
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

// open starts a sheet with its title, notes and head, frozen; nil after an error.
func (b *builder) open(i int, name, title string, notes []string, head []column) *sheet {
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
	return &sheet{live: b.live, style: &b.style, to: s, name: name}
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

// decorate adds what stands on a page beside its rows.
func (b *builder) decorate(p *page) {
	if len(p.rows) == 0 {
		return
	}
	if p.mark != nil {
		b.do(p.mark(b.File, p.name, p.first(), p.first()+len(p.rows)-1))
	}
	if p.chart != nil {
		b.do(p.chart(b.File, p.name, p.first(), p.first()+len(p.rows)-1))
		if one := 1; len(p.rows) <= onePage {
			b.do(b.SetPageLayout(p.name, &excelize.PageLayoutOptions{FitToHeight: &one}))
		}
	}
}

func (b *builder) openInputs(name string) *sheet {
	return b.open(1, name, templates.Text("xlsx.inputs"), nil, []column{
		{templates.Text("xlsx.what"), plain, 44},
		{templates.Text("xlsx.value"), plain, 14},
		{templates.Text("xlsx.from-sheet"), plain, 22},
		{templates.Text("xlsx.from-cell"), plain, 12},
		{templates.Text("xlsx.typed"), plain, 20},
	})
}

func (b *builder) openSteps() *sheet {
	return b.open(1, inputName("steps"), templates.Text("xlsx.steps"), nil, []column{
		{templates.Text("xlsx.what"), plain, 60}, {templates.Text("xlsx.value"), plain, 16},
	})
}

// names gives the settings' cells names of their own.
func (b *builder) names() {
	for _, f := range b.settings {
		at := b.placeOf(f)
		b.do(b.SetDefinedName(&excelize.DefinedName{Name: at.name, RefersTo: at.full()}))
	}
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
