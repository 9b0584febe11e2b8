package ingest

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/templates"
)

// Fitting is what was recognised in a book as what, and what only its maker
// can tell.
type Fitting struct {
	Book      string // the book's file
	Path      string // the layout file
	Layout    *Layout
	Tables    []book.Table
	Questions []Question
}

// Question is something that decides how a book is read. Its words are
// "ask.<Key>", filled from Args. Choices are what can be answered, a field, a
// heading or a table each, or None.
type Question struct {
	Key     string
	At      cell.Ref
	Args    []any
	Choices []string
	answer  func(choice string)
}

// Fit recognises a book's tables, with the layout file beside it where there
// is one. Answers to the questions go into the layout; where one opens further
// questions (a sheet's table is known, its headings are not), these come when
// the layout has been saved and Fit is asked again. A layout file that was asked
// for and is not there yet is written; what stands beside the book is read in
// its place. Errors are those of Read.
func Fit(ctx context.Context, path string, o Options) (*Fitting, error) {
	to := o.Layout
	if _, err := os.Stat(to); to != "" && errors.Is(err, fs.ErrNotExist) {
		o.Layout = ""
	}
	r, err := read(ctx, path, o)
	if err != nil {
		return nil, err
	}
	f := &Fitting{Book: filepath.Base(path), Path: to, Layout: &Layout{}, Tables: r.book.Tables}
	if f.Path == "" {
		f.Path = LayoutPath(path)
	}
	tables := map[string]int{}
	for _, b := range r.blocks {
		tables[b.sheet]++
	}
	for _, b := range r.blocks {
		if b.extra || b.headless {
			continue
		}
		f.table(r, b, tables[b.sheet] > 1)
	}
	for _, s := range r.layout.Sheets {
		if !s.used || s.Table == None {
			f.Layout.Sheets = append(f.Layout.Sheets, s)
		}
	}
	f.unread(r)
	return f, nil
}

// beside reports whether blocks stand side by side.
func (b *block) beside(o *block) bool {
	return b.sheet == o.sheet && (b.last < o.first || o.last < b.first)
}

// Answer gives the answer to a question: one of its choices, numbered from 0.
func (f *Fitting) Answer(question, choice int) {
	q := f.Questions[question]
	q.answer(q.Choices[choice])
}

// Text is the layout file. Questions without an answer stand in it as "?".
func (f *Fitting) Text() []byte { return f.Layout.Text(f.Book) }

// set says what a heading is.
func (s *SheetLayout) set(heading, field, note string) {
	h := HeadingLayout{heading, field, note}
	for i := range s.Headings {
		if s.Headings[i].Heading == heading {
			s.Headings[i] = h
			return
		}
	}
	s.Headings = append(s.Headings, h)
}

// table adds a block to the layout, and asks what is open in it.
func (f *Fitting) table(r *reader, b *block, several bool) {
	s := SheetLayout{Sheet: b.sheet, Table: string(b.spec.name)}
	if several || b.atRow {
		s.Row = b.head.Row
	}
	if slices.ContainsFunc(r.blocks, b.beside) {
		s.From, s.To = b.first+1, b.reach()+1
		for _, o := range r.blocks {
			if b.beside(o) && o.first > b.last {
				s.To = min(s.To, o.first)
			}
		}
	}
	at := len(f.Layout.Sheets)
	if b.undecided {
		s.Table = ""
		f.Layout.Sheets = append(f.Layout.Sheets, s)
		f.askTable(b, at)
		return
	}
	for _, c := range b.columns {
		if c.sure < ownName || b.forced && normal(c.heading) != normal(c.field) {
			s.Headings = append(s.Headings, HeadingLayout{Heading: c.heading, Field: c.field})
		}
		if c.fraction {
			s.Fractions = append(s.Fractions, c.heading)
		}
	}
	f.Layout.Sheets = append(f.Layout.Sheets, s)
	for _, d := range b.doubles {
		f.askDouble(b, d, at)
	}
	for _, names := range slices.Concat(b.missing, b.spec.lone(b.has)) {
		f.askMissing(b, names, at)
	}
	f.askFractions(r, b, at)
}

