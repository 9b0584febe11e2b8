package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// Question is something that decides how a book is read. Its words are
// "ask.<Key>", filled from Args. Choices are what can be answered, a field, a
// heading or a table each, or None.
type Question struct {
	Key      string
	At       cell.Ref
	Args     []any
	Choices  []string
	at       int      // the table of the layout
	headings []string // that it is about
	fields   []string // that these can be
	answered bool
	answer   func(choice string)
}

// Answer gives the answer to a question: one of its choices, numbered from 0. A
// heading that is the answer is no choice of the table's other questions any more.
func (f *Fitting) Answer(question, choice int) {
	q := &f.Questions[question]
	said := q.Choices[choice]
	q.answered = true
	q.answer(said)
	for i := range f.Questions {
		o := &f.Questions[i]
		if i == question || o.at != q.at || o.answered || said == None || o.Key != q.Key && q.Key == "heading" {
			continue
		}
		same := func(h string) bool { return h == said }
		o.Choices, o.headings = slices.DeleteFunc(o.Choices, same), slices.DeleteFunc(o.headings, same)
		o.fields = slices.DeleteFunc(o.fields, same)
	}
	f.notes(q.at)
}

// Closed reports whether a question needs no answer any more: it has one, or
// nothing is left to choose from.
func (q *Question) Closed() bool { return q.answered || len(q.Choices) == 1 }

func (f *Fitting) askTable(b *block, at int) {
	q := Question{Key: "table", At: b.head, Args: []any{"sheet", b.sheet}, at: at}
	for _, m := range b.rivals {
		q.Choices = append(q.Choices, string(m.spec.name))
	}
	q.Choices = append(q.Choices, None)
	q.answer = func(choice string) { f.Layout.Sheets[at].Table = choice }
	f.Questions = append(f.Questions, q)
}

// askDouble asks which of two headings is a field. What the layout file says of
// them stays until that is answered.
func (f *Fitting) askDouble(b *block, d [2]column, at int) {
	if d[0].sure != d[1].sure || slices.Contains(idle, d[0].field) {
		return
	}
	one, two := d[0].heading, d[1].heading
	q := Question{
		Key: "double", At: b.at(b.head.Row, d[1].index), Choices: []string{one, two, None},
		Args: []any{"table", string(b.spec.name), "field", d[0].field, "one", one, "two", two},
		at:   at, headings: []string{one, two}, fields: []string{d[0].field},
	}
	for _, c := range d {
		if _, given := b.given[c.index]; !given {
			f.Layout.Sheets[at].set(c.heading, Open)
		}
	}
	q.answer = func(choice string) {
		for _, h := range []string{one, two} {
			field := None
			if h == choice {
				field = d[0].field
			}
			f.Layout.Sheets[at].set(h, field)
		}
	}
	f.Questions = append(f.Questions, q)
}

// askMissing asks which heading is a field that a table needs, among those of
// which the layout file does not say that they are none, if there are such, and
// those that could be something else.
func (f *Fitting) askMissing(b *block, names []string, at int) {
	offered := slices.DeleteFunc(b.spare(), b.refused)
	if len(offered) == 0 {
		offered = b.spare()
	}
	for _, c := range b.columns {
		if _, given := b.given[c.index]; !given && c.couldBe(names) {
			offered = append(offered, c)
		}
	}
	if len(offered) == 0 {
		return
	}
	slices.SortFunc(offered, func(a, c column) int { return a.index - c.index })
	q := Question{
		Key: "missing", At: b.head, Args: []any{"table", string(b.spec.name), "field", strings.Join(names, " / ")},
		at: at, fields: []string{strings.Join(names, " / ")},
	}
	for _, c := range offered {
		q.headings = append(q.headings, c.heading)
		if _, given := b.given[c.index]; !given {
			f.Layout.Sheets[at].set(c.heading, Open)
		}
	}
	q.Choices = append(slices.Clone(q.headings), None)
	q.answer = func(choice string) {
		if choice == None {
			return
		}
		s := &f.Layout.Sheets[at]
		for _, h := range b.gone() { // another heading was it
			if slices.Contains(names, h.Field) {
				s.Headings = slices.DeleteFunc(s.Headings, func(o HeadingLayout) bool { return o.Heading == h.Heading })
			}
		}
		s.set(choice, names[0])
	}
	f.Questions = append(f.Questions, q)
}

// couldBe reports whether a heading can mean one of some fields as well.
func (c column) couldBe(fields []string) bool {
	return slices.ContainsFunc(c.can, func(e entry) bool { return slices.Contains(fields, e.field) })
}

