package ingest

import (
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"pourbook/compute/book"
	"pourbook/ingest/grid"
)

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

// addsUp reports whether a row of other words than those for totals only adds up
// the rows just above it, by a formula, and where its text stands: what is no
// such sum is a formula too, or no number, and at most one needed field is
// filled with anything else.
func (b *block) addsUp(row grid.Row) (int, bool) {
	sum := func(c *grid.Cell) bool {
		s := c.Sums
		return s.Len() > 1 && int(s.Last) > b.head.Row+1 && row.N-int(s.Last) <= 1+blankAbove
	}
	first, sums := -1, 0
	for i := b.first; i <= b.last && i < len(row.Cells); i++ {
		c := &row.Cells[i]
		_, number := plainValue(c)
		switch {
		case c.Kind == grid.Date, number && !c.Formula:
			return 0, false
		case sum(c):
			sums++
		case first < 0 && c.Kind == grid.Text && !number && !blank(c):
			first = i
		}
	}
	if first < 0 || sums == 0 || b.foot.rows < 2 || b.spec.name == book.TSettings {
		return 0, false
	}
	return first, b.filledBut(row.Cells, sum) <= 1
}

// blankAbove is how many rows may stand between the rows that are added up and
// their sum.
const blankAbove = 2

// filledBut is how many needed fields of a row are filled with anything but such
// cells.
func (b *block) filledBut(cells []grid.Cell, sum func(*grid.Cell) bool) int {
	n := 0
	for _, f := range b.spec.must {
		if c, ok := b.column(f); ok && c.index < len(cells) && !blank(&cells[c.index]) && !sum(&cells[c.index]) {
			n++
		}
	}
	return n
}

// looksAddedUp reports whether every number of a row is the sum of at least
// three rows above, and what the table needs, all there, is a name and such
// numbers: it may be a row of totals without a word for it. Where it is, is the
// first such number that is needed.
func (b *block) looksAddedUp(cells []grid.Cell) (int, bool) {
	at := -1
	for i := b.first; i <= b.last && i < len(cells); i++ {
		c := &cells[i]
		v, number := plainValue(c)
		switch {
		case c.Kind == grid.Date:
			return 0, false
		case !number:
			continue
		case i >= len(b.foot.all) || v == 0 || !near(v, b.foot.all[i]):
			return 0, false
		}
		if at < 0 && b.needs(i) {
			at = i
		}
	}
	if at < 0 || b.foot.rows < 3 || b.spec.name == book.TSettings {
		return 0, false
	}
	none := func(*grid.Cell) bool { return false }
	number := func(c *grid.Cell) bool { _, is := plainValue(c); return is }
	return at, b.filledBut(cells, none) == len(b.spec.must) && b.filledBut(cells, number) <= 1
}

// needs reports whether a column holds a field that its table needs.
func (b *block) needs(index int) bool {
	return slices.ContainsFunc(b.spec.must, func(f string) bool {
		c, ok := b.column(f)
		return ok && c.index == index
	})
}
