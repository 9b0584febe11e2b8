package ingest

import (
	"slices"
	"strings"

	"pourbook/compute/cell"
	"pourbook/compute/problem"
	"pourbook/templates"
)

// layoutStale says what the layout file names and the book no longer has: sheets,
// tables, and headings of tables that were found all the same.
func (r *reader) layoutStale() {
	r.adopt()
	var gone []string // sheets
	for i := range r.layout.Sheets {
		switch s := &r.layout.Sheets[i]; {
		case r.hasSheet(s.Sheet):
			if !s.used && s.Table != "" {
				r.staleTable(s)
			}
		case !slices.Contains(gone, cell.Fold(s.Sheet)):
			gone = append(gone, cell.Fold(s.Sheet))
			r.staleSheet(s)
		}
	}
	for _, b := range r.blocks {
		r.staleHeadings(b)
	}
}

// adopt joins a table of the layout of which no heading is left, and a table of
// that kind that was found on its sheet without the layout.
func (r *reader) adopt() {
	for i := range r.layout.Sheets {
		s := &r.layout.Sheets[i]
		if s.used {
			continue
		}
		k := slices.IndexFunc(r.blocks, func(b *block) bool {
			return b.plan == nil && !b.undecided && !b.headless && cell.Fold(b.sheet) == cell.Fold(s.Sheet) && string(b.spec.name) == s.Table &&
				(len(s.Headings) > 0 || s.Row == 0 || s.Row == b.head.Row) && (s.To == 0 || s.From <= b.first+1 && b.last < s.To)
		})
		if k >= 0 {
			r.blocks[k].plan, s.used = s, true
		}
	}
}

func (r *reader) hasSheet(name string) bool {
	return slices.ContainsFunc(r.sheets, func(s string) bool { return cell.Fold(s) == cell.Fold(name) })
}

// renamed is the sheet that is most likely one that the layout file names, where
// it is not in the book, and all sheets of which the file says nothing.
func (r *reader) renamed(sheet string) (near string, free []string) {
	if r.hasSheet(sheet) {
		return "", nil
	}
	for _, name := range r.sheets {
		if len(r.layout.of(name)) == 0 {
			free = append(free, name)
		}
	}
	return Nearest(sheet, free), free
}

func (r *reader) stale(say string, at cell.Ref, severity problem.Severity, args ...any) {
	r.add(problem.Problem{Severity: severity, Code: problem.UnreadSheet, Say: say, At: at, Args: args})
}

func (r *reader) staleSheet(s *SheetLayout) {
	near, _ := r.renamed(s.Sheet)
	say := "layout-sheet"
	if near != "" {
		say = "layout-sheet-near"
	}
	r.stale(say, cell.Ref{Sheet: s.Sheet}, problem.Warning, "sheet", s.Sheet, "line", s.line, "near", near)
}

// staleTable tells of a table that was not found, and of the headings that would
// have it found.
func (r *reader) staleTable(s *SheetLayout) {
	there := r.textsFor(s)
	var free, gone []string
	for _, t := range there {
		if !slices.ContainsFunc(s.Headings, func(h HeadingLayout) bool { return h.Heading == t }) {
			free = append(free, t)
		}
	}
	for _, h := range s.Headings {
		if slices.Contains(there, h.Heading) {
			continue
		}
		key, near := "layout.gone", Nearest(h.Heading, free)
		if near != "" {
			key = "layout.gone.near"
		}
		gone = append(gone, templates.Text(key, "heading", h.Heading, "near", near))
	}
	say := "layout"
	if len(gone) > 0 {
		say = "layout-gone"
	}
	r.stale(say, cell.Ref{Sheet: s.Sheet}, problem.Warning, "sheet", s.Sheet, "table", s.Table, "line", s.line,
		"n", len(gone), "headings", strings.Join(gone, ", "))
}

// textsFor are the texts that may be a table's headings: the row that has most of
// them, else the headings of what was found on its sheet.
func (r *reader) textsFor(s *SheetLayout) []string {
	if len(s.nearest) > 0 {
		return s.nearest
	}
	var out []string
	for _, b := range r.blocks {
		if cell.Fold(b.sheet) != cell.Fold(s.Sheet) {
			continue
		}
		for _, c := range slices.Concat(b.columns, b.spare()) {
			out = append(out, c.heading)
		}
	}
	for _, u := range r.strange {
		if cell.Fold(u.At.Sheet) == cell.Fold(s.Sheet) {
			out = append(out, u.headings...)
		}
	}
	return out
}

// gone are the headings that the layout names and a block does not have.
func (b *block) gone() []HeadingLayout {
	var out []HeadingLayout
	if b.plan == nil {
		return nil
	}
	there := map[int]bool{}
	for _, k := range b.given {
		there[k] = true
	}
	for k, h := range b.plan.Headings {
		c, ok := b.column(h.Field)
		if h.Field != Open && !there[k] && !(ok && c.heading == h.Heading) {
			out = append(out, h)
		}
	}
	return out
}

// staleHeadings tells of each heading that is gone which one is read in its
// place, which one may be meant, or which ones are not read.
func (r *reader) staleHeadings(b *block) {
	for _, h := range b.gone() {
		args := []any{"heading", h.Heading, "field", h.Field, "sheet", b.sheet, "table", string(b.spec.name), "line", h.line}
		if h.Field == None {
			r.stale("layout-none", b.head, problem.Note, args...)
			continue
		}
		if c, ok := b.column(h.Field); ok {
			r.stale("layout-read", b.head, problem.Note, append(args, "near", c.heading)...)
			continue
		}
		var fresh []string
		for _, c := range b.spare() {
			if _, given := b.given[c.index]; !given {
				fresh = append(fresh, c.heading)
			}
		}
		switch near := Nearest(h.Heading, fresh); {
		case near != "":
			r.stale("layout-near", b.head, problem.Warning, append(args, "near", near)...)
		case len(fresh) > 0:
			r.stale("layout-fresh", b.head, problem.Warning, append(args, "n", len(fresh), "others", strings.Join(fresh, ", "))...)
		default:
			r.stale("layout-heading", b.head, problem.Warning, args...)
		}
	}
}
