package xlsx

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/report/words"
	"pourbook/templates"
)

// page is a sheet of derived figures: a title, a head, and rows of text and
// figures. Money, share and plain number formats go by column.
type page struct {
	name  string
	title string
	notes []string
	head  []column
	rows  [][]any // string, *calc.Figure, shown or nil
	chart func(f *excelize.File, sheet string, first, last int) error
	mark  func(f *excelize.File, sheet string, first, last int) error // conditional formats
}

// column is a column of a page.
type column struct {
	title  string
	format format
	width  float64
}

// shown is a figure with a format of its own.
type shown struct {
	*calc.Figure
	format format
}

// format is how a number is shown.
type format uint8

const (
	plain format = iota
	amount
	share
	whole
	grams
	fine
	formats
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
	equal    equals
	spots    []spot                          // of the figures of equal, by number
	other    map[*calc.Figure]spot           // of operations and what sums leave out
	parts    map[*calc.Figure][]*calc.Figure // of sums too long for one cell
	text     []byte                          // room for a formula
}

// spot is a cell of the workbook.
type spot struct {
	sheet    string
	col, row int
	name     string // its defined name, "" for most
}

// cell is the address in its sheet, such as $B$4.
func (s spot) cell() string { return absolute(s.col, s.row) }

// below is the spot n rows further down.
func (s spot) below(n int) spot {
	s.row += n
	return s
}

// in is the spot's address as a formula on a sheet writes it.
func (s spot) in(sheet string) string { return string(s.appendIn(nil, sheet)) }

func (s spot) appendIn(to []byte, sheet string) []byte {
	switch {
	case s.row == 0:
		return to
	case s.name != "":
		return append(to, s.name...)
	case s.sheet != sheet:
		to = append(appendQuoted(to, s.sheet), '!')
	}
	to = append(append(append(to, '$'), cell.Column(s.col)...), '$')
	return strconv.AppendInt(to, int64(s.row), 10)
}

// full is the address with the sheet.
func (s spot) full() string { return quoted(s.sheet) + "!" + s.cell() }

// quoted is a sheet's name as a formula writes it; one of letters alone stands
// without quotes.
func quoted(sheet string) string { return string(appendQuoted(nil, sheet)) }

