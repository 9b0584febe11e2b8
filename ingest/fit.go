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
	// Stale are what the layout file names and the book does not have.
	Stale []problem.Problem
	spare []spare // of each table of the layout
}

// spare is what is left of a table: headings that are not read, and fields that
// no heading is.
type spare struct {
	table            string
	at               cell.Ref
	headings, fields []string
	reads            map[string]string // of an open heading the field that it is until it is said
}

// Fit recognises a book's tables, with the layout file beside it where there
// is one. What is in the file stays, unless an answer says otherwise. Answers to
// the questions go into the layout; where one opens further
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
	for _, p := range r.book.Problems.Sorted() {
		if p.Code == problem.UnreadSheet && strings.HasPrefix(p.Say, "layout") {
			f.Stale = append(f.Stale, p)
		}
	}
	f.renamed(r)
	for at, b := range f.merge(r) {
		if b != nil {
			f.table(r, b, at)
		}
	}
	f.unread(r)
	for at := range f.Layout.Sheets {
		f.notes(at)
	}
	return f, nil
}

// merge makes the new layout of the old one and of the tables that were found
// without it, and gives the block of each of its tables, nil for none.
func (f *Fitting) merge(r *reader) []*block {
	blocks := slices.DeleteFunc(slices.Clone(r.blocks), func(b *block) bool { return b.extra || b.headless || f.maybe(b.sheet) })
	var out []*block
	for i := range r.layout.Sheets {
		old := &r.layout.Sheets[i]
		s := *old
		s.Headings, s.Fractions = slices.Clone(s.Headings), slices.Clone(s.Fractions)
		k := slices.IndexFunc(blocks, func(b *block) bool {
			open := s.Table == "" && b.plan == nil && cell.Fold(b.sheet) == cell.Fold(s.Sheet) && (s.Row == 0 || s.Row == b.head.Row)
			return b.plan == old || open
		})
		var b *block
		if k >= 0 {
			b = blocks[k]
			blocks = slices.Delete(blocks, k, k+1)
			if s.Row > 0 {
				s.Row = b.head.Row
			}
		}
		f.Layout.Sheets, out = append(f.Layout.Sheets, s), append(out, b)
	}
	for _, b := range blocks {
		f.Layout.Sheets, out = append(f.Layout.Sheets, r.newLayout(b)), append(out, b)
	}
	f.spare = make([]spare, len(out))
	return out
}

// maybe reports whether a sheet may be one that the layout has under another name.
// As long as that is asked, nothing else is said of it.
func (f *Fitting) maybe(sheet string) bool {
	return slices.ContainsFunc(f.Questions, func(q Question) bool { return q.Key == "renamed" && q.Choices[0] == sheet })
}

