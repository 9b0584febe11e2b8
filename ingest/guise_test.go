package ingest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/book"
	"pourbook/compute/cell"
)

// plain is what a book means, without the places and spellings of its cells.
func plain(b *book.Book) string {
	var w strings.Builder
	p := func(f string, a ...any) { fmt.Fprintf(&w, f+"\n", a...) }
	for _, d := range book.Defs {
		text := ""
		if d.Kind == book.KText || d.Kind == book.KWeekdays {
			text = strings.ToLower(b.Settings.Text(d.Name).V)
		}
		p("set %s %v %q", d.Name, num(b.Settings.Num(d.Name)), text)
	}
	for _, m := range b.Materials {
		p("material %s %s %s hand %v lead %v density %v drops %v %v load %v base %q add %v", fold(m.Name.V), m.Kind, m.Dim, num(m.OnHand),
			num(m.LeadDays), num(m.Density), num(m.DropsPerML), num(m.DropsPerGram), num(m.MaxLoad), m.Base.V, m.ContainsAdditive.V)
		for _, k := range m.Packs {
			p("  pack %v %s %s %s", num(k.Size), k.Dim, k.Price.V, k.Freight.V)
		}
	}
	for _, x := range b.Purchases {
		p("bought %s %s %v %s %s %s", x.Day, fold(x.Material.Name.V), num(x.Qty), x.Dim, x.Paid.V, x.Freight.V)
	}
	for _, r := range b.Recipes {
		p("recipe %s cure %v batch %v", fold(r.Name.V), num(r.CureDays), num(r.BatchWax))
		for _, i := range r.Ingredients {
			p("  %s %v %s", fold(i.Material.Name.V), num(i.Amount), i.Rate.Name)
		}
	}
	for _, j := range b.Jars {
		p("jar %s fill %v of %v %v opaque %v", fold(j.Name.V), num(j.Fill), num(j.Capacity), num(j.FillPercent), j.Opaque.V)
		for _, x := range j.Parts {
			p("  %s %v %s %s", fold(x.Material.Name.V), num(x.Count), x.Dim, x.Finish)
		}
	}
	rest(b, p)
	return w.String()
}

func rest(b *book.Book, p func(string, ...any)) {
	for _, x := range b.Products {
		p("product %s %q %s %s %s list %s %v wholesale %s hand %v min %v active %v", fold(x.Code.V), fold(x.Name.V), fold(x.Recipe.Name.V),
			fold(x.Jar.Name.V), x.Finish, x.List.V, x.List.State, x.Wholesale.V, num(x.OnHand), num(x.Minutes), x.Active.V)
	}
	for _, c := range b.Channels {
		p("channel %s fee %v %s %s trade %v %v", fold(c.Name.V), num(c.Fee), c.PerOrder.V, c.PerUnit.V, c.Wholesale, c.Listed)
	}
	orders, customers := map[int32]string{}, map[int32]string{}
	for _, s := range b.Sales.All() {
		least(orders, s.Order, plainly(b, s))
		least(customers, s.Customer, plainly(b, s))
	}
	for _, s := range b.Sales.All() {
		p("%s ordered with %q bought with %q", plainly(b, s), orders[s.Order], customers[s.Customer])
	}
	for _, x := range b.Pours {
		p("poured %s %s %v", x.Day, fold(x.Product.Code.V), num(x.Units))
	}
	for _, x := range b.Counts {
		if x.Material != nil {
			p("count %s %s %v %s", x.Day, fold(x.Material.Name.V), num(x.Qty), x.Dim)
		} else {
			p("count %s %s %v %s", x.Day, fold(x.Product.Code.V), num(x.Qty), x.Dim)
		}
	}
	for _, x := range b.Overheads {
		p("overhead %s %s %s %s", fold(x.Name.V), x.Amount.V, when(x.From), when(x.To))
	}
	for _, m := range b.Markets {
		p("market %s %s %v expect %v like %q grow %v room %v fee %s", fold(m.Name.V), m.Day, num(m.Days), num(m.Expected), fold(m.Like.V),
			num(m.Growth), num(m.Capacity), m.Booth.V)
	}
	for _, s := range b.Seasons {
		p("season %s %s %s", fold(s.Name.V), s.From, s.To)
	}
	for _, x := range b.Burns {
		p("burn %s %s %s %s %v", x.Day, fold(x.Recipe.Name.V), fold(x.Jar.Name.V), x.Finish, x.Pass)
	}
}

func fold(s string) string { return cell.Fold(s) }

func when(d book.Date) string {
	if !d.OK() {
		return "open"
	}
	return d.V.String()
}

// num is a number to 10 digits with its state, a default like a typed value.
func num(n cell.Num) string {
	if !n.OK() {
		return fmt.Sprint(n.State)
	}
	return fmt.Sprintf("%.10g", n.V)
}

// guise is the clean book as some maker would keep it, and the problems that
// its form has.
type guise struct {
	name   string
	sheets []sheet
	want   []string
}

