package draw

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"pourbook/compute/oracle"
)

func options(p Paper) Options {
	return Options{
		Paper: p, Shop: "Wax Shed", Title: "Costing", MadeOn: "made 1 March 2026", Fingerprint: "book 3f9a-71c2",
		Made: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC), Words: Words{"continued", "sheet", "of"},
	}
}

// everything draws every primitive with a text and a number.
func everything(p Paper, s string, v float64) *Document {
	d := New(options(p))
	f := d.Flow(Header{
		Title: s, Subtitle: s, Finding: s, Name: s, Tab: s,
		Facts: []Fact{{s, s}, {s, s}, {s, s}, {s, s}},
	})
	f.Section("1", s, s, 10)
	f.Paragraph(s, Body)
	f.Warning(s, s)
	bench(f, s, v)
	for _, c := range charts(s, v) {
		f.Section("2", s, s, 20)
		c.Draw(f.Page, f.Take(80))
	}
	f.Table(smallTable(s, 5))
	last := f.Page
	d.Later(func() { last.Leader(last.Left(), v, last.Width(), s, itoa(d.Sheets()), Body) })
	return d
}

func bench(f *Flow, s string, v float64) {
	p := f.Page
	for m := NoMark; m <= HatchedBar; m++ {
		p.Mark(m, v, 100, 3, Black)
	}
	for i := range Fills {
		p.ChartFill(Rect{20, 20 + v, 10, 5}, i)
	}
	p.Text(20, v, s, Style{Size: v, Track: v})
	p.Fit(20, 100, v, s, Item, v, AlignCenter)
	p.Wrap(20, 100, v, s, Plain, 3)
	p.Bench(60, 100, s, s, Weight, v)
	p.Drops(20, v, v, 41)
	p.WriteIn(Rect{20, 100, v, 12}, s, s)
	p.DottedLines(20, 100, v, 8, 2)
	p.Swatch(Rect{20, v, 8, 5}, Swatch{Hex: s, Name: s})
	p.Figures(20, 60, 100, Figure{s, s}, Figure{"7", s})
	p.Step(20, 80, 40, "a", s, false)
	p.TickBox(v, v, 5)
	p.Hatch(Rect{20, 20, 10, 10}, v, v, v, Rust)
	p.Polygon(Rust, Point{v, 1}, Point{2, v}, Point{3, 3})
}

type chart interface {
	Draw(p *Page, r Rect)
}

func charts(s string, v float64) []chart {
	cells := []Cell{{Text: s, Alarm: true}, {Text: "1,234.50"}}
	pair := &[2]float64{v, 2 * v}
	return []chart{
		StackedBars{Parts: []string{s, "b", "c"}, Heads: []string{s, "x"}, Rows: []StackedRow{
			{Label: s, Strong: true, Swatch: &Swatch{Natural: true}, Name: s, Values: []float64{v, 2, 3}, Cells: cells},
			{Label: s, Values: []float64{1, v, -v}, Group: true},
		}},
		RangePlot{Less: s, More: s, Heads: []string{s, "x"}, Rows: []RangeRow{
			{Group: s, Label: s, Low: v / 2, Mid: v, High: v * 2, Cells: cells, Spark: []float64{1, v, 3}, SparkLabel: s},
			{Label: s, Low: 0, Mid: 0.5, High: math.Inf(1), Thin: true},
		}},
		Dumbbell{Ring: s, Disc: s, Target: v, TargetLabel: s, Rows: []DumbbellRow{{s, s, v, 1}, {s, s, math.NaN(), v}}},
		Diverging{Rows: []DivergingRow{{s, s, v}, {s, s, -v}}},
		Months{Labels: []string{s, s}, Series: []Series{{s, []float64{v, 1}}, {s, []float64{-v}}}, Print: true},
		Tens{Title: s, Rows: []TensRow{{s, 3, 2}, {s, 30, -2}}},
		Scatter{
			XTitle: s, YTitle: s, Points: []ScatterPoint{{X: v, Y: v, Label: s, Range: pair}, {X: 1, Y: 2, Label: s}},
			X: []float64{0, 1, v}, Curve: []float64{1, v, 3}, Low: []float64{0, v, 2}, High: []float64{2, v, 4},
		},
		Sparkline{Values: []float64{v, 1, 2}, Level: &v, Label: s},
		Timeline{From: 0, To: v, Head: s, Ticks: []TimeTick{{0, s}, {v, s}}, Pour: s, Rows: []TimeRow{{s, s, s, 0, v, v, s, true}}},
		LoadBar{v, 12, s},
		LoadBar{5, v, s},
	}
}

