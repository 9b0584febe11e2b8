package xlsx

import (
	"math"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/report/show"
	"pourbook/templates"
)

// sheet writes the rows of one sheet, beside others of the same workbook; it
// keeps the first error.
type sheet struct {
	*live
	style *styles
	to    *excelize.StreamWriter
	name  string
	cells []any  // room for a row
	text  []byte // room for a formula
	err   error
}

func (s *sheet) do(err error) {
	if s.err == nil {
		s.err = err
	}
}

func (s *sheet) page(p *page) {
	for r, row := range p.rows {
		cells := make([]excelize.Cell, len(row))
		s.cells = s.cells[:0]
		for c, v := range row {
			if v == nil {
				s.cells = append(s.cells, nil)
				continue
			}
			cells[c] = s.value(p, r, c, v)
			s.cells = append(s.cells, &cells[c])
		}
		s.do(s.to.SetRow(address(1, p.first()+r), s.cells))
	}
}

func (s *sheet) value(p *page, r, c int, v any) excelize.Cell {
	switch v := v.(type) {
	case string:
		return excelize.Cell{StyleID: s.style.text, Value: clean(v)}
	case heading:
		style := s.style.bold
		if p.head[c].format != plain {
			style = s.style.numberBold
		}
		return excelize.Cell{StyleID: style, Value: clean(string(v))}
	}
	f, style := figureOf(v), p.head[c].format
	if x, ok := v.(shown); ok {
		style = x.format
	}
	if f == nil {
		return excelize.Cell{StyleID: s.style.text, Value: show.Unknown}
	}
	return s.formulaCell(f, spot{sheet: p.name, col: c + 1, row: p.first() + r}, s.style.number[style])
}

// formulaCell is a figure's formula with its value cached; a figure whose cell
// is elsewhere is a reference to it. The value of a literal is a number.
func (s *sheet) formulaCell(f *calc.Figure, here spot, style int) excelize.Cell {
	v := f.Or(0)
	if v == 0 {
		v = math.Abs(v)
	}
	f = s.equal.one(f)
	if at := s.placeOf(f); at.row != 0 && at != here {
		return excelize.Cell{StyleID: style, Formula: at.in(here.sheet), Value: v}
	}
	s.text = s.appendFormula(s.text[:0], f, here.sheet)
	return excelize.Cell{StyleID: style, Formula: string(s.text), Value: v}
}

func (s *sheet) inputs(list []*calc.Figure) {
	for i, f := range list {
		sheet, place, raw := origin(f)
		s.row(firstRow+i, []excelize.Cell{
			{StyleID: s.style.text, Value: clean(label(f))},
			{StyleID: s.style.input[plain], Value: f.Or(0)},
			{StyleID: s.style.after, Value: clean(sheet)},
			{StyleID: s.style.text, Value: place},
			{StyleID: s.style.text, Value: clean(raw)},
		})
	}
}

// row writes cells that all hold something.
func (s *sheet) row(row int, cells []excelize.Cell) {
	s.cells = s.cells[:0]
	for i := range cells {
		s.cells = append(s.cells, &cells[i])
	}
	s.do(s.to.SetRow(address(1, row), s.cells))
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

func (s *sheet) steps() {
	for i, f := range s.live.steps {
		here := s.placeOf(f)
		s.row(firstRow+i, []excelize.Cell{
			{StyleID: s.style.text, Value: clean(label(f))}, s.formulaCell(f, here, s.style.number[plain]),
		})
	}
}
