package ingest

import (
	"cmp"
	"errors"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/ingest/grid"
)

// assign gives the columns of a row that hold the layout's headings the numbers
// of these.
func (p *SheetLayout) assign(row []head) map[int]int {
	names := make([]string, len(p.Headings))
	for i, h := range p.Headings {
		names[i] = h.Heading
	}
	return claims(names, row)
}

// claims finds names among the headings of a row: first those that stand there
// letter by letter, then those that differ in case and spaces. A name that only
// comes to the same as a heading when both are normalised has it where no other
// name and no other heading of the row does.
func claims(names []string, row []head) map[int]int {
	out, taken := map[int]int{}, make([]bool, len(names))
	for _, same := range []func(name, heading string) bool{
		func(name, heading string) bool { return name == heading },
		func(name, heading string) bool { return cell.Fold(name) == cell.Fold(heading) },
	} {
		for i, h := range row {
			if _, done := out[i]; done || h.text == "" {
				continue
			}
			if k := slices.IndexFunc(names, func(n string) bool { return same(n, h.text) }); k >= 0 {
				out[i], taken[k] = k, true
			}
		}
	}
	alike := map[string][]int{}
	for k, n := range names {
		if !taken[k] {
			alike[normal(n)] = append(alike[normal(n)], k)
		}
	}
	columns := map[string][]int{}
	for i, h := range row {
		if _, done := out[i]; !done && h.text != "" {
			columns[h.whole] = append(columns[h.whole], i)
		}
	}
	for n, ks := range alike {
		if len(ks) == 1 && len(columns[n]) == 1 {
			out[columns[n][0]] = ks[0]
		}
	}
	return out
}

// within are the heads of a row that stand in the table's columns.
func (p *SheetLayout) within(row []head) []head {
	if p.To == 0 {
		return row
	}
	out := slices.Clone(row)
	for i := range out {
		if i < p.From-1 || i >= p.To {
			out[i] = head{}
		}
	}
	return out
}

// reach is the last of the table's columns in a row of n cells, from 0.
func (p *SheetLayout) reach(n int) int {
	if p.To > 0 {
		return min(p.To, n) - 1
	}
	return n - 1
}

// cells are those of a row that stand in the table's columns.
func (p *SheetLayout) cells(row grid.Row) []grid.Cell {
	last := p.reach(len(row.Cells)) + 1
	return row.Cells[min(max(p.From-1, 0), last):last]
}

// candidate is a row in which a table of the layout may begin, by the headings
// that are left of it.
type candidate struct {
	row, found int
	score      float64
}

// search looks in which rows of a sheet the tables of its layout begin.
type search struct {
	*walker
	plan  []*SheetLayout // those that are not found yet
	hits  map[*SheetLayout]map[string]bool
	maybe map[*SheetLayout][]candidate
}

var errLocated = errors.New("every table of the layout is found")

// locate finds the rows in which the tables of the layout begin: those that have
// all of their headings, else those that have most.
func (w *walker) locate() error {
	w.places = map[*SheetLayout]int{}
	s := search{
		walker: &walker{reader: w.reader, sheet: w.sheet, label: w.label, places: w.places},
		hits:   map[*SheetLayout]map[string]bool{}, maybe: map[*SheetLayout][]candidate{},
	}
	for _, p := range w.plan {
		switch {
		case p.used:
		case p.Table == None && p.Row > 0:
			w.places[p] = p.Row
		case specOf(book.TableName(p.Table)) != nil:
			s.plan, s.hits[p] = append(s.plan, p), map[string]bool{}
			for _, h := range p.Headings {
				s.hits[p][normal(h.Heading)] = true
			}
		}
	}
	if len(s.plan) == 0 {
		return nil
	}
	rows := 0
	err := w.sheet.EachRaw(func(raw *grid.RawRow) error {
		if rows++; rows%4096 == 0 && w.ctx.Err() != nil {
			return w.ctx.Err()
		}
		return s.look(raw.Full())
	})
	if err != nil && !errors.Is(err, errLocated) {
		return err
	}
	s.choose()
	return nil
}

// look takes in a row.
func (s *search) look(row grid.Row) error {
	lone, empty := lonely(row.Cells)
	if empty {
		return nil
	}
	heads := s.headsOf(row)
	apart := true // only tables with columns of their own begin in the row
	for _, p := range slices.Clone(s.plan) {
		if p.Row > 0 && p.Row != row.N && len(p.Headings) == 0 || lone >= 0 && p.Row != row.N || !apart && p.To == 0 {
			continue
		}
		if c, all := s.try(p, row, heads); all && (p.Row == 0 || p.Row == row.N) && s.free(p, row.N) {
			s.found(p, row.N)
			apart = false
			if p.To == 0 {
				break
			}
		} else if c.row > 0 {
			s.maybe[p] = append(s.maybe[p], c)
		}
	}
	s.remember(row)
	if len(s.plan) == 0 {
		return errLocated
	}
	return nil
}

func (s *search) found(p *SheetLayout, row int) {
	s.places[p] = row
	s.plan = slices.DeleteFunc(s.plan, func(o *SheetLayout) bool { return o == p })
}

// free reports whether no other table of the layout begins in a row, in the same
// columns.
func (s *search) free(p *SheetLayout, row int) bool {
	for o, at := range s.places {
		if at == row && (p.To == 0 || o.To == 0 || o.From <= p.To && p.From <= o.To) {
			return false
		}
	}
	return true
}

// try reads a row as the heading row of a table: what speaks for it, if anything
// does, and whether all of the headings are there.
func (s *search) try(p *SheetLayout, row grid.Row, heads []head) (c candidate, all bool) {
	n := len(p.Headings)
	if n > 0 && !slices.ContainsFunc(heads, func(h head) bool { return h.text != "" && s.hits[p][h.whole] }) {
		return c, false
	}
	heads = p.within(heads)
	standing := map[int]bool{}
	for _, k := range p.assign(heads) {
		standing[k] = true
	}
	if len(standing) > p.most {
		p.most, p.nearest = len(standing), nil
		for _, h := range heads {
			p.nearest = append(p.nearest, h.text)
		}
	}
	m, found := s.readPlan(p, heads), len(standing)
	switch {
	case p.Row == row.N && found == n && len(m.columns)+len(m.unread) > 0:
		return c, true
	case len(m.columns) == 0:
		return c, false
	case found == n:
		all = len(m.columns) > 1 || len(m.unread) == 0
	case found == 0 || 2*found < n && !m.full() || slices.ContainsFunc(p.cells(row), looksLikeData):
		return c, false
	}
	return candidate{row.N, found, m.score}, all
}

// choose takes for the tables that were not found the row that has the most of
// their headings; of those as good the one nearest to where it should be.
func (s *search) choose() {
	type choice struct {
		p *SheetLayout
		candidate
	}
	var all []choice
	for _, p := range s.plan {
		for _, c := range s.maybe[p] {
			all = append(all, choice{p, c})
		}
	}
	slices.SortStableFunc(all, func(a, b choice) int {
		lost := func(c choice) int { return len(c.p.Headings) - c.found }
		far := func(c choice) int { return max(c.row-c.p.Row, c.p.Row-c.row) }
		return cmp.Or(cmp.Compare(lost(a), lost(b)), cmp.Compare(b.score, a.score), cmp.Compare(far(a), far(b)))
	})
	for _, c := range all {
		if s.places[c.p] == 0 && s.free(c.p, c.row) {
			s.found(c.p, c.row)
		}
	}
}
