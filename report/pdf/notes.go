package pdf

import (
	"fmt"
	"math"
	"strings"

	"pourbook/compute/problem"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// notes adds a page that lists the problems: what was left out, what looks
// wrong, what was assumed, with cells and money.
func notes(d *document, l problem.List, c show.Currency) {
	d.last = d.page(costdoc.Head{Title: templates.Text("doc.notes"), Finding: costdoc.Found(l, c)}, templates.Text("doc.notes"))
	problems(d.last, l, c, 0)
}

// problems draws the lists of problems, numbered after the sections that the
// page already has, and returns the number of the last one.
func problems(f *draw.Flow, l problem.List, c show.Currency, number int) int {
	for _, list := range problemLists(l, c) {
		number++
		f.Section(show.Decimals(float64(number), 0), list.title, list.aside, 26)
		f.Table(list.table)
		if list.more != "" {
			f.Space(2)
			f.Paragraph(list.more, draw.Aside)
		}
	}
	return number
}

// kinds are the lists of problems, in the order in which they are printed.
var kinds = []struct {
	key string
	of  func(words.Group) bool
}{
	{"left-out", func(g words.Group) bool { return g.Severity == problem.Error }},
	{"wrong", func(g words.Group) bool { return g.Severity == problem.Warning && g.Code != problem.DefaultUsed }},
	{"assumed", func(g words.Group) bool { return g.Severity != problem.Error && g.Code == problem.DefaultUsed }},
	{"worth", func(g words.Group) bool { return g.Severity == problem.Note && g.Code != problem.DefaultUsed }},
}

// problemList is a list of problems, ready to be drawn under its title.
type problemList struct {
	title, aside string
	table        draw.Table
	more         string // what the list does not show
}

func problemLists(l problem.List, c show.Currency) []problemList {
	var out []problemList
	all := words.BySeverity(words.Grouped(l))
	for _, k := range kinds {
		var rows []words.Group
		for _, g := range all {
			if k.of(g) {
				rows = append(rows, g)
			}
		}
		if k.key == "assumed" {
			rows = together(rows)
		}
		if len(rows) > 0 {
			out = append(out, problemTable(k.key, rows, c))
		}
	}
	return out
}

// together puts the defaults that have no cell into one paragraph, the last of
// the list: there can be a dozen of them, with one thing to do.
func together(rows []words.Group) []words.Group {
	var out []words.Group
	var loose []string
	for _, g := range rows {
		if g.Place() == "" {
			loose = append(loose, g.Message)
		} else {
			out = append(out, g)
		}
	}
	if len(loose) < 2 {
		return rows
	}
	all := words.Group{}
	all.Message, all.Hint = strings.Join(loose, " "), templates.Text("doc.assumed.hint")
	return append(out, all)
}

// mostListed is how many kinds of problem a list shows.
const mostListed = 60

func problemTable(key string, rows []words.Group, c show.Currency) problemList {
	title := templates.Text("doc." + key)
	t := draw.Table{Name: title, EveryRow: true, Columns: []draw.Column{
		{Title: templates.Text("doc.col.where"), Width: 36, Lines: 3}, {Title: templates.Text("doc.col.what"), Weight: 1, Lines: 16},
	}}
	money := false
	for _, g := range rows {
		money = money || g.Money != 0
	}
	if money {
		t.Columns = append(t.Columns, draw.Column{Title: templates.Text("doc.col.money", "currency", c.Code), Width: 20, Align: draw.AlignDecimal})
	}
	for _, g := range rows[:min(len(rows), mostListed)] {
		t.Rows = append(t.Rows, problemRow(g, c))
	}
	list := problemList{title: title, aside: templates.Text("doc." + key + ".aside"), table: t}
	if n := len(rows) - mostListed; n > 0 {
		list.more = templates.Text("doc.more", "n", n)
	}
	return list
}

func problemRow(g words.Group, c show.Currency) draw.Row {
	place := g.Place()
	if place == "" {
		place = templates.Text("doc.col.nowhere")
	}
	said := g.Message
	if g.Hint != "" {
		said += " " + g.Hint
	}
	switch {
	case g.More > 0 && g.Column == "":
		said += " " + templates.Text("doc.more-like.sheets", "n", show.Decimals(float64(g.More), 0))
	case g.More > 0:
		said += " " + templates.Text("doc.more-like", "n", show.Decimals(float64(g.More), 0), "column", g.Column)
	}
	row := draw.Row{Cells: []draw.Cell{{Text: place}, {Text: said}}}
	if g.Money != 0 {
		row.Cells = append(row.Cells, draw.Cell{Text: show.Decimals(math.Abs(g.Money), c.Minor)})
	}
	return row
}

// cautionKeys are the cautions of every document.
var cautionKeys = []string{"heat", "test", "law"}

// cautions draws the cautions below the notes, together on one page.
func cautions(d *document) {
	if d.last == nil {
		d.last = d.page(costdoc.Head{Title: templates.Text("doc.cautions")}, templates.Text("doc.cautions"))
	}
	d.last.Section("", templates.Text("doc.cautions"), templates.Text("doc.cautions.aside"), cautionsHeight(d.last))
	drawCautions(d.last)
}

func cautionsHeight(f *draw.Flow) float64 {
	h := 0.0
	for _, key := range cautionKeys {
		title, text := caution(key)
		h += f.WarningHeight(f.Width(), title, text) + cautionGap
	}
	return h
}

const cautionGap = 1.6

func caution(key string) (title, text string) {
	return templates.Text("doc.caution." + key), templates.Text("doc.caution." + key + ".text")
}

// drawCautions draws the cautions, and which letters could not be printed.
func drawCautions(f *draw.Flow) {
	for _, key := range cautionKeys {
		title, text := caution(key)
		f.Y = f.Page.Warning(f.Left(), f.Y, f.Width(), title, text) + cautionGap
	}
	if runes := f.Document().MissingRunes(); len(runes) > 0 {
		f.Y = f.Wrap(f.Left(), f.Y+4, f.Width(), templates.Text("doc.glyphs", "letters", codes(runes)), draw.Aside, 2)
	}
}

// codes names letters by their code points, since they cannot be drawn.
func codes(runes []rune) string {
	const most = 12
	var out []string
	for _, r := range runes[:min(len(runes), most)] {
		out = append(out, fmt.Sprintf("U+%04X", r))
	}
	if len(runes) > most {
		out = append(out, "…")
	}
	return strings.Join(out, ", ")
}