func smallTable(s string, rows int) Table {
	t := Table{Name: s, EveryRow: true, Columns: []Column{
		{Title: "Item", Lines: 2},
		{Title: "Cost", Align: AlignDecimal, Width: 25},
		{Title: "Take", Bench: 17, Width: 40},
		{Title: "Left", Width: 25},
	}}
	for i := range rows {
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: s + " " + itoa(i), Mark: Tick, Sub: s},
			{Text: "-1,234.50"},
			{Text: "293.8", Unit: "g"},
			{WriteIn: true, Unit: s},
		}})
	}
	t.Rows = append(t.Rows, Row{Total: true, Cells: []Cell{{Text: "All"}, {Text: "9.00"}}})
	return t
}

func TestSameBytes(t *testing.T) {
	first, err := everything(Letter, "Crème Łódź ✓", 3).Bytes()
	if err != nil {
		t.Fatal(err)
	}
	d := everything(Letter, "Crème Łódź ✓", 3)
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() { // documents share no font bytes
			if b, err := everything(Letter, "Crème Łódź ✓", 3).Bytes(); err != nil || !bytes.Equal(b, first) {
				t.Errorf("another document of the same content has other bytes (%v)", err)
			}
		})
	}
	wait.Wait()
	for range 2 {
		if b, err := d.Bytes(); err != nil || !bytes.Equal(b, first) {
			t.Errorf("writing the document again gives other bytes (%v)", err)
		}
	}
}

var hostile = map[string]string{
	"emoji":    "Candle 🕯️ flame",
	"cjk":      "蠟燭 wax",
	"rtl":      "שלום \u202egnol\u202c مرحبا",
	"invalid":  "a\xff\xfe\xc3(b\xe2\x82",
	"controls": "a\x00b\x1bc\r\nd\te\u200b\ufeff",
	"syntax":   `) Tj ET /JS (\`,
	"long":     strings.Repeat("x", 32767),
	"longwide": strings.Repeat("é字 ", 32767/3),
	"marks":    "e" + strings.Repeat("\u0301", 500),
	"edge":     "\uffff\ufffd\U00010000\U0010ffff",
	"empty":    "",
}

func TestHostileTexts(t *testing.T) {
	broken := regexp.MustCompile(`(?m)^[^(\n]*\b(NaN|[+-]?Inf)\b`)
	for name, s := range hostile {
		values := []float64{3}
		if name == "empty" || name == "rtl" {
			values = []float64{3, 0, -1, 1e9, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)}
		}
		for _, v := range values {
			d := everything(A4, s, v)
			k := newPen(d.opt)
			k.f.SetCompression(false)
			b, err := d.write(k)
			if err != nil {
				t.Errorf("%s, %v: %v", name, v, err)
			}
			for _, p := range bytes.Split(b, []byte("stream\n")) {
				if bytes.Contains(p, []byte(" Tj ET")) && broken.Match(p) {
					t.Errorf("%s, %v: a number that is not finite is on the page: %s", name, v, broken.Find(p))
				}
			}
		}
	}
}

func TestPDFTools(t *testing.T) {
	dir := t.TempDir()
	for _, paper := range []Paper{Letter, A4} {
		for name, s := range map[string]string{"plain": "B-014 Crème", "syntax": hostile["syntax"], "emoji": hostile["emoji"]} {
			b, err := everything(paper, s, 3).Bytes()
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(dir, name+".pdf")
			if err := os.WriteFile(file, b, 0o600); err != nil {
				t.Fatal(err)
			}
			runTool(t, "qpdf", "--check", file)
			text := runTool(t, "pdftotext", "-layout", file, "-")
			if name == "plain" {
				for _, want := range []string{"B-014 Crème", "continued", "sheet 2 of ", "Wax Shed", "book 3f9a-71c2"} {
					if !strings.Contains(text, want) {
						t.Errorf("the text of the document lacks %q", want)
					}
				}
			}
		}
	}
}

// runTool runs a tool that may be missing on a developer's machine, not on CI, and
// fails on anything it says on standard error.
func runTool(t *testing.T, name string, args ...string) string {
	t.Helper()
	oracle.Need(t, oracle.Poppler, oracle.QPDF)
	var out, bad bytes.Buffer
	c := exec.Command(name, args...)
	c.Stdout, c.Stderr = &out, &bad
	if err := c.Run(); err != nil || bad.Len() > 0 {
		t.Errorf("%s: %v: %s", name, err, bad.String())
	}
	return out.String()
}
