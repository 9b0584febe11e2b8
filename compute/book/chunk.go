package book

import (
	"encoding/binary"

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
	of := func(field func(i int) int32) column { return columnOf(len(lines), field) }
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

// all appends the lines.
func (c *chunk) all(to []PackedSale) []PackedSale {
	for i := range chunkLines {
		to = append(to, c.at(i))
	}
	return to
}

func columnOf(n int, at func(i int) int32) column {
	least, most := at(0), at(0)
	for i := range n {
		least, most = min(least, at(i)), max(most, at(i))
	}
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
	c.data = make([]byte, n*c.width)
	for i := range n {
		switch d := uint32(at(i) - least); c.width {
		case 1:
			c.data[i] = byte(d)
		case 2:
			binary.LittleEndian.PutUint16(c.data[2*i:], uint16(d))
		default:
			binary.LittleEndian.PutUint32(c.data[4*i:], d)
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
