package book

import (
	"slices"

	"pourbook/compute/day"
)

// chunk is chunkLines lines by column.
type chunk struct{ day, order, customer, row, place, amounts column }

func chunkOf(lines []PackedSale) chunk {
	var v [chunkLines]int32
	var c chunk
	for i := range v {
		v[i] = int32(lines[i].Day)
	}
	c.day = columnOf(&v)
	for i := range v {
		v[i] = lines[i].Order
	}
	c.order = columnOf(&v)
	for i := range v {
		v[i] = lines[i].Customer
	}
	c.customer = columnOf(&v)
	for i := range v {
		v[i] = lines[i].Row
	}
	c.row = columnOf(&v)
	for i := range v {
		v[i] = lines[i].Place
	}
	c.place = columnOf(&v)
	for i := range v {
		v[i] = lines[i].Amounts
	}
	c.amounts = columnOf(&v)
	return c
}

func (c *chunk) at(i int) PackedSale {
	return PackedSale{day.Date(c.day.at(i)), c.order.at(i), c.customer.at(i), c.row.at(i), c.place.at(i), c.amounts.at(i)}
}

// all is the lines, in the room of to where it is large enough.
func (c *chunk) all(to []PackedSale) []PackedSale {
	to = slices.Grow(to[:0], chunkLines)[:chunkLines]
	var v [chunkLines]int32
	c.day.all(&v)
	for i := range v {
		to[i].Day = day.Date(v[i])
	}
	c.order.all(&v)
	for i := range v {
		to[i].Order = v[i]
	}
	c.customer.all(&v)
	for i := range v {
		to[i].Customer = v[i]
	}
	c.row.all(&v)
	for i := range v {
		to[i].Row = v[i]
	}
	c.place.all(&v)
	for i := range v {
		to[i].Place = v[i]
	}
	c.amounts.all(&v)
	for i := range v {
		to[i].Amounts = v[i]
	}
	return to
}

// changed is the chunk with other columns.
func (c *chunk) changed(v *columns, which Columns) chunk {
	out := *c
	for f := range v {
		if which&(1<<f) != 0 {
			*out.column(f) = columnOf(&v[f])
		}
	}
	return out
}
