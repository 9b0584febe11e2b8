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
	v := make([]int32, len(lines))
	of := func(field func(i int) int32) column {
		for i := range v {
			v[i] = field(i)
		}
		return columnOf(v)
	}
	return chunk{
		day:      of(func(i int) int32 { return int32(lines[i].Day) }),
		order:    of(func(i int) int32 { return lines[i].Order }),
		customer: of(func(i int) int32 { return lines[i].Customer }),
		row:      of(func(i int) int32 { return lines[i].Row - int32(i) }),
		place:    of(func(i int) int32 { return lines[i].Place }),
		amounts:  of(func(i int) int32 { return lines[i].Amounts }),
	}
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

func columnOf(v []int32) column {
	least, most := slices.Min(v), slices.Max(v)
	c := column{least: least}
	switch span := int64(most) - int64(least); {
	case span == 0:
		return c
	case span < 1<<8:
		c.width = 1
	case span < 1<<16:
		c.width = 2
	default:
		c.width = 4
	}
	c.data = make([]byte, 0, len(v)*c.width)
	for _, x := range v {
		switch d := uint32(x - least); c.width {
		case 1:
			c.data = append(c.data, byte(d))
		case 2:
			c.data = binary.LittleEndian.AppendUint16(c.data, uint16(d))
		default:
			c.data = binary.LittleEndian.AppendUint32(c.data, d)
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
	switch c.width {
	case 0:
		for i := range v {
			v[i] = c.least
		}
	case 1:
		for i, d := range c.data {
			v[i] = c.least + int32(d)
		}
	default:
		for i := range v {
			v[i] = c.at(i)
		}
	}
}