// newLayout is a block as a table of the layout, without its headings.
func (r *reader) newLayout(b *block) SheetLayout {
	s := SheetLayout{Sheet: b.sheet}
	if slices.ContainsFunc(r.blocks, func(o *block) bool { return o != b && o.sheet == b.sheet }) || b.atRow {
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
	return s
}

// beside reports whether blocks stand side by side.
func (b *block) beside(o *block) bool {
	return b.sheet == o.sheet && (b.last < o.first || o.last < b.first)
}

// table adds a block's headings to its table of the layout, and asks what is
// open in it.
func (f *Fitting) table(r *reader, b *block, at int) {
	s := &f.Layout.Sheets[at]
	if b.undecided {
		f.askTable(b, at)
		return
	}
	s.Table = string(b.spec.name)
	left := spare{table: string(b.spec.name), at: b.head, reads: map[string]string{}}
	missing := slices.Concat(b.missing, b.spec.lone(b.has))
	for _, c := range b.columns {
		if _, given := b.given[c.index]; given || c.sure == ownName {
			continue
		}
		field := c.field
		if slices.ContainsFunc(missing, c.couldBe) {
			field, left.reads[c.heading] = Open, field
		}
		s.set(c.heading, field)
	}
	f.keepGone(b, at)
	for _, d := range b.doubles {
		f.askDouble(b, d, at)
	}
	for _, names := range missing {
		f.askMissing(b, names, at)
	}
	f.askOpen(b, at)
	f.askFractions(r, b, at)
	for _, c := range b.spare() {
		if !b.refused(c) {
			left.headings = append(left.headings, c.heading)
		}
	}
	for _, field := range b.spec.fields() {
		if !b.has(field) && !slices.ContainsFunc(missing, func(names []string) bool { return slices.Contains(names, field) }) {
			left.fields = append(left.fields, field)
		}
	}
	f.spare[at] = left
}

// keepGone keeps headings of the layout that are gone from the book, with a note,
// but for those in whose place another one is read.
func (f *Fitting) keepGone(b *block, at int) {
	s := &f.Layout.Sheets[at]
	for _, h := range b.gone() {
		i := slices.IndexFunc(s.Headings, func(o HeadingLayout) bool { return o.Heading == h.Heading })
		if h.Field != None && b.has(h.Field) {
			s.Headings = slices.Delete(s.Headings, i, i+1)
			continue
		}
		if h.Note == "" {
			s.Headings[i].Note = templates.Text("layout.heading-gone")
		}
	}
}

// refused reports whether the layout says that a column is not read.
func (b *block) refused(c column) bool {
	k, ok := b.given[c.index]
	return ok && b.plan.Headings[k].Field == None
}

// set says what a heading is.
func (s *SheetLayout) set(heading, field string) {
	h := HeadingLayout{Heading: heading, Field: field}
	for i := range s.Headings {
		if s.Headings[i].Heading == heading {
			s.Headings[i] = h
			return
		}
	}
	s.Headings = append(s.Headings, h)
}

// Text is the layout file. Questions without an answer stand in it as "?".
func (f *Fitting) Text() []byte { return f.Layout.Text(f.Book) }

// Unread says, a line for each table, which headings are not read and which
// fields no heading is.
func (f *Fitting) Unread() []string {
	var out []string
	for at, left := range f.spare {
		if h, fields := f.left(at); len(h) > 0 && len(fields) > 0 {
			out = append(out, left.at.String()+": "+templates.Text("fit.unread", "table", left.table, "n", len(h), "headings", strings.Join(h, ", "), "fields", strings.Join(fields, ", ")))
		}
	}
	return out
}

// left is what of a table is spare still, after the answers.
func (f *Fitting) left(at int) (headings, fields []string) {
	if at >= len(f.spare) {
		return nil, nil
	}
	said := f.Layout.Sheets[at].Headings
	for _, h := range f.spare[at].headings {
		if !slices.ContainsFunc(said, func(o HeadingLayout) bool { return o.Heading == h && o.Field != Open }) {
			headings = append(headings, h)
		}
	}
	for _, field := range f.spare[at].fields {
		if !slices.ContainsFunc(said, func(o HeadingLayout) bool { return o.Field == field }) {
			fields = append(fields, field)
		}
	}
	return headings, fields
}

// notes brings up to date what stands behind the open headings of a table: the
// fields that they are asked for and that are free. What is not asked is not open.
func (f *Fitting) notes(at int) {
	if at < 0 {
		return
	}
	s := &f.Layout.Sheets[at]
	unread, free := f.left(at)
	for i, h := range s.Headings {
		if h.Field != Open {
			continue
		}
		var fields []string
		for _, q := range f.Questions {
			if q.at == at && !q.answered && slices.Contains(q.headings, h.Heading) {
				fields = append(fields, q.fields...)
			}
		}
		s.Headings[i].Note = ""
		if len(fields) > 0 {
			if field := f.spare[at].reads[h.Heading]; field != "" {
				fields = append(fields, field)
			}
			for _, field := range free {
				if !slices.Contains(fields, field) {
					fields = append(fields, field)
				}
			}
			s.Headings[i].Note = templates.Text("ask.column", "table", s.Table, "field", strings.Join(fields, ", "))
		}
	}
	s.Headings = slices.DeleteFunc(s.Headings, func(h HeadingLayout) bool { return h.Field == Open && h.Note == "" })
	unread = slices.DeleteFunc(unread, func(t string) bool {
		return slices.ContainsFunc(s.Headings, func(h HeadingLayout) bool { return h.Heading == t })
	})
	s.note = ""
	if len(unread) > 0 && len(free) > 0 {
		s.note = templates.Text("layout.unread", "n", len(unread), "headings", strings.Join(unread, ", "), "fields", strings.Join(free, ", "))
	}
}
