package pdf

import (
	"strings"

	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
)

// Widths of a table's columns in mm.
const (
	widestNumber = 30
	widestText   = 34
	columnGap    = 3
	leastName    = 30
)

// section draws a table of a document model under its heading.
func section(f *draw.Flow, number string, t costdoc.Table) {
	f.Section(number, t.Title, t.Aside, 22)
	f.Table(tableOf(f.Document(), t))
}

// tableOf lays a table of a document model out: numbers and short texts are as
// wide as they need, names and sentences share the rest.
func tableOf(d *draw.Document, t costdoc.Table) draw.Table {
	out := draw.Table{Name: t.Title}
	for i, c := range t.Columns {
		out.Columns = append(out.Columns, columnOf(d, t, i, c))
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

func columnOf(d *draw.Document, t costdoc.Table, i int, c costdoc.Column) draw.Column {
	out := draw.Column{Title: c.Title, Bold: c.Bold}
	switch c.Kind {
	case costdoc.Name:
		out.Weight, out.Lines = 1.4, 2
	case costdoc.Words:
		out.Weight, out.Lines = 2.6, 16
	case costdoc.Number:
		out.Align, out.Width = draw.AlignDecimal, min(widest(d, t, i), widestNumber)
	default:
		out.Width, out.Lines = min(widest(d, t, i), widestText), 2
	}
	return out
}

// widest is the width that a column's cells and the words of its head need.
func widest(d *draw.Document, t costdoc.Table, i int) float64 {
	head := draw.Style{Face: draw.Regular, Size: 7}
	w := d.Width(t.Columns[i].Title, head)/2 + 2
	for _, word := range strings.Fields(t.Columns[i].Title) {
		w = max(w, d.Width(word, head))
	}
	w = min(w, d.Width(t.Columns[i].Title, head))
	for _, r := range t.Rows {
		if i >= len(r.Cells) {
			continue
		}
		st := draw.Plain
		c := r.Cells[i]
		if r.Total || c.Bold || c.Alarm || t.Columns[i].Bold {
			st = draw.Strong
		}
		text := c.Text
		if t.Columns[i].Kind == costdoc.Number {
			text = draw.Number(text)
		}
		need := d.Width(text, st)
		if c.Alarm {
			need += 5
		}
		w = max(w, need)
	}
	return w + 0.4
}
