package xlsx

import (
	"fmt"
	"math"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/sales"
	"pourbook/report/show"
	"pourbook/templates"
)

// lineColumns are the columns of the sales lines by the field that they hold,
// in order; named ones can be added up or chosen by.
var lineColumns = []struct {
	field string
	named bool
	width float64
}{
	{"date", true, 12},
	{"order", false, 9},
	{"product-name", false, 24},
	{"channel-name", false, 18},
	{"season-name", false, 16},
	{"units", true, 9},
	{"price", false, 11},
	{"discount", true, 11},
	{"total", false, 11},
	{"gross", true, 11},
	{"net", true, 11},
	{"order-net", false, 11},
	{"fees", true, 11},
	{"from-sheet", false, 14},
	{"row", false, 9},
	{"product", true, 9},
	{"channel", true, 9},
	{"season", true, 9},
	{"jar", true, 9},
	{"finish", true, 11},
	{"wholesale", true, 11},
}

// lineColumn is the letters of a field's column.
func lineColumn(field string) string {
	for i, c := range lineColumns {
		if c.field == field {
			return cell.Column(i + 1)
		}
	}
	return ""
}

// lineSpot is the cell of a field in a row, such as $L4.
func lineSpot(field string, row int) string { return fmt.Sprintf("$%s%d", lineColumn(field), row) }

func (b *builder) openSales() *sheet {
	head := make([]column, len(lineColumns))
	for i, c := range lineColumns {
		head[i] = column{templates.Text("xlsx.line." + c.field), plain, c.width}
	}
	return b.open(1, inputName("sales"), templates.Text("xlsx.lines"), nil, head)
}

// nameColumns names the columns of the lines.
func (b *builder) nameColumns(s *salesSheet) {
	name := inputName("sales")
	for i, c := range lineColumns {
		if c.named {
			col := cell.Column(i + 1)
			b.do(b.SetDefinedName(&excelize.DefinedName{
				Name:     columnName(c.field),
				RefersTo: fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted(name), col, firstRow, col, firstRow+len(s.lines)-1),
			}))
		}
	}
}

// sales writes the lines, one order below the other.
func (b *sheet) sales(s *salesSheet) {
	for first := 0; first < len(s.lines); {
		n, net := 0, 0.0
		for first+n < len(s.lines) && s.orders[first+n] == s.orders[first] {
			if x := &s.lines[first+n]; !x.Bad {
				net += max(0, x.Net.Float64())
			}
			n++
		}
		o := order{first: firstRow + first, last: firstRow + first + n - 1, elsewhere: s.lines[first].OrderNet() - net}
		for i := first; i < first+n; i++ {
			b.do(b.to.SetRow(address(1, firstRow+i), b.line(s, i, o)))
		}
		first += n
	}
}

// order is the rows of an order, and its positive net on lines of other periods.
type order struct {
	first, last int
	elsewhere   float64
}

// net is the order's positive net as a formula.
func (o order) net() string {
	s := "MAX(0," + lineSpot("net", o.first) + ")"
	if o.last > o.first {
		s = fmt.Sprintf(`SUMIF(%s:%s,">0")`, lineSpot("net", o.first), lineSpot("net", o.last))
	}
	if o.elsewhere > 1e-9 {
		s += fmt.Sprintf("+%v", o.elsewhere)
	}
	return s
}

// line is the cells of a line.
func (b *sheet) line(s *salesSheet, i int, o order) []any {
	x, facts, row := &s.lines[i], s.facts[i], firstRow+i
	in := func(v any, f format) any { return excelize.Cell{StyleID: b.style.input[f], Value: v} }
	text := func(v string) any { return excelize.Cell{StyleID: b.style.text, Value: clean(v)} }
	by := func(formula string, v float64) any {
		if math.IsNaN(v) {
			return text(show.Unknown)
		}
		return excelize.Cell{StyleID: b.style.number[amount], Formula: formula, Value: math.Abs(max(0, v)) + min(0, v)}
	}
	var price, total, discount any
	gross, net := math.NaN(), math.NaN()
	if !x.Bad {
		gross, net = x.Gross.Float64(), x.Net.Float64()
		discount = in(x.Discount.Float64(), amount)
		if x.Typed.Has&book.HasTotal != 0 {
			total = in(net, amount)
		} else {
			price = in(priceOf(x), amount)
		}
	}
	at := func(field string) string { return lineSpot(field, row) }
	orderNet := x.OrderNet()
	if x.Bad {
		orderNet = math.NaN()
	}
	channel, season := "", s.names["season"][facts["season"]][0]
	if c := s.channel(x); c != nil {
		channel = c.Name.V
	}
	return []any{
		excelize.Cell{StyleID: b.style.date, Value: serial(x.Day)},
		in(s.orders[i], whole),
		text(s.book.Products[x.Product].Code.V), text(channel), text(season),
		in(x.Units.Float64(), plain), price, discount, total,
		by(at("net")+"+"+at("discount"), gross),
		by(fmt.Sprintf(`IF(%s="",ROUND(%s*%s-%s,9),%s)`, at("total"), at("units"), at("price"), at("discount"), at("total")), net),
		by(o.net(), orderNet), by(b.feesOf(s, x, row), x.Fees()),
		text(s.book.SaleSheets[x.Sheet]),
		excelize.Cell{StyleID: b.style.text, Value: int(x.Row)},
		in(facts["product"], whole), in(facts["channel"], whole), in(facts["season"], whole), in(facts["jar"], whole),
		in(facts["finish"], whole), in(facts["wholesale"], whole),
	}
}

// priceOf is a line's price of one unit; of a refund too it is positive.
func priceOf(x *sales.Line) float64 { return math.Abs(x.Typed.Price.Float64()) }

// feesOf is what the channel takes of a line: of positive net the share, the
// cost per unit and its part of the fee per order; a refund takes its share
// back; a line of net 0 pays the cost per unit only.
func (b *sheet) feesOf(s *salesSheet, x *sales.Line, row int) string {
	f, ok := s.listed[s.channel(x)]
	if !ok {
		return "0"
	}
	name := inputName("sales")
	at := func(g *calc.Figure) string { return b.placeOf(g).in(name) }
	net, units := lineSpot("net", row), lineSpot("units", row)
	return fmt.Sprintf("IF(%[1]s>0,%[3]s*%[1]s+%[4]s*%[2]s+%[5]s*%[1]s/%[6]s,IF(%[1]s<0,%[3]s*%[1]s,%[4]s*MAX(0,%[2]s)))",
		net, units, at(f.share), at(f.unit), at(f.order), lineSpot("order-net", row))
}
