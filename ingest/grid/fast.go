package grid

import (
	"bytes"
	"context"
	"errors"

	"pourbook/ingest/grid/rows"
)

// walkOnly is the key of a context in which the scanner is not used.
type walkOnly struct{}

// WalkOnly is a context in which books are read by the checking walk alone, so
// that a test can hold the scanner against it.
func WalkOnly(ctx context.Context) context.Context { return context.WithValue(ctx, walkOnly{}, true) }

func (p *pack) walksOnly() bool { return p.ctx.Value(walkOnly{}) != nil }

// stopped is an error of the caller that rows are given to.
type stopped struct{ error }

// each gives out the rows in the fast way. Whatever that does not know or
// cannot vouch for, every fault included, is left to the walk.
func (s *sheetPart) each(f func(Row) error) error {
	last := 0
	w := s.newWalk(func(r Row) error {
		last = r.N
		return stop(f(r))
	})
	err := s.scan(w, w.take)
	return s.walkAfter(err, &last, f)
}

func stop(err error) error {
	if err != nil {
		return &stopped{err}
	}
	return nil
}

var errOff = errors.New("the scanner is off")

// scan has the rows taken that the scanner reads, and walks what stands around
// them. Its errors but stopped tell only that the walk has to read the part.
func (s *sheetPart) scan(w *walk, take func(*rows.Block) error) error {
	if s.walksOnly() {
		return errOff
	}
	r, err := s.openRows()
	if err != nil {
		return err
	}
	defer r.Close()
	around, err := rows.Sheet(r, take)
	if err != nil {
		return err
	}
	w.raw = rawCell{}
	w.tokens = newTokens(bytes.NewReader(around), s.target)
	return w.run()
}

// walkAfter goes on where scanning ended with err, behind the row last.
func (s *sheetPart) walkAfter(err error, last *int, f func(Row) error) error {
	var stop *stopped
	switch {
	case err == nil:
		return nil
	case errors.As(err, &stop):
		return at(s.path, stop.error)
	case err == ErrMerged:
		return err
	}
	return at(s.path, s.walk(func(r Row) error {
		if r.N <= *last {
			return nil
		}
		return f(r)
	}))
}

// take gives out rows of the scanner.
func (w *walk) take(b *rows.Block) error {
	for i := range b.Rows {
		if err := w.takeRow(b, &b.Rows[i]); err != nil {
			return err
		}
		if err := w.giveRow(); err != nil {
			return err
		}
	}
	return nil
}

func (w *walk) takeRow(b *rows.Block, r *rows.Row) error {
	if r.MaxStyle > 0 && int(r.MaxStyle) >= len(w.formats) {
		return rows.ErrOutside
	}
	w.row = Row{N: r.N, Hidden: r.Hidden, Cells: w.row.Cells[:0]}
	for i := range r.Cells {
		w.raw.take(b, &r.Cells[i])
		if err := w.addCell(); err != nil {
			return err
		}
	}
	return nil
}

// kindNames are the types of cells, by what the scanner makes of them.
var kindNames = [...]string{
	rows.Number: "n", rows.Shared: "s", rows.Str: "str", rows.Inline: "inlineStr", rows.Bool: "b", rows.Error: "e", rows.ISODate: "d",
}

func (r *rawCell) take(b *rows.Block, c *rows.Cell) {
	*r = rawCell{
		col: int(c.Col), kind: kindNames[c.Kind], style: int(c.Style),
		hasValue: c.HasValue, hasFormula: c.HasFormula, value: b.Text(c.Text), formula: b.Text(c.Formula),
	}
	if !c.HasValue {
		r.value, r.inline = nil, r.value
	}
}
