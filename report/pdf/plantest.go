package pdf

import (
	"fmt"

	"pourbook/compute/plan"
	"pourbook/report/costdoc"
	"pourbook/report/pdf/draw"
	"pourbook/templates"
)

// testSheets are sheets to write burn tests on, two to a page.
func (p *planPages) testSheets() {
	jars, failed := 0, 0
	for _, t := range p.r.Tests {
		jars += t.Jars
		if t.Failed {
			failed++
		}
	}
	name := templates.Text("plan.tests")
	finding := templates.Text("plan.found.tests", "n", count(len(p.r.Tests)), "jars", count(jars))
	if failed > 0 {
		finding += " " + templates.Text("plan.found.tests-failed", "n", count(failed))
	}
	p.start(costdoc.Head{Title: name, Subtitle: templates.Text("plan.tests.subtitle"), Finding: finding}, name)
	for i, t := range p.r.Tests {
		p.testSheet(i, t)
	}
}

const (
	testHeight = 108.0
	testRow    = 9.6
	testRows   = 4
)

func (p *planPages) testSheet(i int, t plan.Test) {
	recipe, jar, wicks := "", "", ""
	if t.Recipe != nil {
		recipe = t.Recipe.Name.V
	}
	if t.Jar != nil {
		jar = t.Jar.Name.V
	}
	for n, w := range t.Wicks {
		if n > 0 {
			wicks += ", "
		}
		wicks += w.Name.V
	}
	if wicks == "" {
		wicks = templates.Text("plan.test.no-wick")
	}
	aside := templates.Text("plan.test.never")
	if t.Failed {
		aside = templates.Text("plan.test.failed")
	}
	p.f.Section(fmt.Sprintf("T-%02d", i+1), recipe, aside, testHeight-draw.SectionHeight)
	f := p.f
	w := f.Width()
	items := [][2]string{{templates.Text("plan.test.jar"), jar}, {templates.Text("plan.test.finish"), finishName(t.Finish)}, {templates.Text("plan.test.wicks"), wicks}, {templates.Text("plan.test.jars"), count(t.Jars)}}
	widths := []float64{0.34, 0.14, 0.36, 0.16}
	x := f.Left()
	for n, item := range items {
		each := w * widths[n]
		f.Text(x, f.Y+2.4, draw.Caps(item[0]), draw.Label)
		f.Wrap(x, f.Y+7, each-4, item[1], draw.Strong.At(8.5), 3)
		x += each
	}
	f.Y += 15
	p.testTable()
	p.testVerdict()
}

// testTable has a row for each hour of burning.
func (p *planPages) testTable() {
	f := p.f
	heads := templates.List("plan.test.columns")
	widths := []float64{0.12, 0.14, 0.14, 0.14, 0.46}
	x := f.Left()
	for i := range min(len(heads), len(widths)) {
		f.Fit(x+0.4, f.Y+2.6, f.Width()*widths[i]-1, draw.Caps(heads[i]), draw.Label, 5, draw.AlignLeft)
		x += f.Width() * widths[i]
	}
	f.Y += 4
	for range testRows {
		x = f.Left()
		for i := range widths {
			each := f.Width() * widths[i]
			f.WriteIn(draw.Rect{X: x, Y: f.Y, W: each - 1.2, H: testRow - 1.2}, "", "")
			x += each
		}
		f.Y += testRow
	}
	f.Y += 2
}

// testVerdict is pass or fail, with room to sign.
func (p *planPages) testVerdict() {
	f := p.f
	x := f.Left()
	for _, word := range []string{templates.Text("plan.test.pass"), templates.Text("plan.test.fail")} {
		f.TickBox(x+0.4, f.Y+2, 7)
		x += 10 + f.Text(x+10, f.Y+7.4, word, draw.Item) + 8
	}
	w := (f.Right() - x - 2) / 2
	f.WriteIn(draw.Rect{X: x, Y: f.Y, W: w, H: 11}, templates.Text("plan.test.signed"), "")
	f.WriteIn(draw.Rect{X: x + w + 2, Y: f.Y, W: w, H: 11}, templates.Text("plan.test.on"), "")
	f.Y += 13
	f.Wrap(f.Left(), f.Y+2.6, f.Width(), templates.Text("plan.test.note"), draw.Small.With(draw.Secondary), 2)
	f.Y += 8
}
