package pdf

import (
	"strings"

	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
)

// Widths of a table's columns in mm.
const (
	widestNumber = 30
	widestText   = 40
)

// tableSize is the type size of tables of figures, in points: they are for
// looking up, and a report should not run to many sheets.
const tableSize = 8.5

// tableOf lays a table of a document model out: numbers and short texts are as
// wide as they need, names and sentences share the rest of the width w. Heads of
// numbers take one line where there is room.
func tableOf(d *draw.Document, t costdoc.Table, w float64) draw.Table {
	out := draw.Table{Name: t.Title, Height: 4, Size: tableSize}
	long := roomForHeads(d, t, w)
	for i, c := range t.Columns {
		out.Columns = append(out.Columns, columnOf(d, t, i, c, long))
	}
	for _, r := range t.Rows {
		row := draw.Row{Group: r.Group, Total: r.Total}
		for _, c := range r.Cells {
			row.Cells = append(row.Cells, draw.Cell{Text: c.Text, Bold: c.Bold, Muted: c.Muted, Alarm: c.Alarm})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

func columnOf(d *draw.Document, t costdoc.Table, i int, c costdoc.Column, long bool) draw.Column {
	out := draw.Column{Title: c.Title, Bold: c.Bold}
	switch c.Kind {
	case costdoc.Name:
		out.Weight, out.Lines = 1.4, 4
	case costdoc.Words:
		out.Weight, out.Lines = 2.6, 16
	case costdoc.Number:
		out.Align, out.Width = draw.AlignDecimal, min(widest(d, t, i, long), widestNumber)
	default:
		out.Width, out.Lines = min(widest(d, t, i, long), widestText), 2
	}
	return out
}

// leastName is the width in mm that columns of names need.
const leastName = 50

// roomForHeads reports whether the heads of numbers can stand in one line.
func roomForHeads(d *draw.Document, t costdoc.Table, w float64) bool {
	for i, c := range t.Columns {
		switch c.Kind {
		case costdoc.Name, costdoc.Words:
			w -= leastName
		default:
			w -= widest(d, t, i, true) + 3
		}
	}
	return w >= 0
}

// widest is the width that a column's cells and its head need, which takes one
// line when long is set, else two.
func widest(d *draw.Document, t costdoc.Table, i int, long bool) float64 {
	head := draw.Style{Face: draw.Regular, Size: 7}
	full := d.Width(t.Columns[i].Title, head)
	w := full
	if !long {
		w = full/2 + 2
		for _, word := range strings.Fields(t.Columns[i].Title) {
			w = max(w, d.Width(word, head))
		}
		w = min(w, full)
	}
	whole, tail, sign := 0.0, 0.0, 0.0
	for _, r := range t.Rows {
		if i >= len(r.Cells) {
			continue
		}
		st := draw.Plain.At(tableSize)
		c := r.Cells[i]
		if r.Total || c.Bold || c.Alarm || t.Columns[i].Bold {
			st = draw.Strong.At(tableSize)
		}
		if c.Alarm {
			sign = 5
		}
		if t.Columns[i].Kind != costdoc.Number {
			w = max(w, d.Width(c.Text, st))
			continue
		}
		number := draw.Number(c.Text)
		point := strings.IndexByte(number, '.')
		if point < 0 {
			point = len(number)
		}
		whole, tail = max(whole, d.Width(number[:point], st)), max(tail, d.Width(number[point:], st))
	}
	w = max(w, whole+tail) + sign
	return w + 0.4
}
