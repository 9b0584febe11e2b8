package ingest

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// mostSettings is how many rows a sheet of settings can have.
const mostSettings = 200

// keep remembers the rows of a sheet in which no table was recognised so far.
func (w *walker) keep(row grid.Row) {
	if w.found > 0 || w.extra || len(w.plan) > 0 || len(w.kept) > mostSettings {
		return
	}
	row.Cells = slices.Clone(row.Cells)
	w.kept = append(w.kept, row)
}

// settingsByName reads a sheet as Settings, whatever its headings say, when
// most of the names below them are settings with a value. A book that has
// Settings needs no other.
func (w *walker) settingsByName() bool {
	if slices.ContainsFunc(w.blocks, func(b *block) bool { return b.spec.name == book.TSettings }) {
		return false
	}
	top, name, value := w.firstSetting()
	if top < 0 || len(w.kept) > mostSettings || !w.mostlySettings(top, name, value) {
		return false
	}
	head := untitled(w.kept[top], name, value)
	if titles := top > 0 && titled(w.kept[top-1].Cells, name, value); titles {
		head = w.kept[top-1]
	}
	w.start(head, []match{settingsHead(head.Cells, name, value)})
	w.open[0].headless = head.N == w.kept[top].N
	for _, row := range w.kept[top:] {
		w.take(w.open[0], row)
	}
	return true
}

// mostlySettings reports whether most names from a row on are settings, and
// have a value.
func (w *walker) mostlySettings(top, name, value int) bool {
	known, named := 0, 0
	for _, row := range w.kept[top:] {
		d, ok := settingAt(row.Cells, name)
		if name < len(row.Cells) && !blank(&row.Cells[name]) {
			named++
		}
		if ok && value < len(row.Cells) && (looksLikeData(row.Cells[value]) || d.Kind == book.KText || d.Kind == book.KWeekdays) {
			known++
		}
	}
	return known > 1 && 2*known >= named
}

// settingsHead is a row as the heading row of Settings.
func settingsHead(cells []grid.Cell, name, value int) match {
	m := match{spec: specOf(book.TSettings)}
	for i := range cells {
		c := column{heading: cells[i].Raw, index: i, sure: weak}
		switch {
		case blank(&cells[i]):
		case i == name:
			c.field = "name"
			m.columns = append(m.columns, c)
		case i == value:
			c.field = "value"
			m.columns = append(m.columns, c)
		default:
			m.unread = append(m.unread, c)
		}
	}
	return m
}

// firstSetting is the first kept row that begins with a setting, and the
// columns of its name and value; -1 when there is none.
func (w *walker) firstSetting() (top, name, value int) {
	for i, row := range w.kept {
		name = slices.IndexFunc(row.Cells, func(c grid.Cell) bool { return !blank(&c) })
		if _, ok := settingAt(row.Cells, name); !ok {
			continue
		}
		for value = name + 1; value < len(row.Cells); value++ {
			if !blank(&row.Cells[value]) {
				return i, name, value
			}
		}
	}
	return -1, 0, 0
}

// titled reports whether both columns have a text in a row.
func titled(cells []grid.Cell, name, value int) bool {
	return value < len(cells) && cells[name].Kind == grid.Text && cells[value].Kind == grid.Text &&
		!blank(&cells[name]) && !blank(&cells[value]) && !looksLikeData(cells[value])
}

// untitled stands for the heading row of settings that have none, in the row of
// the first.
func untitled(first grid.Row, name, value int) grid.Row {
	head := grid.Row{N: first.N, Cells: make([]grid.Cell, value+1)}
	head.Cells[name] = grid.Cell{Kind: grid.Text, Raw: "name"}
	head.Cells[value] = grid.Cell{Kind: grid.Text, Raw: "value"}
	return head
}

func settingAt(cells []grid.Cell, index int) (book.Def, bool) {
	if index < 0 || index >= len(cells) || cells[index].Kind != grid.Text {
		return book.Def{}, false
	}
	t, f := parse.Text(cells[index])
	d, _, ok := findSetting(t)
	return d, ok && f.None()
}
