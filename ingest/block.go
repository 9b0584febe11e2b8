package ingest

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/ingest/grid"
	"pourbook/ingest/parse"
)

// block is a table as it was found: its heading row and the rows below.
type block struct {
	match
	sheet  string
	head   cell.Ref
	rivals []match // tables that fit as well; which it is, the rows have to tell
	rows   []record
	sales  *saleSink // rows of sales, which are not kept as rows
	n      int       // data rows
	lost   int       // rows left out
	worth  float64   // money on rows that a missing column leaves out
	foot   footing
	hidden int
	shaded cell.Ref // the first hidden row
	extra  bool     // of a further file of sales
	file   string   // that file
	unsure []string // fields that two headings fit as well
	// undecided: nothing tells which table it is.
	undecided  bool
	headless   bool // its headings are made up
	waiting    bool // to be settled, with its first row or at the sheet's end
	ahead      int  // rows dated after today
	firstAhead book.Date
}

// record is a row of a block; cells is in the order of the sheet's columns.
type record struct {
	n     int
	cells []grid.Cell
}

// at is the cell of a row.
func (b *block) at(row, index int) cell.Ref {
	return cell.Ref{Sheet: b.sheet, Row: row, Col: index + 1}
}

// column is the column of a field.
func (b *block) column(field string) (*column, bool) {
	for i := range b.columns {
		if b.columns[i].field == field {
			return &b.columns[i], true
		}
	}
	return nil, false
}

// footing keeps the sums of a block's number columns, to know a row of totals.
type footing struct {
	all, since []float64 // from the top, and from the last row of totals
	rows       int
}

func (f *footing) add(cells []grid.Cell) {
	f.rows++
	for i := range cells {
		v, ok := plainValue(&cells[i])
		if !ok {
			continue
		}
		f.count(i, v)
	}
}

func (f *footing) count(i int, v float64) {
	for len(f.all) <= i {
		f.all, f.since = append(f.all, 0), append(f.since, 0)
	}
	f.all[i] += v
	f.since[i] += v
}

// equals reports whether every number of the cells is the sum above it.
func (f *footing) equals(cells []grid.Cell, first, last int) bool {
	n := 0
	for i := first; i <= last && i < len(cells); i++ {
		v, ok := plainValue(&cells[i])
		if !ok {
			if blank(&cells[i]) {
				continue
			}
			return false
		}
		if i >= len(f.all) || !near(v, f.all[i]) && !near(v, f.since[i]) {
			return false
		}
		n++
	}
	return n > 0 && f.rows > 1
}

// labeled reports whether a row's numbers are the sums above, and its texts say
// so: one of them begins or ends with a word for totals, or, where it may, is a
// sum with what it counts, such as "12 candles"; any other text is none of them.
func (f *footing) labeled(cells []grid.Cell, first, last int, counts func() bool) bool {
	cells = cells[min(first, len(cells)):min(last+1, len(cells))]
	numbers, labels := 0, 0
	for i := range cells {
		if v, ok := plainValue(&cells[i]); ok {
			if i += first; i >= len(f.all) || !near(v, f.all[i]) && !near(v, f.since[i]) {
				return false
			}
			numbers++
		}
	}
	if numbers == 0 || f.rows < 2 {
		return false
	}
	for i := range cells {
		c := &cells[i]
		if _, number := plainValue(c); number || blank(c) {
			continue
		}
		v, counted := countOf(c)
		if c.Kind != grid.Text || !namesTotal(c.Raw) && !(counted && f.isSum(v) && counts()) {
			return false
		}
		labels++
	}
	return labels > 0
}

// isSum reports whether a number is the sum of a column.
func (f *footing) isSum(v float64) bool {
	sum := func(s float64) bool { return s != 0 && near(v, s) }
	return slices.ContainsFunc(f.all, sum) || slices.ContainsFunc(f.since, sum)
}

// countOf is the number that a text begins with, when only words follow.
func countOf(c *grid.Cell) (float64, bool) {
	number, words, _ := strings.Cut(strings.TrimSpace(c.Raw), " ")
	if c.Kind != grid.Text || !plainAmount(number) || words == "" || strings.ContainsFunc(words, unicode.IsDigit) {
		return 0, false
	}
	v, err := strconv.ParseFloat(number, 64)
	return v, err == nil
}

func near(a, b float64) bool { return math.Abs(a-b) <= 0.005+1e-9*math.Abs(b) }

// plainValue is the number in a cell, also when it is plain text.
func plainValue(c *grid.Cell) (float64, bool) {
	switch {
	case c.Kind == grid.Number:
		return c.Num, true
	case c.Kind == grid.Text && plainAmount(c.Raw):
		v, err := strconv.ParseFloat(c.Raw, 64)
		return v, err == nil
	}
	return 0, false
}