func (f *Fitting) askTable(b *block, at int) {
	q := Question{Key: "table", At: b.head, Args: []any{"sheet", b.sheet}}
	for _, m := range b.rivals {
		q.Choices = append(q.Choices, string(m.spec.name))
	}
	q.Choices = append(q.Choices, None)
	q.answer = func(choice string) { f.Layout.Sheets[at].Table = choice }
	f.Questions = append(f.Questions, q)
}

// askDouble asks which of two headings is a field.
func (f *Fitting) askDouble(b *block, d [2]column, at int) {
	if d[0].sure != d[1].sure || slices.Contains(idle, d[0].field) {
		return
	}
	one, two := d[0].heading, d[1].heading
	q := Question{
		Key: "double", At: b.at(b.head.Row, d[1].index), Choices: []string{one, two, None},
		Args: []any{"table", string(b.spec.name), "field", d[0].field, "one", one, "two", two},
	}
	for _, h := range []string{one, two} {
		f.Layout.Sheets[at].set(h, Open, templates.Text("ask."+q.Key, q.Args...))
	}
	q.answer = func(choice string) {
		for _, h := range []string{one, two} {
			field := None
			if h == choice {
				field = d[0].field
			}
			f.Layout.Sheets[at].set(h, field, "")
		}
	}
	f.Questions = append(f.Questions, q)
}

// askMissing asks which heading is a field that a table needs.
func (f *Fitting) askMissing(b *block, names []string, at int) {
	spare := b.spare()
	if len(spare) == 0 {
		return
	}
	q := Question{
		Key: "missing", At: b.head, Args: []any{"table", string(b.spec.name), "field", strings.Join(names, " / ")},
	}
	for _, c := range spare {
		q.Choices = append(q.Choices, c.heading)
		f.Layout.Sheets[at].set(c.heading, Open, templates.Text("ask.column", "table", string(b.spec.name), "field", strings.Join(names, " / ")))
	}
	q.Choices = append(q.Choices, None)
	q.answer = func(choice string) {
		s := &f.Layout.Sheets[at]
		if choice != None {
			s.set(choice, names[0], "")
		}
		// What is still open was asked for this field, or will be asked again.
		s.Headings = slices.DeleteFunc(s.Headings, func(h HeadingLayout) bool { return h.Field == Open })
	}
	f.Questions = append(f.Questions, q)
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
			Key: "fractions", At: first, Args: []any{"n", n, "table", string(b.spec.name), "heading", heading},
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
// that jobs need has not been found.
func (f *Fitting) unread(r *reader) {
	var lacking []string
	for _, t := range []book.TableName{book.TMaterials, book.TRecipes, book.TJars, book.TProducts, book.TSales} {
		if !r.book.Has(t) {
			lacking = append(lacking, string(t))
		}
	}
	if len(lacking) == 0 {
		return
	}
	for _, u := range r.strange {
		at := len(f.Layout.Sheets)
		f.Layout.Sheets = append(f.Layout.Sheets, SheetLayout{Sheet: u.At.Sheet, Row: u.At.Row})
		f.Questions = append(f.Questions, Question{
			Key: "sheet", At: u.At, Args: []any{"sheet", u.At.Sheet, "headings", strings.Join(u.headings, ", ")}, Choices: append(slices.Clone(lacking), None),
			answer: func(choice string) {
				f.Layout.Sheets[at].Table = choice
				if choice == None {
					f.Layout.Sheets[at].Row = 0
				}
			},
		})
	}
}

// unknownTable is a row that may be the heading row of a table that was not
// recognised.
type unknownTable struct {
	At       cell.Ref
	headings []string
}
