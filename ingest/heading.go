package ingest

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"pourbook/compute/book"
	"pourbook/compute/unit"
	"pourbook/ingest/parse"
	"pourbook/templates"
)

// How sure a heading is of its field.
const (
	ownName  = 1.0  // the field's own name
	strong   = 0.95 // "heading.<table>.<field>"
	weak     = 0.8  // "weak.<table>.<field>": could be something else
	misspelt = 0.7
)

// entry is a field that a heading stands for.
type entry struct {
	field string
	sure  float64
}

type lexicon struct {
	// tables have the fields that a heading can mean, the surest first.
	tables map[book.TableName]map[string][]entry
	// words are all accepted headings of all tables.
	words  map[string]bool
	sheets map[book.TableName][]string
}

var words = sync.OnceValue(func() *lexicon {
	x := &lexicon{map[book.TableName]map[string][]entry{}, map[string]bool{}, map[book.TableName][]string{}}
	for i := range specs {
		s := &specs[i]
		m := map[string][]entry{}
		add := func(heading, field string, sure float64) {
			n := normal(heading)
			if !slices.ContainsFunc(m[n], func(e entry) bool { return e.field == field }) {
				m[n] = append(m[n], entry{field, sure})
			}
			x.words[n] = true
		}
		for _, f := range s.fields() {
			add(f, f, ownName)
			for _, h := range templates.List("heading." + string(s.name) + "." + f) {
				add(h, f, strong)
			}
			for _, h := range templates.List("weak." + string(s.name) + "." + f) {
				add(h, f, weak)
			}
		}
		for _, all := range m {
			slices.SortStableFunc(all, func(a, b entry) int { return cmp.Compare(b.sure, a.sure) })
		}
		x.tables[s.name] = m
		x.sheets[s.name] = []string{normal(string(s.name))}
		for _, w := range templates.List("sheet." + string(s.name)) {
			x.sheets[s.name] = append(x.sheets[s.name], normal(w))
		}
	}
	return x
})

// head is the text of a cell as a heading, ready to be looked up.
type head struct {
	text  string // "" for a cell that is no heading
	whole string // normal form
	short string // without its unit or what stands in brackets
	unit  string
	other string   // the part before a unit that is parted by a sign, such as "Fill/oz"
	tail  string   // that unit
	parts []string // of "Market / event"
}

func newHead(text string) head {
	x := parse.SplitHeading(text)
	h := head{text: text, whole: normal(text), short: normal(x.Name), unit: x.Unit}
	if p, ok := perUnit(text); ok {
		h.other, h.tail = normal(p.name), p.unit
	}
	if strings.Contains(text, "/") {
		for part := range strings.SplitSeq(text, "/") {
			h.parts = append(h.parts, normal(part))
		}
	}
	return h
}

// isHeading reports whether a text is an accepted heading of any table.
func (x *lexicon) isHeading(text string) bool {
	h := newHead(text)
	return x.words[h.whole] || x.words[h.short] || h.other != "" && x.words[h.other]
}

// field is what a heading stands for in a table, and the unit that it names.
func (x *lexicon) field(t book.TableName, heading string) (entry, string) {
	all, unit := x.lookUp(t, newHead(heading))
	if len(all) == 0 {
		return entry{}, ""
	}
	return all[0], unit
}

// lookUp is field for every field that a heading can mean, the surest first.
func (x *lexicon) lookUp(t book.TableName, h head) ([]entry, string) {
	names := x.tables[t]
	whole, short := names[h.whole], names[h.short]
	switch {
	case len(whole) > 0 && (len(short) == 0 || whole[0].sure >= short[0].sure):
		return whole, h.unit
	case len(short) > 0:
		return short, h.unit
	case h.other != "" && len(names[h.other]) > 0:
		return names[h.other], h.tail
	}
	for _, part := range h.parts {
		if e := names[part]; len(e) > 0 {
			return []entry{{e[0].field, min(e[0].sure, weak)}}, h.unit
		}
	}
	return nil, ""
}

type splitPer struct{ name, unit string }

// perUnit parts "Fill weight/oz" and "Fill weight: oz".
func perUnit(heading string) (splitPer, bool) {
	i := strings.LastIndexAny(heading, "/:,")
	if i <= 0 {
		return splitPer{}, false
	}
	u := strings.TrimSpace(heading[i+1:])
	if _, ok := unit.Find(u); !ok && !parse.IsCurrency(u) {
		return splitPer{}, false
	}
	return splitPer{heading[:i], u}, true
}

// misspelling is the field whose accepted heading is nearest to one that was
// not understood; none when two fields are as near.
func (x *lexicon) misspelling(t book.TableName, h head, taken func(string) bool) (e entry, meant string) {
	best, tie := 3, false
	for name, all := range x.tables[t] {
		f, most := all[0], slip(name)
		if f.sure <= weak || most == 0 || len(name)-len(h.short) > most || len(h.short)-len(name) > most || taken(f.field) {
			continue
		}
		d := distance(h.short, name, most)
		switch {
		case d > most || d > best:
		case d < best:
			best, e, meant, tie = d, f, name, false
		case f.field != e.field:
			tie = true
		}
	}
	if tie || e.field == "" {
		return entry{}, ""
	}
	return entry{e.field, misspelt}, meant
}

// slip is how many letters of a word may be wrong.
func slip(word string) int {
	switch n := len(word); {
	case n < 5:
		return 0
	case n < 9:
		return 1
	}
	return 2
}

// sheetNames reports how well a sheet's name or a title says a table's: the
// length of the phrase that it holds, 0 for none.
func (x *lexicon) sheetNames(title string, t book.TableName) int {
	s := " " + normal(title) + " "
	best := 0
	for _, phrase := range x.sheets[t] {
		if strings.Contains(s, " "+phrase+" ") {
			best = max(best, len(phrase))
		}
	}
	return best
}
