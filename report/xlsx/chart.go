package xlsx

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/book"
	"pourbook/compute/cell"
)

// fills are the colors of the parts of a cost, in their order.
var fills = []string{"104852", "9E3414", "3F8791", "C98A2B", "8A8F94", "C8CCCE", "5B4636", "D9B48F", "6E7F4E", "B9C4A3", "1A1A1A", "7D5BA6"}

var axisFont = excelize.Font{Color: "1A1A1A", Size: 9}

// costChart draws the unit costs as bars stacked by part, below the table and
// beside the first column, which every page repeats. The last two columns of the cost are the total and the variable cost, which are
// sums of parts.
func costChart(f *excelize.File, sheet string, first, last int) error {
	var series []excelize.ChartSeries
	column := len(productHead())
	for i := range len(book.Kinds) + 2 {
		column++
		col := cell.Column(column)
		series = append(series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", quoted(sheet), col, first-1),
			Categories: fmt.Sprintf("%s!$A$%d:$A$%d", quoted(sheet), first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted(sheet), col, first, col, last),
			Fill:       solid(fills[i%len(fills)]),
		})
	}
	gap := uint(40)
	return f.AddChart(sheet, address(2, last+3), &excelize.Chart{
		Type: excelize.BarStacked, Series: series, GapWidth: &gap,
		Title:     excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text("xlsx.chart.cost")}}},
		Legend:    excelize.ChartLegend{Position: "right"},
		XAxis:     excelize.ChartAxis{ReverseOrder: true, Font: axisFont},
		YAxis:     excelize.ChartAxis{MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "0.00"}, Font: axisFont},
		Dimension: excelize.ChartDimension{Width: 900, Height: uint(180 + 26*(last-first+1))},
	})
}

// ratioChart draws colored to natural with its 95 % range on a scale of
// doublings, where twice as much and half as much are as far from even.
func ratioChart(f *excelize.File, sheet string, first, last, below int) error {
	var series []excelize.ChartSeries
	for i, col := range []string{"G", "F", "E"} {
		s := excelize.ChartSeries{
			Name:       fmt.Sprintf("%s!$%s$%d", quoted(sheet), col, first-1),
			Categories: fmt.Sprintf("%s!$B$%d:$B$%d", quoted(sheet), first, last),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted(sheet), col, first, col, last),
			Marker:     excelize.ChartMarker{Symbol: "dash", Size: 8, Fill: solid("465054")},
		}
		if i == 2 {
			s.Marker = excelize.ChartMarker{Symbol: "circle", Size: 8, Fill: solid("104852")}
		}
		series = append(series, s)
	}
	return f.AddChart(sheet, address(1, below+3), &excelize.Chart{
		Type: excelize.StockHighLowClose, Series: series,
		Title:     excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text("xlsx.chart.ratio")}}},
		Legend:    excelize.ChartLegend{Position: "bottom"},
		XAxis:     excelize.ChartAxis{Font: axisFont, TickLabelPosition: excelize.ChartTickLabelLow},
		YAxis:     excelize.ChartAxis{LogBase: 2, MajorUnit: 2, MajorGridLines: true, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "0.###"}, Font: axisFont},
		Dimension: excelize.ChartDimension{Width: 1000, Height: 420},
	})
}

// rangeChart draws price over fill weight: the products of each finish, whose
// rows end where groups say, and from there the place of the new jar with its
// range.
func rangeChart(f *excelize.File, sheet string, first, last int, groups []int) error {
	var series []excelize.ChartSeries
	add := func(name, column string, from, to int, symbol, color string) {
		if from > to {
			return
		}
		series = append(series, excelize.ChartSeries{
			Name:       quoted(sheet) + "!" + name,
			Categories: fmt.Sprintf("%s!$C$%d:$C$%d", quoted(sheet), from, to),
			Values:     fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted(sheet), column, from, column, to),
			Marker:     excelize.ChartMarker{Symbol: symbol, Size: 8, Fill: solid(color)},
		})
	}
	from := first
	for i, n := range groups {
		add(absolute(2, from), "D", from, first+n-1, []string{"circle", "diamond"}[i%2], fills[2*i])
		from = first + n
	}
	add(absolute(1, from), "D", from, last, "square", fills[1])
	add(absolute(5, first-1), "E", from, last, "dash", "465054")
	add(absolute(6, first-1), "F", from, last, "dash", "465054")
	return f.AddChart(sheet, address(1, last+3), &excelize.Chart{
		Type: excelize.Scatter, Series: series,
		Title:     excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text("xlsx.chart.range")}}},
		Legend:    excelize.ChartLegend{Position: "bottom"},
		XAxis:     excelize.ChartAxis{MajorGridLines: true, Font: axisFont, Title: axisTitle("xlsx.fill")},
		YAxis:     excelize.ChartAxis{MajorGridLines: true, Font: axisFont, Title: axisTitle("xlsx.price")},
		Dimension: excelize.ChartDimension{Width: 760, Height: 420},
	})
}

func axisTitle(code string) excelize.ChartTitle {
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: text(code)}}}
}

func solid(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}
