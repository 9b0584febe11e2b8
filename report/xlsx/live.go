package xlsx

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/templates"
)

// page is a sheet of derived figures: a title, a head, and rows of text and
// figures. Money, share and plain number formats go by column.
type page struct {
	name  string
	title string
	notes []string
	head  []column
	rows  [][]any // string, *calc.Figure or nil
	chart func(f *excelize.File, sheet string, first, last int) error
}

// column is a column of a page.
type column struct {
	title  string
	format format
	width  float64
}

// format is how a number is shown.
type format uint8

const (
	plain format = iota
	amount
	share
	whole
	grams
)

// live is a workbook in the making: where each figure has its cell.
type live struct {
	pages  []page
	sales  *salesSheet // nil when the lines are not in the workbook
	digits int32       // decimals of the currency

	inputs   []*calc.Figure
	settings []*calc.Figure
	sums     []*calc.Figure
	steps    []*calc.Figure
	at       map[*calc.Figure]spot
	same     map[string]spot // where an input is, by its origin
}

// spot is a cell of the workbook.
type spot struct {
	sheet string
	cell  string // "$B$4"
	name  string // its defined name, "" for most
}

// in is the spot's address as a formula on a sheet writes it.
func (s spot) in(sheet string) string {
	switch {
	case s.cell == "":
		return ""
	case s.name != "":
		return s.name
	case s.sheet == sheet:
		return s.cell
	}
	return s.full()
}

// full is the address with the sheet.
func (s spot) full() string { return "'" + s.sheet + "'!" + s.cell }

// Names of the sheets that hold what the pages rest on.
func inputName(what string) string { return templates.Text("xlsx.sheet." + what) }

// gather walks every figure of the pages and gives each input, sum and step a
// place; a step that stands on a page has its place there.
func (w *live) gather() {
	w.at, w.same = map[*calc.Figure]spot{}, map[string]spot{}
	for _, p := range w.pages {
		for r, row := range p.rows {
			for c, v := range row {
				f, ok := v.(*calc.Figure)
				if ok && f.Known() && f.Kind() == calc.Step && w.at[f] == (spot{}) {
					w.at[f] = spot{sheet: p.name, cell: absolute(c+1, p.first()+r)}
				}
			}
		}
	}
	seen := map[*calc.Figure]bool{}
	for _, p := range w.pages {
		for _, row := range p.rows {
			for _, v := range row {
				if f, ok := v.(*calc.Figure); ok && f.Known() {
					w.take(f, seen)
				}
			}
		}
	}
	slices.SortStableFunc(w.inputs, func(a, b *calc.Figure) int { return byPlace(a.From().At, b.From().At) })
	w.placeInputs(w.settings, inputName("settings"))
	w.placeInputs(w.inputs, inputName("cells"))
	w.placeInputs(w.sums, inputName("sums"))
	for i, f := range w.steps {
		w.at[f] = spot{sheet: inputName("steps"), cell: absolute(2, firstRow+i)}
	}
}

func byPlace(a, b cell.Ref) int {
	return cmp.Or(strings.Compare(a.Sheet, b.Sheet), a.Row-b.Row, a.Col-b.Col)
}

// take collects f and what it rests on, deepest first.
func (w *live) take(f *calc.Figure, seen map[*calc.Figure]bool) {
	if f == nil || seen[f] {
		return
	}
	seen[f] = true
	for _, a := range f.Args() {
		w.take(a, seen)
	}
	switch f.Kind() {
	case calc.Input:
		if strings.HasPrefix(f.Name().Key, settingKey) {
			w.settings = append(w.settings, f)
		} else {
			w.inputs = append(w.inputs, f)
		}
	case calc.Rows:
		if w.sales == nil || !w.sales.covers(f) {
			w.sums = append(w.sums, f)
		} else if w.at[f] == (spot{}) {
			w.steps = append(w.steps, f)
		}
	case calc.Step:
		if w.at[f] == (spot{}) {
			w.steps = append(w.steps, f)
		}
	}
}

// placeInputs gives each input a row of its sheet; the same cell of the book
// has one row, however many figures were read from it.
func (w *live) placeInputs(list []*calc.Figure, sheet string) {
	row := firstRow
	for _, f := range list {
		key := origin(f)
		at, ok := w.same[key]
		if !ok {
			at = spot{sheet: sheet, cell: absolute(2, row)}
			if s, ok := strings.CutPrefix(f.Name().Key, settingKey); ok {
				at.name = definedName(book.Setting(s))
			}
			w.same[key] = at
			row++
		}
		w.at[f] = at
	}
}

// origin tells inputs apart: by cell and meaning, sums by their rows.
func origin(f *calc.Figure) string {
	from, name := f.From(), f.Name()
	return fmt.Sprint(f.Kind(), from.At, from.Table, from.Sum, from.Where, name.Key, name.Of, f.Or(0))
}

// formula is the formula of a figure as it stands on a sheet.
func (w *live) formula(f *calc.Figure, sheet string) string {
	if f.Kind() == calc.Rows && w.sales != nil && w.sales.covers(f) {
		return w.sales.formula(f)
	}
	return f.Formula(func(g *calc.Figure) string {
		if g == f {
			return ""
		}
		return w.at[g].in(sheet)
	})
}

// settingKey begins the key of an input that is a setting.
const settingKey = "setting."

// firstRow is the first row of data on the sheets that pages rest on; a page's
// depends on its notes.
const firstRow = 4

func (p *page) first() int { return 4 + len(p.notes) }

func absolute(col, row int) string { return fmt.Sprintf("$%s$%d", cell.Column(col), row) }

// label is a figure in words.
func label(f *calc.Figure) string {
	n := f.Name()
	if name, ok := strings.CutPrefix(n.Key, settingKey); ok {
		return name
	}
	args := make([]any, 0, 2*len(n.Of))
	for i, o := range n.Of {
		args = append(args, fmt.Sprint(i), o)
	}
	return templates.Text("figure."+n.Key, args...)
}

// definedName is the name of a setting's cell, such as setting_pour_loss.
func definedName(s book.Setting) string {
	return "setting_" + strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, strings.ToLower(string(s)))
}