// askOpen asks what the headings are that the layout file leaves open, where no
// other question is about them.
func (f *Fitting) askOpen(b *block, at int) {
	if b.plan == nil {
		return
	}
	free := slices.DeleteFunc(b.spec.fields(), b.has)
	for _, c := range b.unread {
		open := slices.ContainsFunc(b.plan.Headings, func(h HeadingLayout) bool { return h.Heading == c.heading && h.Field == Open })
		asked := slices.ContainsFunc(f.Questions, func(q Question) bool { return q.at == at && slices.Contains(q.headings, c.heading) })
		if !open || asked || len(free) == 0 {
			continue
		}
		f.Questions = append(f.Questions, Question{
			Key: "heading", At: b.at(b.head.Row, c.index), Args: []any{"table", string(b.spec.name), "heading", c.heading},
			Choices: append(slices.Clone(free), None), at: at, headings: []string{c.heading}, fields: free,
			answer: func(choice string) { f.Layout.Sheets[at].set(c.heading, choice) },
		})
	}
}

// askFractions asks whether a column holds fractions, where numbers look so.
func (f *Fitting) askFractions(r *reader, b *block, at int) {
	for _, c := range b.columns {
		n, first := 0, cell.Ref{}
		for _, p := range r.book.Problems.Sorted() {
			if p.Code == problem.PercentFraction && p.At.Sheet == b.sheet && p.At.Col == c.index+1 && p.At.Row > b.head.Row {
				if n == 0 {
					first = p.At
				}
				n++
			}
		}
		if n == 0 {
			continue
		}
		heading := c.heading
		f.Questions = append(f.Questions, Question{
			Key: "fractions", At: first, Args: []any{"n", n, "table", string(b.spec.name), "heading", heading}, at: at,
			Choices: []string{fractionsChoice, None},
			answer: func(choice string) {
				if s := &f.Layout.Sheets[at]; choice == fractionsChoice {
					s.Fractions = append(s.Fractions, heading)
				}
			},
		})
	}
}

const fractionsChoice = "fractions"

// unread asks about the sheets on which nothing was recognised, while a table
// that jobs need has not been found, and about those that the layout file leaves
// open.
func (f *Fitting) unread(r *reader) {
	lacking := r.lacking(book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TSales)
	for _, u := range r.strange {
		if f.maybe(u.At.Sheet) {
			continue
		}
		at := slices.IndexFunc(f.Layout.Sheets, func(s SheetLayout) bool { return s.Table == "" && cell.Fold(s.Sheet) == cell.Fold(u.At.Sheet) })
		choices := lacking
		if at >= 0 && len(choices) == 0 {
			choices = r.lacking(book.TableNames...)
		}
		if len(choices) == 0 {
			continue
		}
		if at < 0 {
			at = len(f.Layout.Sheets)
			f.Layout.Sheets = append(f.Layout.Sheets, SheetLayout{Sheet: u.At.Sheet, Row: u.At.Row})
		}
		f.Questions = append(f.Questions, Question{
			Key: "sheet", At: u.At, Args: []any{"sheet", u.At.Sheet, "headings", strings.Join(u.headings, ", ")}, at: at,
			Choices: append(slices.Clone(choices), None),
			answer: func(choice string) {
				f.Layout.Sheets[at].Table = choice
				if choice == None {
					f.Layout.Sheets[at].Row = 0
				}
			},
		})
	}
}

// renamed asks which sheet it is that the layout file has under another name.
func (f *Fitting) renamed(r *reader) {
	for i := range r.layout.Sheets {
		old := r.layout.Sheets[i].Sheet
		near, free := r.renamed(old)
		asked := slices.ContainsFunc(f.Questions, func(q Question) bool { return q.Key == "renamed" && cell.Fold(q.At.Sheet) == cell.Fold(old) })
		if near == "" || asked {
			continue
		}
		others := slices.DeleteFunc(free, func(s string) bool { return s == near })
		f.Questions = append(f.Questions, Question{
			Key: "renamed", At: cell.Ref{Sheet: old}, Args: []any{"sheet", old}, at: -1,
			Choices: slices.Concat([]string{near}, others, []string{None}),
			answer: func(choice string) {
				for k := range f.Layout.Sheets {
					if s := &f.Layout.Sheets[k]; cell.Fold(s.Sheet) == cell.Fold(old) {
						s.Sheet, s.dropped = choice, choice == None
					}
				}
			},
		})
	}
}

// lacking are those tables that the book does not have.
func (r *reader) lacking(tables ...book.TableName) []string {
	var out []string
	for _, t := range tables {
		if !r.book.Has(t) {
			out = append(out, string(t))
		}
	}
	return out
}

// unknownTable is a row that may be the heading row of a table that was not
// recognised.
type unknownTable struct {
	At       cell.Ref
	headings []string
}