func TestGuisesOfOneBook(t *testing.T) {
	want := plain(readBook(t, cleanBook()...))
	for _, g := range guises() {
		t.Run(g.name, func(t *testing.T) {
			b := readBook(t, g.sheets...)
			only(t, b, g.want...)
			if d := cmp.Diff(strings.Split(want, "\n"), strings.Split(plain(b), "\n")); d != "" {
				t.Error(d)
			}
		})
	}
}

func guises() []guise {
	return []guise{
		{"everyday headings", everyday(), []string{"unknown-channel Orders 2026!F9", "totals-row Orders 2026!A12", "unread-sheet Orders 2026!A3"}},
		{"two sheets", twoSheets(), []string{"unknown-channel Log!G9"}},
		{"British and texts", british(), []string{
			"unknown-channel sold!G6", "ambiguous-heading stock!B1", "hidden-row sold!A3", "hidden-row burns", "totals-row overheads!B4",
		}},
		{"everyday headings, sheets without names", nameless(everyday()), []string{
			"unknown-channel Sheet8!F9", "totals-row Sheet8!A12", "unread-sheet Sheet8!A3",
		}},
		{"tables side by side", sideBySide(), []string{"unknown-channel Log!G6"}},
	}
}

func nameless(sheets []sheet) []sheet {
	for i := range sheets {
		sheets[i].name = fmt.Sprintf("Sheet%d", i+1)
	}
	return sheets
}

// sideBySide has every second table right of another, with a blank column between.
func sideBySide() []sheet {
	all := cleanBook()
	at := map[string][]string{}
	for _, s := range all {
		at[s.name] = strings.Split(strings.Trim(s.rows, "\n"), "\n")
	}
	pair := func(name, left, right string, below int) sheet {
		a, b := at[left], append(make([]string, below), at[right]...)
		width := 0
		for _, r := range a {
			width = max(width, strings.Count(r, "|")+1)
		}
		var rows []string
		for i := range max(len(a), len(b)) {
			l, r := "", ""
			if i < len(a) {
				l = a[i]
			}
			if i < len(b) {
				r = b[i]
			}
			rows = append(rows, l+strings.Repeat("|", width-strings.Count(l, "|"))+"|"+r)
		}
		return sheet{name: name, rows: "\n" + strings.Join(rows, "\n")}
	}
	return []sheet{
		pair("One", "Settings", "Materials", 0), pair("Two", "Jars", "Jar parts", 0), pair("Three", "Recipes", "Products", 3),
		pair("Four", "Channels", "Seasons", 0), pair("Log", "Sales", "Purchases", 2), pair("Five", "Pours", "Stock counts", 0),
		pair("Six", "Markets", "Overheads", 1), pair("Seven", "Burn tests", "Nothing", 0),
	}
}

func everyday() []sheet {
	return []sheet{
		{name: "How I work", rows: `
Option|My value|why
Currency code|'$
Hourly rate|$18.00|what I pay myself
Pouring loss|2 %
Pitcher size (lb)|4
Cure margin|2 days
Wipe time|3 min
Wash time|10
Prices end in|0.95
Pouring days|Mon, Wed`},
		{name: "Shopping list", rows: `
My supplies, updated in October

Item|Type|Comes in|Unit|Price (USD)|Shipping|Vendor|In stock|Lead time|Density (g/mL)|Drops/mL|Max FO load|Flashpoint|Oil or water|Polymer included
Soy wax|Wax|10|lb|32.00|4.50|North Wax|12 lb|5 days|0.9||10 %|||n
Soy wax|Wax|45|lb|110
Lavender oil|Fragrance oil|16|oz|24||Scents||3|.95 g/mL|||200 F
Red dye|Liquid dye|1|fl oz|4||||||25|||oil
Wick 8|Wicks|100|pcs|9|||80
Jar glass|Glass jar|12|pcs|15
Lid|Lids|24|pcs|8
Shred|Packing|5|lb|14`},
		{name: "Scents", rows: `
Scent|Ingredient|How much|Measured in|Cure time|Heat to|Pour temp|Hex|Wax per batch
Lavender|Soy wax||||||#8866AA|2 lb
Lavender|Lavender oil|8|% of wax|14|185 F|135
Lavender|Red dye|6|drops per lb`},
		{name: "Glass", rows: `
Diameter|Container|Net weight (oz)|Brim capacity|Filled %|Not see through
70|Jar 8oz|6.5|||no
|Tin 4oz||135 mL|85%|Y`},
		{name: "What goes with it", rows: `
Container|Component|How many|Only for
Jar 8oz|Jar glass|1|both
Jar 8oz|Wick 8|1
Jar 8oz|Lid|1 pc|dyed
Tin 4oz|Wick 8|2
Tin 4oz|Shred|8 g|any`},
		{name: "Catalogue", rows: `
SKU|Title|Scent|Vessel|Dyed?|Retail|Wholesale|In stock|Minutes each|Still selling
LAV-8-C|Lavender 8 colored|Lavender|Jar 8oz|yes|$22.00|$11|6
LAV-8-N|Lavender 8 natural|Lavender|Jar 8oz|no|$21.00|||3.5|y
LAV-4-N||Lavender|Tin 4oz|undyed|$12.00||||n`},
		{name: "Where I sell", rows: `
Sales channel|Commission %|Fixed fee|Packing per unit|Trade
Website|3|$0.30|$0.50|no
Shops||||x`},
		{name: "Orders 2026", rows: `
All my orders
Sold on|Item|Qty|Price each|Discount given|Where sold|Order #|Buyer|Event|Line amount
October
2026-10-01|LAV-8-C|2|$22.00|$1.00|Website|1001|Ann

2026-10-02|Lavender 8 natural|1|21||Website|1002|Bea||21.00
2026-10-03|LAV-4-N|-1|12||||Ann
2026-10-04|LAV-8-C|12|||Shops|1003|Corner|Fall Fair|132
2026-10-05|LAV-8-N|3|21||Studio|||Fall Fair


Total||17`},
		{name: "Poured", rows: `
Poured on|Candle|Good ones|Batch #
2026-09-10|LAV-8-C|20|7`},
		{name: "Bought", rows: `
Bought on|Supply|Qty|Paid|Delivery|Vendor|Invoice #
2026-08-03|Soy wax|2 x 10 lb|60|9|North Wax|A1
2026-09-01|Wick 8|3 packs|27
2026-09-02|Lavender oil|32 oz|44`},
		{name: "Shelf", rows: `
Counted on|Item|Counted
2026-09-30|Soy wax|9 lb
2026-09-30|LAV-8-C|14
2026-09-30|Wick 8|70`},
		{name: "Fixed costs", rows: `
Expense|Monthly|Since|Until
Rent|240|2026-01-01
Site|30||2026-12-31`},
		{name: "Fairs", rows: `
Event|Starts on|Number of days|Expect to sell|Similar to|Growth|Table holds|Stall fee
Fall Fair|2026-10-04|2||||60|45
Winter Fair|2026-12-05||80|Fall Fair|10`},
		{name: "Times of year", rows: `
Season name|Starts|Ends
Cold|Nov 1|Feb 28
Warm|Mar 1|Oct 31`},
		{name: "Tests", rows: `
Tested on|Scent|Container|Dyed|Wick used|Outcome|Comments
2026-05-01|Lavender|Jar 8oz|yes|Wick 8|passed|fine`},
	}
}

