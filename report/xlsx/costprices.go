package xlsx

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/cost"
	"pourbook/compute/unitcost"
)

// prices is what is left of every product's price on every channel. The last
// row is the least that should be.
func prices(r *cost.Result) page {
	shelves := r.Shelves
	if len(shelves) == 0 && r.Main != nil {
		shelves = []*cost.Shelf{r.Main}
	}
	p := page{
		name: text("xlsx.cost.prices"), title: text("xlsx.cost.prices.title"), notes: []string{text("xlsx.cost.prices.note", "currency", r.Currency)},
		head: append(productHead(), column{text("part.total"), amount, 11}, column{text("xlsx.list"), amount, 11}),
	}
	var margins []int // columns, from 1
	least := []any{text("xlsx.cost.prices.least"), nil, nil, nil, nil}
	for _, s := range shelves {
		name := text("cost.unit.col.margin")
		if s.Channel != nil {
			name = text("cost.unit.col.on", "channel", s.Channel.Name.V)
		}
		if s.Wholesale() {
			p.head, least = append(p.head, column{text("cost.unit.col.whole", "channel", s.Channel.Name.V), amount, 13}), append(least, nil)
		}
		p.head, least = append(p.head, column{name, share, 13}), append(least, s.Least)
		margins = append(margins, len(p.head))
	}
	for i := range r.Products {
		p.rows = append(p.rows, priceRow(&r.Products[i], i, shelves))
	}
	p.rows = append(p.rows, least)
	p.mark = func(f *excelize.File, sheet string, first, last int) error {
		return markBelow(f, sheet, margins, first, last)
	}
	return p
}

func priceRow(x *cost.Product, i int, shelves []*cost.Shelf) []any {
	c := x.UnitCost
	if c == nil {
		c = &unitcost.Cost{}
	}
	row := productRow(x, c.Total, x.ListPrice)
	for _, s := range shelves {
		if s.Wholesale() {
			row = append(row, s.Prices[i].Price)
		}
		row = append(row, s.Prices[i].Margin)
	}
	return row
}

// markBelow turns the numbers of some columns red that are below the one in the
// last row.
func markBelow(f *excelize.File, sheet string, columns []int, first, last int) error {
	red, err := f.NewConditionalStyle(&excelize.Style{Font: &excelize.Font{Color: "9E3414", Bold: true}})
	if err != nil {
		return err
	}
	for _, c := range columns {
		cells := fmt.Sprintf("%s:%s", address(c, first), address(c, last-1))
		if err := f.SetConditionalFormat(sheet, cells, []excelize.ConditionalFormatOptions{
			{Type: "cell", Criteria: "<", Value: absolute(c, last) + "-0.000000001", Format: &red},
		}); err != nil {
			return err
		}
	}
	return nil
}