func appendQuoted(to []byte, sheet string) []byte {
	if sheet != "" && !strings.ContainsFunc(sheet, func(r rune) bool { return (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') }) {
		return append(to, sheet...)
	}
	return append(append(append(to, '\''), strings.ReplaceAll(sheet, "'", "''")...), '\'')
}

// Names of the sheets that hold what the pages rest on.
func inputName(what string) string { return templates.Text("xlsx.sheet." + what) }

// figureOf is the figure of a page's cell; nil for text, for nothing, and for
// one that is unknown.
func figureOf(v any) *calc.Figure {
	if s, ok := v.(shown); ok {
		v = s.Figure
	}
	if f, ok := v.(*calc.Figure); ok && f.Known() {
		return f
	}
	return nil
}

// gather walks every figure of the pages and gives each input, sum and step a
// place; a figure that stands on a page has its place there.
func (w *live) gather() {
	w.equal, w.parts, w.other = newEquals(), map[*calc.Figure][]*calc.Figure{}, map[*calc.Figure]spot{}
	if w.sales != nil {
		for _, f := range w.sales.fees() {
			w.equal.add(f)
		}
	}
	w.each(func(f *calc.Figure, _ spot) { w.equal.add(f) })
	w.spots = make([]spot, len(w.equal.all))
	w.each(func(f *calc.Figure, here spot) {
		f = w.equal.one(f)
		if (f.Kind() == calc.Step || f.Kind() == calc.Rows && w.summed(f)) && !w.placed(f) {
			w.place(f, here)
		}
	})
	for _, f := range w.equal.all {
		w.sort(f)
	}
	slices.SortStableFunc(w.inputs, func(a, b *calc.Figure) int { return byPlace(a.From().At, b.From().At) })
	w.placeInputs(w.settings, inputName("settings"))
	w.placeInputs(w.inputs, inputName("cells"))
	w.placeInputs(w.sums, inputName("sums"))
	steps := w.steps
	w.steps = nil
	for _, f := range steps {
		w.addStep(f)
	}
	w.shorten()
}

// each visits the known figures of the pages with their cells.
func (w *live) each(visit func(f *calc.Figure, here spot)) {
	for _, p := range w.pages {
		for r, row := range p.rows {
			for c, v := range row {
				if f := figureOf(v); f != nil {
					visit(f, spot{sheet: p.name, col: c + 1, row: p.first() + r})
				}
			}
		}
	}
}

func byPlace(a, b cell.Ref) int {
	return cmp.Or(strings.Compare(a.Sheet, b.Sheet), a.Row-b.Row, a.Col-b.Col)
}

// summed reports whether a sum over rows is a formula over the sales lines.
func (w *live) summed(f *calc.Figure) bool { return w.sales != nil && w.sales.covers(f) }

// sort puts a figure among the inputs, settings, sums or steps.
func (w *live) sort(f *calc.Figure) {
	_, isSetting := settingOf(f)
	switch {
	case isSetting:
		w.settings = append(w.settings, f)
	case f.Kind() == calc.Input:
		w.inputs = append(w.inputs, f)
	case f.Kind() == calc.Rows && !w.summed(f):
		w.sums = append(w.sums, f)
	default:
		if f.Kind() == calc.Rows {
			if rest := w.sales.rest(f); rest != nil {
				w.sums = append(w.sums, rest)
			}
		}
		if !w.placed(f) {
			w.steps = append(w.steps, f)
		}
	}
}

// settingOf is the setting that an input is.
func settingOf(f *calc.Figure) (book.Setting, bool) {
	if f.Kind() != calc.Input {
		return "", false
	}
	n := f.Name()
	if n.Key != words.SettingKey || len(n.Of) != 1 {
		return "", false
	}
	return book.Setting(n.Of[0]), true
}

// placeInputs gives each input a row of its sheet.
func (w *live) placeInputs(list []*calc.Figure, sheet string) {
	for i, f := range list {
		at := spot{sheet: sheet, col: 2, row: firstRow + i}
		if s, ok := settingOf(f); ok {
			at.name = definedName(s)
		}
		w.place(f, at)
	}
}

// addStep gives a figure a row of the steps.
func (w *live) addStep(f *calc.Figure) {
	w.place(f, spot{sheet: inputName("steps"), col: 2, row: firstRow + len(w.steps)})
	w.steps = append(w.steps, f)
}

// placeOf is where a figure stands; of equal figures one does.
func (w *live) placeOf(f *calc.Figure) spot {
	if f.Kind() == calc.Literal {
		return spot{}
	}
	if f.Kind() != calc.Op {
		if id, ok := w.equal.ids[f]; ok {
			return w.spots[id]
		}
	}
	return w.other[f]
}

func (w *live) place(f *calc.Figure, at spot) {
	if id, ok := w.equal.ids[f]; ok {
		w.spots[id] = at
	} else {
		w.other[f] = at
	}
}

func (w *live) placed(f *calc.Figure) bool { return w.placeOf(f).row != 0 }

// appendFormula writes the formula of a figure as it stands on a sheet.
func (w *live) appendFormula(to []byte, f *calc.Figure, sheet string) []byte {
	if f.Kind() == calc.Rows && w.summed(f) {
		if rest := w.sales.rest(f); rest != nil {
			to = append(w.placeOf(rest).appendIn(to, sheet), '+')
		}
		return append(to, w.sales.formula(f)...)
	}
	if parts, long := w.parts[body(f)]; long {
		s, _ := w.column(parts, sheet)
		return append(to, s...)
	}
	if s, shorter := w.column(body(f).Terms(), sheet); shorter {
		return append(to, s...)
	}
	return f.AppendFormula(to, func(to []byte, g *calc.Figure) []byte {
		if g == f {
			return to
		}
		return w.placeOf(g).appendIn(to, sheet)
	})
}

// firstRow is the first row of data on the sheets that pages rest on; a page's
// depends on its notes.
const firstRow = 4

func (p *page) first() int { return 4 + len(p.notes) }

func absolute(col, row int) string { return "$" + cell.Column(col) + "$" + strconv.Itoa(row) }

// definedName is the name of a setting's cell, such as setting_pour_loss.
func definedName(s book.Setting) string {
	return "setting_" + strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, strings.ToLower(string(s)))
}