func twoSheets() []sheet {
	at := func(name string) string {
		for _, s := range cleanBook() {
			if s.name == name {
				return strings.Trim(s.rows, "\n")
			}
		}
		panic(name)
	}
	stacked := func(names ...string) string {
		var out []string
		for _, n := range names {
			out = append(out, n, at(n), "", "")
		}
		return strings.Join(out, "\n")
	}
	return []sheet{
		{name: "Setup", rows: stacked("Settings", "Materials", "Recipes", "Jars", "Jar parts", "Products", "Channels", "Seasons")},
		{name: "Log", rows: "My log of everything\n\n" + stacked("Sales", "Pours", "Stock counts", "Purchases", "Markets", "Overheads", "Burn tests")},
	}
}

func british() []sheet {
	var out []sheet
	for _, s := range cleanBook() {
		switch s.name {
		case "Sales":
			s.name, s.hide = "sold", []int{3}
		case "Burn tests":
			s.name, s.hidden = "burns", true
			s.rows = strings.Replace(s.rows, "colored|", "coloured|", 1)
		case "Overheads":
			s.name = "overheads"
			s.rows = "\n|name|amount per month|from|to|note to self\n|Rent|240|2026-01-01|\n|Site|30||2026-12-31|cheap\n||270"
			s.rows = strings.Replace(s.rows, "||270", "|Total|270", 1)
		case "Materials":
			s.name = "stock"
			s.rows = strings.Replace(s.rows, "name|kind|", "name|knd|", 1)
			s.rows = strings.Replace(s.rows, "name|knd|", "material|categry|", 1)
		case "Settings":
			s.name = "my figures"
			s.rows = strings.Replace(s.rows, "labor rate", "labour rate", 1)
		case "Products":
			s.rows = strings.ReplaceAll(s.rows, "|colored|", "|Coloured|")
			s.rows = strings.Replace(s.rows, "LAV-8-N|Lavender", "  lav-8-n |Lavender", 1)
		}
		out = append(out, s)
	}
	return out
}

// plainly is a sale without its order and customer, whose numbers depend on the
// order of the rows.
func plainly(b *book.Book, s book.Sale) string {
	channel := "-"
	if s.Channel >= 0 {
		channel = cell.Fold(b.Channels[s.Channel].Name.V)
	}
	return fmt.Sprintf("sale %s %s %s x %s = %s - %s has %b via %s at %q", s.Day, cell.Fold(b.Products[s.Product].Code.V), s.Qty, s.Price,
		s.Total, s.Discount, s.Has, channel, cell.Fold(b.SaleMarkets.At(s.Market)))
}

// least keeps the least of the lines of an order or a customer; 0 is none.
func least(of map[int32]string, n int32, line string) {
	if old, ok := of[n]; n > 0 && (!ok || line < old) {
		of[n] = line
	}
}