// blank is parse.Blank, without a look at what begins with a plain character.
func blank(c *grid.Cell) bool {
	if c.Kind == grid.Text && c.Raw != "" && c.Raw[0] > ' ' && c.Raw[0] < 0x7f {
		return false
	}
	return parse.Blank(*c)
}

type totalWords struct {
	words    []string
	initials string // the first letters of all
}

// totals are the words for totals; no text that begins otherwise than one of
// them needs a closer look.
var totals = sync.OnceValue(func() totalWords {
	var t totalWords
	t.words = normals("read.totals")
	for _, w := range t.words {
		t.initials += string(firstLetter(w))
	}
	return t
})

// firstLetter is the first letter of a text in lower case, 0 for none.
func firstLetter(s string) rune {
	for _, r := range s {
		if unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
	}
	return 0
}

// saysTotal reports whether a text starts with a word for totals, and whether
// it is nothing else.
func saysTotal(text string) (starts, whole bool) {
	if !strings.ContainsRune(totals().initials, firstLetter(text)) {
		return false, false
	}
	s := normal(text)
	for _, w := range totals().words {
		if s == w {
			return true, true
		}
		starts = starts || strings.HasPrefix(s, w+" ")
	}
	return starts, false
}

// namesTotal reports whether a text begins or ends with a word for totals.
func namesTotal(text string) bool {
	starts, whole := saysTotal(text)
	if starts || whole {
		return true
	}
	s := normal(text)
	return slices.ContainsFunc(totals().words, func(w string) bool { return strings.HasSuffix(s, " "+w) })
}

// isTotals reports whether a row only adds up others, and where it says so.
func (b *block) isTotals(cells []grid.Cell) (int, bool) {
	first := -1
	dated := false
	for i := b.first; i <= b.last && i < len(cells); i++ {
		switch c := &cells[i]; {
		case c.Kind == grid.Date:
			dated = true
		case c.Kind == grid.Text && first < 0 && !blank(c):
			first = i
		}
	}
	if dated {
		return 0, false
	}
	if first >= 0 {
		starts, whole := saysTotal(cells[first].Raw)
		switch _, number := plainValue(&cells[first]); {
		case starts && (whole || !b.complete(cells) || b.foot.equals(cells, first+1, b.last)):
			return first, true
		case !number && b.spec.name != book.TSettings:
			return first, b.foot.labeled(cells, b.first, b.last, func() bool { return b.countsItself(cells) })
		}
	}
	if b.spec.name == book.TSettings {
		return 0, false
	}
	for _, k := range b.spec.keys {
		if c, ok := b.column(k); ok && c.index < len(cells) && !blank(&cells[c.index]) {
			return 0, false
		}
	}
	at := slices.IndexFunc(cells, func(c grid.Cell) bool { return !blank(&c) })
	return at, b.foot.equals(cells, b.first, b.last)
}

// countsItself reports whether "12 candles" may be the label of a row: its table
// needs a day, and the row has none.
func (b *block) countsItself(cells []grid.Cell) bool {
	c, ok := b.column("date")
	if !ok || !slices.Contains(b.spec.must, "date") {
		return false
	}
	return c.index >= len(cells) || !isDay(cells[c.index])
}

// complete reports whether every needed field of a row is filled.
func (b *block) complete(cells []grid.Cell) bool {
	for _, f := range b.spec.must {
		c, ok := b.column(f)
		if !ok || c.index >= len(cells) || blank(&cells[c.index]) {
			return false
		}
	}
	return len(b.spec.must) > 2
}

// take gives a row to the block. Rows of totals and repeated headings have
// been dealt with.
func (r *reader) take(b *block, row grid.Row) {
	if b.waiting && !b.unsettled() {
		r.settled(b)
	}
	if at, ok := b.isExample(row.Cells); ok {
		r.add(problem.Problem{Severity: problem.Note, Code: problem.TotalsRow, Say: "example", At: b.at(row.N, at)})
		return
	}
	if at, ok := b.isTotals(row.Cells); ok {
		clear(b.foot.since)
		r.add(problem.Problem{Severity: problem.Note, Code: problem.TotalsRow, At: b.at(row.N, at)})
		return
	}
	b.foot.add(row.Cells)
	b.n++
	if row.Hidden {
		if b.hidden == 0 {
			b.shaded = b.at(row.N, b.first)
		}
		b.hidden++
	}
	if b.sales != nil {
		b.sales.take(row)
		return
	}
	cells := row.Cells[:min(len(row.Cells), b.reach()+1)]
	if r.kept += len(cells); r.kept > maxKept {
		r.beyond("too-many-cells", maxKept, b.head)
		return
	}
	b.rows = append(b.rows, record{row.N, slices.Clone(cells)})
	if b.waiting && !b.unsettled() {
		r.settled(b)
	}
}
