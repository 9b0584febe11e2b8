package draw

import (
	"math"
	"strings"
	"testing"
)

// drawn is the text set on a page, in order, read from its content.
func drawn(t *testing.T, p *Page) []placed {
	t.Helper()
	rec := newPen(p.doc.opt)
	var out []placed
	rec.heard = func(x, y float64, s string, st Style) { out = append(out, placed{x, y, s, st}) }
	rec.page()
	for _, op := range p.ops {
		op(rec)
	}
	return out
}

type placed struct {
	x, y float64
	s    string
	st   Style
}

func find(all []placed, s string) (placed, int) {
	n, at := 0, placed{}
	for _, q := range all {
		if q.s == s {
			n, at = n+1, q
		}
	}
	return at, n
}

func TestTableBreaks(t *testing.T) {
	d := New(options(Letter))
	f := d.Flow(Header{Title: "Costs"})
	f.Table(smallTable("Row", 70))
	if d.Sheets() < 2 {
		t.Fatal("the table is too short to break")
	}
	rows := 0
	for i, p := range d.pages {
		all := drawn(t, p)
		if _, n := find(all, "Cost"); n != 1 {
			t.Errorf("page %d has %d heads", i+1, n)
		}
		if _, n := find(all, "continued"); (n > 0) != (i > 0) {
			t.Errorf("page %d says continued %d times", i+1, n)
		}
		for _, q := range all {
			if strings.HasPrefix(q.s, "Row ") {
				rows++
			}
			if q.y > p.Bottom() || q.y < p.Top()-10 || q.x < p.Left()-0.5 || q.x+width(q.s, q.st) > p.Right()+0.1 {
				t.Errorf("page %d: %q stands outside of the text area at %v, %v", i+1, q.s, q.x, q.y)
			}
		}
	}
	if rows != 70 {
		t.Errorf("%d rows of 70", rows)
	}
}

// A total never stands alone on a page.
func TestTotalStaysWithLastRow(t *testing.T) {
	for n := 10; n < 60; n++ {
		d := New(options(A4))
		d.Flow(Header{Title: "Costs"}).Table(smallTable("Row", n))
		all := drawn(t, d.pages[len(d.pages)-1])
		if _, found := find(all, "All"); found != 1 {
			t.Fatalf("%d rows: no total on the last page", n)
		}
		if _, found := find(all, "Row "+itoa(n-1)); found != 1 {
			t.Errorf("%d rows: the total stands alone", n)
		}
	}
}

func TestDecimalsAlign(t *testing.T) {
	d := New(options(A4))
	p := d.NewPage(Header{Title: "Costs"})
	p.Table(20, 60, 60, Table{
		Columns: []Column{{Title: "Cost", Align: AlignDecimal}},
		Rows:    []Row{{Cells: []Cell{{Text: "1.5"}}}, {Cells: []Cell{{Text: "1,200.25"}}}, {Cells: []Cell{{Text: "7"}}}},
	})
	all := drawn(t, p)
	point := -1.0
	for _, s := range []string{"1.5", "1\u2009200.25", "7"} {
		q, n := find(all, s)
		if n != 1 {
			t.Fatalf("%q is set %d times", s, n)
		}
		whole, _, _ := splitNumber(s)
		at := q.x + width(whole, q.st)
		if point >= 0 && math.Abs(at-point) > 0.01 {
			t.Errorf("the point of %q stands at %v, not %v", s, at, point)
		}
		point = at
	}
}

// A number that is cut would be another number: it is made smaller instead.
func TestNumbersAreNeverCut(t *testing.T) {
	d := New(options(A4))
	p := d.NewPage(Header{Title: "Costs"})
	p.Table(20, 60, 12, Table{
		Columns: []Column{{Align: AlignDecimal}},
		Rows:    []Row{{Cells: []Cell{{Text: "123456789012.25"}}}},
	})
	if _, n := find(drawn(t, p), "123\u2009456\u2009789\u2009012.25"); n != 1 {
		t.Errorf("set: %v", drawn(t, p))
	}
}

func TestColumnsFit(t *testing.T) {
	d := New(options(A4))
	g := d.lay(Table{Columns: []Column{{Width: 90}, {Width: 90}, {}}}, 18, 100)
	if _, right := g.span(); right > 118.01 {
		t.Errorf("the columns end at %v", right)
	}
}

// A short group of rows stays on one page, a long one is parted.
func TestShortGroupsStayTogether(t *testing.T) {
	for n, want := range map[int]int{4: 2, 20: 1} {
		d := New(options(Letter))
		f := d.Flow(Header{Title: "Prices"})
		f.Take(f.Rest() - 15)
		rows := make([]Row, n)
		for i := range rows {
			rows[i] = Row{Group: i == 0, Cells: []Cell{{Text: "row"}}}
		}
		g := d.lay(Table{Columns: []Column{{}}, Rows: rows}, f.Left(), f.Width())
		f.Need(g.keep(0))
		if d.Sheets() != want {
			t.Errorf("a group of %d rows begins on sheet %d, want %d", n, d.Sheets(), want)
		}
	}
}

func TestFlow(t *testing.T) {
	d := New(options(Letter))
	f := d.Flow(Header{Title: "Plan", Tab: "014"})
	r := f.Take(100)
	if r.Y != f.Top() || f.Y != r.Bottom() {
		t.Errorf("Take = %v, then Y %v", r, f.Y)
	}
	f.Take(f.Rest())
	if d.Sheets() != 1 {
		t.Error("what just fits goes on to a new page")
	}
	r = f.Take(20)
	if d.Sheets() != 2 || f.Number() != 2 || r.Y != f.Top() {
		t.Errorf("%d sheets, %v", d.Sheets(), r)
	}
	if f.Take(1000); d.Sheets() != 3 {
		t.Error("what fits nowhere takes one new page")
	}
	if _, n := find(drawn(t, f.Page), "continued"); n != 1 {
		t.Error("the following page does not say so")
	}
}

func TestFoot(t *testing.T) {
	d := New(options(Letter))
	for range 12 {
		d.NewPage(Header{Title: "Plan"})
	}
	d.pages[2].foot(3, 12)
	all := drawn(t, d.pages[2])
	for _, want := range []string{"sheet 3 of 12", "Plan · ", "Wax Shed · Costing · made 1 March 2026 · book 3f9a-71c2"} {
		if _, n := find(all, want); n != 1 {
			t.Errorf("no %q in %v", want, all)
		}
	}
}

func TestEmptyDocument(t *testing.T) {
	if _, err := New(options(A4)).Bytes(); err == nil {
		t.Error("a document without a page is written")
	}
}

func TestBenchNumbersAlign(t *testing.T) {
	d := New(options(A4))
	p := d.NewPage(Header{Title: "Card"})
	p.Bench(100, 50, "2938", "g", Weight, 112)
	p.Bench(100, 60, "1,293.8", "g", Weight, 112)
	all := drawn(t, p)
	for _, s := range []string{"2938", "1293"} {
		if q, n := find(all, s); n != 1 || math.Abs(q.x+width(s, q.st)-100) > 0.01 {
			t.Errorf("%q does not end at the point: %v", s, q)
		}
	}
	if q, _ := find(all, ".8"); q.x != 100 || q.st.Size >= Weight.Size {
		t.Errorf("decimals: %v", q)
	}
	for _, q := range all {
		if q.s == "g" && q.x != 112 {
			t.Errorf("unit at %v", q.x)
		}
	}
}
