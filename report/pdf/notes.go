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

// problems draws the lists of problems, numbered after the sections that the
// page already has, and returns the number of the last one.
func problems(f *draw.Flow, l problem.List, c show.Currency, number int) int {
	all := words.Grouped(l)
	for _, k := range kinds {
		var rows []words.Group
		for _, g := range all {
			if k.of(g) {
				rows = append(rows, g)
			}
		}
		if len(rows) == 0 {
			continue
		}
		number++
		problemTable(f, show.Decimals(float64(number), 0), k.key, rows, c)
	}
	return number
}

// mostListed is how many kinds of problem a list shows.
const mostListed = 60

func problemTable(f *draw.Flow, number, key string, rows []words.Group, c show.Currency) {
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
	f.Section(number, title, templates.Text("doc."+key+".aside"), 26)
	f.Table(t)
	if n := len(rows) - mostListed; n > 0 {
		f.Space(2)
		f.Paragraph(templates.Text("doc.more", "n", n), draw.Aside)
	}
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
	if g.More > 0 {
		said += " " + templates.Text("doc.more-like", "n", show.Decimals(float64(g.More), 0), "column", g.Column)
	}
	row := draw.Row{Cells: []draw.Cell{{Text: place, Bold: true}, {Text: said}}}
	if g.Money != 0 {
		row.Cells = append(row.Cells, draw.Cell{Text: show.Decimals(math.Abs(g.Money), c.Minor)})
	}
	return row
}

// cautionKeys are the cautions of every document.
var cautionKeys = []string{"heat", "dye", "test", "law"}

// cautions draws the cautions below the notes, together on one page.
func cautions(d *document) {
	f := d.last
	if f == nil {
		f = d.page(costdoc.Head{Title: templates.Text("doc.cautions")}, templates.Text("doc.cautions"))
		d.last = f
	}
	type panel struct{ title, text string }
	var panels []panel
	h := 0.0
	for _, key := range cautionKeys {
		p := panel{templates.Text("doc.caution." + key), templates.Text("doc.caution." + key + ".text")}
		panels = append(panels, p)
		h += f.WarningHeight(f.Width(), p.title, p.text) + 2.5
	}
	f.Section("", templates.Text("doc.cautions"), templates.Text("doc.cautions.aside"), h)
	for _, p := range panels {
		f.Warning(p.title, p.text)
	}
	if runes := d.MissingRunes(); len(runes) > 0 {
		f.Space(2)
		f.Paragraph(templates.Text("doc.glyphs", "letters", codes(runes)), draw.Aside)
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
