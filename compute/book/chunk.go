package book

import (
	"encoding/binary"
	"slices"

	"pourbook/compute/day"
)

const chunkLines = 4096

// chunk is chunkLines lines by column. Each row is kept less its place in the
// chunk: rows mostly follow one another.
type chunk struct{ day, order, customer, row, place, amounts column }

// column is numbers as their differences from the least, in as few bytes each
// as the largest difference needs: 0, 1, 2 or 4.
type column struct {
	least int32
	width int
	data  []byte
}

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
		v[i] = lines[i].Row - int32(i)
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
	return PackedSale{day.Date(c.day.at(i)), c.order.at(i), c.customer.at(i), c.row.at(i) + int32(i), c.place.at(i), c.amounts.at(i)}
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
		to[i].Row = v[i] + int32(i)
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

// changed is the chunk with other columns, none of them that of the rows.
func (c *chunk) changed(v *columns, which Columns) chunk {
	out := *c
	for f := range v {
		if which&(1<<f) != 0 {
			*out.column(f) = columnOf(&v[f])
		}
	}
	return out
}

func columnOf(v *[chunkLines]int32) column {
	least, most := v[0], v[0]
	for _, x := range v {
		least, most = min(least, x), max(most, x)
	}
	c := column{least: least}
	switch span := int64(most) - int64(least); {
	case span == 0:
	case span < 1<<8:
		c.width, c.data = 1, make([]byte, chunkLines)
		for i := range c.data {
			c.data[i] = byte(v[i] - least)
		}
	case span < 1<<16:
		c.width, c.data = 2, make([]byte, 2*chunkLines)
		for i, x := range v {
			binary.LittleEndian.PutUint16(c.data[2*i:], uint16(x-least))
		}
	default:
		c.width, c.data = 4, make([]byte, 4*chunkLines)
		for i, x := range v {
			binary.LittleEndian.PutUint32(c.data[4*i:], uint32(x-least))
		}
	}
	return c
}

func (c *column) at(i int) int32 {
	switch c.width {
	case 0:
		return c.least
	case 1:
		return c.least + int32(c.data[i])
	case 2:
		return c.least + int32(binary.LittleEndian.Uint16(c.data[2*i:]))
	}
	return c.least + int32(binary.LittleEndian.Uint32(c.data[4*i:]))
}

func (c *column) all(v *[chunkLines]int32) {
	switch least := c.least; c.width {
	case 0:
		for i := range v {
			v[i] = least
		}
	case 1:
		for i, d := range c.data[:chunkLines] {
			v[i] = least + int32(d)
		}
	case 2:
		data := c.data[:2*chunkLines]
		for i := range v {
			v[i] = least + int32(binary.LittleEndian.Uint16(data[2*i:]))
		}
	default:
		data := c.data[:4*chunkLines]
		for i := range v {
			v[i] = least + int32(binary.LittleEndian.Uint32(data[4*i:]))
		}
	}
}
