package book

import (
	"iter"

	"pourbook/compute/day"
)

// Columns are columns of the lines of Sales.
type Columns uint8

// The columns.
const (
	Days Columns = 1 << iota
	Orders
	Customers
	Rows
	Places
	Amounts
	Whole = Days | Orders | Customers | Rows | Places | Amounts
)

const (
	dayAt = iota
	orderAt
	customerAt
	rowAt
	placeAt
	amountsAt
	columnsLen
)

type columns [columnsLen][chunkLines]int32

// Stretch is lines that follow one another, by column: Len of each that was
// asked for, none of the others.
type Stretch struct {
	First, Len                                     int
	Days, Orders, Customers, Rows, Places, Amounts []int32
}

func (s *Stretch) of(v *columns, lo, hi int, want Columns) {
	for f, to := range [...]*[]int32{&s.Days, &s.Orders, &s.Customers, &s.Rows, &s.Places, &s.Amounts} {
		if want&(1<<f) != 0 {
			*to = v[f][lo:hi]
		}
	}
	s.Len = hi - lo
}

// Stretches gives out columns of the lines from one index up to another, which
// is not given; First is an index. A stretch holds until the next is given out.
func (s *Sales) Stretches(lo, hi int, want Columns) iter.Seq[*Stretch] {
	return func(yield func(*Stretch) bool) {
		v, x := new(columns), Stretch{}
		for i := lo; i < hi; i += x.Len {
			c := i / chunkLines
			if c < len(s.chunks) {
				s.chunks[c].columns(v, want)
			} else {
				for j := range s.open {
					for f := range v {
						v[f][j] = s.open[j].column(f)
					}
				}
			}
			x.First = i
			x.of(v, i-c*chunkLines, min(hi-c*chunkLines, chunkLines), want)
			if !yield(&x) {
				return
			}
		}
	}
}

// Picked gives out columns of the lines of some indexes; First is a place among
// these. A stretch holds until the next is given out.
func (s *Sales) Picked(lines []int32, want Columns) iter.Seq[*Stretch] {
	return func(yield func(*Stretch) bool) {
		v, x := new(columns), Stretch{}
		for ; len(lines) > 0; lines, x.First = lines[x.Len:], x.First+x.Len {
			n := min(len(lines), chunkLines)
			for f := range v {
				if want&(1<<f) != 0 {
					s.pick(v[f][:n], lines[:n], f)
				}
			}
			if x.of(v, 0, n, want); !yield(&x) {
				return
			}
		}
	}
}

// Packed is a line of a stretch that has all columns.
func (s *Stretch) Packed(i int) PackedSale {
	return PackedSale{day.Date(s.Days[i]), s.Orders[i], s.Customers[i], s.Rows[i], s.Places[i], s.Amounts[i]}
}

// columns is the lines' columns that are wanted.
func (c *chunk) columns(to *columns, want Columns) {
	for f := range to {
		if want&(1<<f) == 0 {
			continue
		}
		c.column(f).all(&to[f])
	}
}

func (c *chunk) column(f int) *column {
	return [...]*column{&c.day, &c.order, &c.customer, &c.row, &c.place, &c.amounts}[f]
}

func (p *PackedSale) column(f int) int32 {
	return [...]int32{int32(p.Day), p.Order, p.Customer, p.Row, p.Place, p.Amounts}[f]
}

// pick is one column of the lines of some indexes.
func (s *Sales) pick(to []int32, lines []int32, f int) {
	for j, i := range lines {
		c, i := int(i)/chunkLines, int(i)%chunkLines
		if c == len(s.chunks) {
			to[j] = s.open[i].column(f)
			continue
		}
		to[j] = s.chunks[c].column(f).at(i)
	}
}
